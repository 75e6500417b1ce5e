using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Present state and run settings.</content>
internal sealed partial class CellReader
{
    // One round of a run to a precision; the engine's LeafRounds, which a test holds these to.
    private const int RoundOfLifetimes = 4096;
    private const int LeastWorlds = 16;

    private static PresentState? ReadNow(BlockReader? block, Source source, Production production)
    {
        if (block is null)
        {
            return null;
        }

        int sites = production.SiteCount;
        int emitters = source.Arrangement == EmitterArrangement.Shared ? 1 : sites;
        ImmutableArray<double>? Of(string key, int count) => block.Values(key, count) is { } values ? ImmutableArray.Create(values) : null;
        ImmutableArray<double>? hours = Of("emitter_hours", emitters);
        ImmutableArray<double>? guideHours = Of("guide_hours", emitters);
        ImmutableArray<double>? drive = Of("drive", emitters);
        ImmutableArray<double>? shares = null;
        if (emitters == 1 && sites > 1)
        {
            shares = Of("leg_shares", sites);
        }
        else
        {
            block.Refuse("leg_shares", "no leg_shares where a guide has one leg only");
        }

        if (shares is { } written)
        {
            // Readings in proportion will do: a share is relative to their mean.
            double mean = written.Average();
            shares = [.. written.Select(s => s / mean)];
        }

        return new PresentState(hours, guideHours, drive, shares, Of("exposures_since_cleaning", sites), Of("last_as_left", sites));
    }

    private static RunSettings ReadRun(BlockReader block, Scenario cell)
    {
        ImmutableArray<string> unknown = Unknowns.Of(cell);
        Precision? precision = block.Written("precision") ? ReadPrecision(block.Block("precision"), cell) : null;
        int worlds, lifetimes;
        if (precision is null)
        {
            block.Skip("precision");
            worlds = (int)(block.Count("worlds", unknown.IsEmpty ? "1" : "20") ?? 1);
            lifetimes = (int)(block.Count("lifetimes", (worlds > 1 ? 250 : 2000).ToString(CultureInfo.InvariantCulture)) ?? 1);
        }
        else if (unknown.IsEmpty)
        {
            block.Refuse("worlds", "no worlds where nothing is unknown");
            block.Refuse("lifetimes", "either lifetimes or precision, which takes as many as it needs; precision.at_most is their cap");
            (worlds, lifetimes) = (1, RoundOfLifetimes);
        }
        else
        {
            // The world is the unit of error: more lifetimes in the same worlds would not make the figures precise.
            block.Refuse("worlds", "either worlds or precision, which takes as many as it needs; precision.at_most caps the lifetimes in all of them");
            lifetimes = (int)(block.Count("lifetimes", "250") ?? 1);
            worlds = Math.Max(LeastWorlds, (RoundOfLifetimes + lifetimes - 1) / lifetimes);
            if ((long)worlds * lifetimes > precision.MostLifetimes)
            {
                block.Problem(
                    "precision", FormattableString.Invariant($"at_most {precision.MostLifetimes}, less than one round of {worlds} worlds of {lifetimes} lifetimes"),
                    FormattableString.Invariant($"at_most {(long)worlds * lifetimes} or more, or fewer lifetimes in each world"));
            }
        }

        var run = new RunSettings(worlds, lifetimes, (int)(block.Count("parts_a_step") ?? 1), block.Count("seed") ?? 0)
        {
            Precision = precision,
            Sampling = block.Choice("sampling") switch
            {
                RunKeys.Independent => Sampling.Independent,
                RunKeys.Stratified => Sampling.Stratified,
                _ => Sampling.Auto,
            },
        };
        if (worlds == 1 && !unknown.IsEmpty)
        {
            block.Problem(
                "worlds", $"\"1\", although {Some(unknown)} {(unknown.Length == 1 ? "is" : "are")} unknown", "at least 2 worlds, so that what is unknown is drawn more than once",
                "write \"worlds: 20\"");
        }
        else if (worlds > 1 && unknown.IsEmpty)
        {
            block.Problem("worlds", $"\"{worlds.ToString(CultureInfo.InvariantCulture)}\", although nothing is unknown", "1 world, or something that is { unknown: distribution }");
        }

        return run;
    }

    private static Precision? ReadPrecision(BlockReader? block, Scenario cell)
    {
        if (block is null)
        {
            return null;
        }

        var targets = ImmutableArray.CreateBuilder<PrecisionTarget>();
        foreach (var (key, figure, fault) in PrecisionKeys(cell))
        {
            if (!block.Written(key))
            {
                block.Skip(key);
            }
            else if (fault is not null)
            {
                block.Refuse(key, fault);
            }
            else
            {
                targets.Add(new(figure, block.Value(key)));
            }
        }

        int most = (int)(block.Count("at_most") ?? RoundOfLifetimes);
        block.NeedsMoreThan("at_most", $"at least one of {string.Join(", ", PrecisionKeys(cell).Select(k => k.Key))}");
        return new(targets.ToImmutable(), most);
    }

    // Why a figure does not exist in this cell; null when it does.
    private static IEnumerable<(string Key, PreciseFigure Figure, string? Fault)> PrecisionKeys(Scenario cell)
    {
        string? window = cell.Window.Limits.IsEmpty ? "no ppk, cpk or fraction without a limit in the window" : null;
        yield return ("mean_dose", PreciseFigure.MeanDose, null);
        yield return ("ppk", PreciseFigure.Ppk, window);
        yield return ("cpk", PreciseFigure.Cpk, window);
        yield return ("state_index", PreciseFigure.StateIndex, null);
        yield return ("fraction_nonconforming", PreciseFigure.FractionNonconforming, window);
        yield return ("median_time_to_requalify", PreciseFigure.MedianTimeToRequalify,
            cell.Requalification.On.IsEmpty ? "no median where nothing is requalified on (requalification.after is empty)" : null);
    }

    private static string Some(ImmutableArray<string> paths) =>
        paths.Length <= 3 ? string.Join(", ", paths) : FormattableString.Invariant($"{string.Join(", ", paths.Take(3))} and {paths.Length - 3} more");
}
