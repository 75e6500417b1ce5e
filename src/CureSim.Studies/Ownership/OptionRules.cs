using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Ownership;

/// <summary>What scenarios must share to be options of one decision.</summary>
public static class OptionRules
{
    /// <summary>Everything that stands in the way, each naming the files; empty when nothing does.</summary>
    /// <param name="files">Name of each file with its scenario.</param>
    public static ImmutableArray<string> Problems(IReadOnlyList<(string File, Scenario Cell)> files)
    {
        ArgumentNullException.ThrowIfNull(files);
        var problems = ImmutableArray.CreateBuilder<string>();
        foreach (var (file, cell) in files)
        {
            if (cell.Costs is null)
            {
                problems.Add($"{file}: found no costs; accepted: a block \"costs\" with a currency and what things cost");
            }

            if (cell.Ownership is null)
            {
                problems.Add($"{file}: found no block \"ownership\"; accepted: one, such as \"ownership: {{ label: lamp, installed: true }}\"");
            }

            if (YearLedger.WholeYears(cell.Production) is null)
            {
                problems.Add(FormattableString.Invariant($"{file}: found a horizon of {cell.Production.HorizonSeconds / cell.Production.YearSeconds:0.###} yr; accepted: whole years, as costs are told by year"));
            }
        }

        var size = Shared(files.Select(f => f.Cell.Run));
        if ((long)size.Worlds * size.LifetimesPerWorld < Futures.LeastFutures)
        {
            problems.Add(FormattableString.Invariant($"{string.Join(" and ", files.Select(f => f.File))}: found {(long)size.Worlds * size.LifetimesPerWorld} lifetimes in all; accepted: at least {Futures.LeastFutures}, as chances are shares of them"));
        }

        long lines = (long)size.Worlds * size.LifetimesPerWorld * (YearLedger.WholeYears(files[0].Cell.Production) ?? 1);
        if (lines > YearLedger.MostLines)
        {
            problems.Add(FormattableString.Invariant($"{string.Join(" and ", files.Select(f => f.File))}: found {lines} years of lifetimes to be kept for each; accepted: at most {YearLedger.MostLines}, fewer run.lifetimes or a shorter horizon"));
        }

        var (firstFile, first) = files[0];
        for (int i = 1; i < files.Count; i++)
        {
            var (file, cell) = files[i];
            void Differ(string what, string a, string b, string accepted) => problems.Add($"{firstFile} and {file}: found {what} {a} and {b}; accepted: {accepted}");
            Production p = first.Production, q = cell.Production;
            void Number(string what, double a, double b, string unit)
            {
                // The same text may be read through other units: the last digits of a double may differ.
                if (Math.Abs(a - b) > 1e-9 * Math.Max(Math.Abs(a), Math.Abs(b)))
                {
                    Differ(what, FormattableString.Invariant($"{a:0.######}{unit}"), FormattableString.Invariant($"{b:0.######}{unit}"), "the same production in all options");
                }
            }

            Number("production.rate", 3600.0 * p.PartsPerSecond, 3600.0 * q.PartsPerSecond, " /h");
            Number("production.sites", p.SiteCount, q.SiteCount, "");
            Number("production.sites_per_part", p.SitesPerPart, q.SitesPerPart, "");
            Number("production.horizon", p.HorizonSeconds / p.YearSeconds, q.HorizonSeconds / q.YearSeconds, " yr");
            Number("production hours a year of", p.YearSeconds / 3600.0, q.YearSeconds / 3600.0, " h");
            Number("production.shift", p.ShiftSeconds / 3600.0, q.ShiftSeconds / 3600.0, " h");
            if (first.Costs is { } c && cell.Costs is { } d && c.Currency != d.Currency)
            {
                Differ("costs in", $"\"{c.Currency}\"", $"\"{d.Currency}\"", "one currency");
            }

            if (first.Ownership is not { } o || cell.Ownership is not { } r)
            {
                continue;
            }

            if (Price.Signature(o.DiscountRate) != Price.Signature(r.DiscountRate))
            {
                Differ("ownership.discount_rate", Rate(o.DiscountRate), Rate(r.DiscountRate), "one discount rate");
            }

            if (o.Discounting != r.Discounting)
            {
                Differ("ownership.discounting", Convention(o.Discounting), Convention(r.Discounting), "one convention");
            }

            if (o.Money != r.Money)
            {
                Differ("ownership.money", Terms(o.Money), Terms(r.Money), "both nominal or both real");
            }
        }

        return problems.ToImmutable();
    }

    /// <summary>The size that all options are run with: most worlds, then most lifetimes, then the smaller seed, whatever the order of the files.</summary>
    public static RunSettings Shared(IEnumerable<RunSettings> settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return settings.OrderByDescending(r => r.Worlds).ThenByDescending(r => r.LifetimesPerWorld).ThenBy(r => r.Seed).ThenBy(r => r.Sampling).First() with { Precision = null };
    }

    /// <summary>The options with labels that differ and the size that they share.</summary>
    public static ImmutableArray<OwnershipOption> Options(IReadOnlyList<(Scenario Cell, string Sha256)> scenarios)
    {
        ArgumentNullException.ThrowIfNull(scenarios);
        var size = Shared(scenarios.Select(s => s.Cell.Run));
        string[] labels = [.. scenarios.Select(s => s.Cell.Ownership!.Label ?? s.Cell.Name)];
        var names = new string[labels.Length];
        foreach (var alike in labels.Index().GroupBy(l => l.Item, StringComparer.Ordinal))
        {
            // Numbers go by what the scenarios are, not by the order of the files.
            int number = 0;
            foreach (var (i, label) in alike.OrderBy(l => scenarios[l.Index].Sha256, StringComparer.Ordinal))
            {
                names[i] = ++number == 1 ? label : FormattableString.Invariant($"{label} ({number})");
            }
        }

        return [.. scenarios.Select((s, i) => new OwnershipOption(names[i], s.Cell with { Run = size }, s.Sha256))];
    }

    private static string Rate(Quantity q) => q.IsFixed ? FormattableString.Invariant($"{100.0 * q.Mean:0.###} %") : FormattableString.Invariant($"a distribution with mean {100.0 * q.Mean:0.###} %");

    private static string Convention(Core.Statistics.FlowTiming timing) => timing switch
    {
        Core.Statistics.FlowTiming.Middle => "\"middle of year\"",
        Core.Statistics.FlowTiming.Begin => "\"beginning of year\"",
        Core.Statistics.FlowTiming.Continuous => "\"evenly over the year\"",
        _ => "\"end of year\"",
    };

    private static string Terms(MoneyTerms money) => money == MoneyTerms.Real ? "\"real\"" : "\"nominal\"";
}
