using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>What happens over time: responses as fans, the state index against its requirement.</summary>
internal static class TimeFigures
{
    private const int MostCheckMarks = 60;

    /// <summary>Percentiles of a response over time; null with fewer than two time bins that hold bonds.</summary>
    public static Figure? Fan(RunFindings findings, RunResponse response)
    {
        var summary = findings.Run.Whole.Summary;
        var rows = Enumerable.Range(0, summary.Layout.BinCount)
            .Select(b => (X: Middle(findings, b), P: TimeTables.FanPercentiles.Select(p => response.Percentile(summary, b, p.Probability)).ToArray()))
            .Where(r => r.P.All(p => p is not null)).ToArray();
        if (rows.Length < 2)
        {
            return null;
        }

        ImmutableArray<double> x = [.. rows.Select(r => r.X)];
        ImmutableArray<double> At(int i) => [.. rows.Select(r => r.P[i]!.Value)];
        return new Figure
        {
            Title = $"How does the {response.Words} move over time?",
            Subtitle = $"{FigureWords.Size(findings)}; all sites. Dark band: 90 % of bonds, light band: 99.73 %{Checks(findings)}",
            X = new Axis("Production time", "h") { From = 0.0, To = Hours(findings) },
            Y = new Axis(response.Title, response.Unit),
            Layers =
            [
                new Band(x, At(0), At(4)),
                new Band(x, At(1), At(3)),
                new Line(x, At(2), "median"),
                .. SpreadFigures.Limits(response, Along.Y),
                .. CheckMarks(findings),
            ],
        };
    }

    /// <summary>Median and 5th percentile over cells of the state index; null with fewer than two time bins.</summary>
    public static Figure? StateIndex(RunFindings findings)
    {
        var summary = findings.Run.Whole.Summary;
        int bins = summary.Layout.BinCount;
        var (median, low) = (StateIndexCurve.Of(findings.Run, 50), StateIndexCurve.Of(findings.Run, 5));
        if (bins < 2 || median.Concat(low).All(e => e.Value is null))
        {
            return null;
        }

        ImmutableArray<double> x = [.. Enumerable.Range(0, bins).Select(b => TimeTables.Hours(findings.Run, b).To)];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        var unseen = new List<string>();
        foreach (var (y, name, tone) in new[] { (median, "median cell", Tone.First), (low, "5 % of cells below", Tone.Second) })
        {
            // A line without a single point has no end for its name to stand at.
            if (y.All(e => e.Value is null))
            {
                unseen.Add(name);
            }
            else
            {
                layers.InsertRange(0, Bands(x, y, tone));
                layers.Add(new Line(x, [.. y.Select(e => e.Value ?? double.NaN)], name, tone));
            }
        }

        bool bands = layers.OfType<Band>().Any();
        if (findings.Requirement is { } requirement)
        {
            layers.Add(new Limit(Along.Y, requirement.Required, $"required {Format.Value(requirement.Required)}"));
        }

        layers.AddRange(CheckMarks(findings));
        string gap = unseen.Count > 0 ? $" Not drawn, for it is outside −3 to 4 all the time: {string.Join(", ", unseen)}."
            : median.Concat(low).Any(e => e.Value is null) ? " A gap: outside −3 to 4." : "";
        return new Figure
        {
            Title = findings.Requirement is null ? "How capable do the cells stay?" : "Do the cells keep the required capability?",
            Subtitle = $"{FigureWords.Size(findings)}; state index at the end of each time bin, before a check that falls there{(bands ? "; bands: 95 % intervals" : "")}{Checks(findings)}",
            X = new Axis("Production time", "h") { From = 0.0, To = Hours(findings) },
            Y = new Axis("State index"),
            Layers = layers.ToImmutable(),
            Note = "State index: the capability index of a normal output with the same fraction of nonconforming parts as the cell's present state." + gap,
        };
    }

    /// <summary>The interval along a curve of estimates; it breaks where there is none.</summary>
    internal static IEnumerable<Band> Bands(ImmutableArray<double> x, ImmutableArray<Estimate> y, Tone tone)
    {
        for (int from = 0, to; from < y.Length; from = to + 1)
        {
            for (to = from; to < y.Length && y[to] is { Lower95: not null, Upper95: not null }; to++)
            {
            }

            if (to - from >= 2)
            {
                yield return new Band(x[from..to], [.. y[from..to].Select(e => e.Lower95!.Value)], [.. y[from..to].Select(e => e.Upper95!.Value)], null, tone);
            }
        }
    }

    private static double Middle(RunFindings findings, int bin)
    {
        var (from, to) = TimeTables.Hours(findings.Run, bin);
        return (from + to) / 2.0;
    }

    private static double Hours(RunFindings findings) => findings.Run.Scenario.Production.HorizonSeconds / 3600.0;

    private static double CheckHours(RunFindings findings) =>
        (findings.Run.Scenario.Checks?.IntervalSteps ?? 0) * findings.Run.Scenario.Production.StepSeconds / 3600.0;

    private static bool AreMarked(RunFindings findings) => CheckHours(findings) > 0.0 && Hours(findings) / CheckHours(findings) <= MostCheckMarks;

    private static IEnumerable<Layer> CheckMarks(RunFindings findings)
    {
        if (AreMarked(findings))
        {
            double every = CheckHours(findings);
            yield return new Events([.. Enumerable.Range(1, (int)(Hours(findings) / every)).Select(i => i * every)], "check", Tone.Quiet);
        }
    }

    // Marks closer together than a few units would be a grey bar; the interval is then said instead.
    private static string Checks(RunFindings findings) =>
        CheckHours(findings) > 0.0 && !AreMarked(findings) ? $"; check every {Format.Hours(CheckHours(findings))}" : "";
}
