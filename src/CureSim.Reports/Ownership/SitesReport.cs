using System.Collections.Immutable;
using System.Text.Json.Nodes;
using CureSim.Reports.Figures;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.Ownership;
using static CureSim.Reports.Ownership.OwnershipTables;

namespace CureSim.Reports.Ownership;

/// <summary>The sweep over sites: table, figures, document, answer.</summary>
public static class SitesReport
{
    private static readonly Tone[] Tones = [Tone.First, Tone.Second, Tone.Third, Tone.Fourth, Tone.Fifth];

    /// <summary>The table.</summary>
    public static Table Table(SitesSweep sweep)
    {
        ArgumentNullException.ThrowIfNull(sweep);
        var table = new Table("sites",
        [
            Whole("sites"), OwnershipTables.Text("option"), .. Estimated("cost_total"), Number("cost_p05"), Number("cost_p50"), Number("cost_p95"), .. Estimated("cost_per_good_part"),
            .. Estimated("nonconforming_ppm"), OwnershipTables.Text("holds_the_window"), OwnershipTables.Text("cheapest_that_holds"), .. Estimated("emitters"), OwnershipTables.Text("cannot_be"),
        ]);
        foreach (var point in sweep.Points)
        {
            for (int i = 0; i < sweep.Labels.Length; i++)
            {
                var o = point.Options[i];
                int years = o?.Run.Years ?? 0;
                table.Add(
                [
                    point.Sites, sweep.Labels[i], .. Cells(o?.Mean(years)), .. OptionPair.Bands.Select(p => (Cell)o?.Quantile(years, p).Value), .. Cells(o?.PerGoodPart),
                    .. Cells(o?.Ppm), o is null ? "no" : o.HoldsWindow switch { true => "yes", false => "no", _ => "not known" }, o is not null && o == point.Best ? "yes" : "no",
                    .. Cells(o?.MeanOf(c => c.Emitters)), point.Why[i],
                ]);
            }
        }

        return table;
    }

    /// <summary>Figures with the names of their files.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Plots(SitesSweep sweep)
    {
        ArgumentNullException.ThrowIfNull(sweep);
        string currency = sweep.Points.SelectMany(p => p.Options).OfType<OptionMoney>().FirstOrDefault()?.Run.Scenario.Costs!.Currency ?? "";
        double largest = sweep.Points.SelectMany(p => p.Options).OfType<OptionMoney>().Select(o => o.Mean(o.Run.Years).Get()).DefaultIfEmpty(0.0).Max();
        double scale = largest >= 20000.0 ? 1e-3 : 1.0;
        var layers = ImmutableArray.CreateBuilder<Layer>();
        for (int i = 0; i < Math.Min(sweep.Labels.Length, Tones.Length); i++)
        {
            var at = sweep.Points.Where(p => p.Options[i] is not null).Select(p => (X: (double)p.Sites, O: p.Options[i]!)).ToArray();
            if (at.Length < 2 || at.Any(a => !(a.O.Quantile(a.O.Run.Years, 0.05).Value > 0.0)))
            {
                continue;
            }

            ImmutableArray<double> x = [.. at.Select(a => a.X)];
            layers.Add(new Band(x, [.. at.Select(a => scale * a.O.Quantile(a.O.Run.Years, 0.05).Get())], [.. at.Select(a => scale * a.O.Quantile(a.O.Run.Years, 0.95).Get())], null, Tones[i]));
            layers.Add(new Line(x, [.. at.Select(a => scale * a.O.Mean(a.O.Run.Years).Get())], sweep.Labels[i], Tones[i]));
            var failing = at.Where(a => a.O.HoldsWindow == false).ToArray();
            if (failing.Length > 0)
            {
                layers.Add(new Points([.. failing.Select(a => a.X)], [.. failing.Select(a => scale * a.O.Mean(a.O.Run.Years).Get())], null, Tone.Ink) { Shape = MarkShape.Cross });
            }
        }

        if (layers.Count > 0)
        {
            yield return ("cost_by_sites", new Figure
            {
                Title = "What does each option cost as sites grow?",
                Subtitle = $"Discounted cost over the horizon: mean, band 5 to 95 % of futures. {(layers.OfType<Points>().Any() ? "Crosses: does not hold the window. " : "")}The rate of parts stays the same.",
                X = new Axis("Sites of the cell, all lit by one exposure") { WholeNumbers = true },
                Y = new Axis("Discounted cost over the horizon", scale < 1.0 ? $"1000 {currency}" : currency) { Scale = AxisScale.Logarithmic },
                Layers = layers.ToImmutable(),
            });
        }
    }

    /// <summary>The document.</summary>
    public static SummaryDocument Document(SitesSweep sweep)
    {
        ArgumentNullException.ThrowIfNull(sweep);
        var document = new SummaryDocument("ownership-sites", string.Join(" or ", sweep.Labels));
        var points = document.Root.Array("points");
        foreach (var point in sweep.Points)
        {
            var target = new JsonObject().Count("sites", point.Sites).Text("cheapestThatHolds", point.Best?.Label);
            var options = target.Array("options");
            for (int i = 0; i < sweep.Labels.Length; i++)
            {
                var row = new JsonObject().Text("label", sweep.Labels[i]);
                if (point.Options[i] is { } o)
                {
                    RunSummary.AddEstimate(row.Object("cost"), o.Mean(o.Run.Years));
                    RunSummary.AddEstimate(row.Object("costPerGoodPart"), o.PerGoodPart);
                    RunSummary.AddEstimate(row.Object("nonconformingPpm"), o.Ppm);
                    row.Text("holdsTheWindow", o.HoldsWindow switch { true => "yes", false => "no", _ => "not known" });
                }
                else
                {
                    row.Text("cannotBe", point.Why[i]);
                }

                options.Add(row);
            }

            points.Add(target);
        }

        MachineDigits.Apply(document.Root);
        return document;
    }

    /// <summary>The lines for a terminal.</summary>
    public static IReadOnlyList<AnswerLine> Answer(SitesSweep sweep)
    {
        ArgumentNullException.ThrowIfNull(sweep);
        var lines = new List<AnswerLine> { new("cheapest", $"that holds the window: {string.Join(", ", Stretches(sweep))}{Open(sweep)}", sweep.Points.Any(p => p.Best is not null) ? AnswerTone.Met : AnswerTone.Missed) };
        foreach (var p in sweep.Points)
        {
            lines.Add(new(p.Sites == 1 ? "1 site" : $"{p.Sites} sites", string.Join("; ", sweep.Labels.Select((label, i) => One(p, i, label)))));
        }

        lines.Add(new("brackets", "(…) 95 % Monte-Carlo intervals; the cost of a good part is discounted cost over discounted good parts"));
        return lines;
    }

    // Neighbouring numbers of sites with the same answer are told together.
    private static IEnumerable<string> Stretches(SitesSweep sweep)
    {
        for (int from = 0, to = 0; from < sweep.Points.Length; from = to + 1)
        {
            string? label = sweep.Points[from].Best?.Label;
            for (to = from; to + 1 < sweep.Points.Length && sweep.Points[to + 1].Best?.Label == label; to++)
            {
            }

            int a = sweep.Points[from].Sites, b = sweep.Points[to].Sites;
            yield return $"{label ?? "nothing"} at {(a == b ? $"{a}" : $"{a} to {b}")}{(to + 1 == sweep.Points.Length ? " sites" : "")}";
        }
    }

    private static string Open(SitesSweep sweep)
    {
        int[] open = [.. sweep.Points.Where(p => p.IsOpen).Select(p => p.Sites)];
        return open.Length == 0 ? "" : $"; not told apart at {string.Join(", ", open)}";
    }

    private static string One(SitesPoint point, int i, string label)
    {
        if (point.Options[i] is not { } o)
        {
            return $"{label} cannot be: {point.Why[i]}";
        }

        string currency = o.Run.Scenario.Costs!.Currency;
        string held = o.HoldsWindow switch { true => "", false => ", does not hold the window", _ => ", no limit stated" };
        return $"{label} {OwnershipWords.Money(o.Mean(o.Run.Years), currency)}, {(o.PerGoodPart.Value is null ? "–" : OwnershipWords.Amount(o.PerGoodPart, currency))} a good part, {OwnershipWords.Ppm(o.Ppm)}{held}";
    }
}
