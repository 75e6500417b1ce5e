using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;

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
        double[] End(double p) => [.. Enumerable.Range(0, bins).Select(b => TimeTables.Index(summary, b, p) ?? double.NaN)];
        double[] median = End(0.5), low = End(0.05);
        if (bins < 2 || (median.All(double.IsNaN) && low.All(double.IsNaN)))
        {
            return null;
        }

        ImmutableArray<double> x = [.. Enumerable.Range(0, bins).Select(b => TimeTables.Hours(findings.Run, b).To)];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        var unseen = new List<string>();
        foreach (var (y, name, tone) in new[] { (median, "median cell", Tone.First), (low, "5 % of cells below", Tone.Second) })
        {
            // A line without a single point has no end for its name to stand at.
            if (y.All(double.IsNaN))
            {
                unseen.Add(name);
            }
            else
            {
                layers.Add(new Line(x, [.. y], name, tone));
            }
        }

        // Both ends of the lower line have their interval; between them it is much the same.
        (double At, Estimate Of)[] ends = [.. new[] { (At: 0.0, Id: "state_index_start_p05"), (At: Hours(findings), Id: "state_index_end_p05") }
            .Select(e => (e.At, findings.Run.Find(e.Id)?.Estimate)).Where(e => e.Item2 is { Value: not null, Lower95: not null, Upper95: not null }).Select(e => (e.At, e.Item2!))];
        if (ends.Length > 0)
        {
            layers.Add(new Points([.. ends.Select(e => e.At)], [.. ends.Select(e => e.Of.Value!.Value)], null, Tone.Second)
            {
                Lower = [.. ends.Select(e => e.Of.Lower95!.Value)], Upper = [.. ends.Select(e => e.Of.Upper95!.Value)],
            });
        }

        if (findings.Requirement is { } requirement)
        {
            layers.Add(new Limit(Along.Y, requirement.Required, $"required {Format.Value(requirement.Required)}"));
        }

        layers.AddRange(CheckMarks(findings));
        string gap = unseen.Count > 0 ? $" Not drawn, for it is outside −3 to 4 all the time: {string.Join(", ", unseen)}."
            : median.Concat(low).Any(double.IsNaN) ? " A gap: outside −3 to 4." : "";
        return new Figure
        {
            Title = findings.Requirement is null ? "How capable do the cells stay?" : "Do the cells keep the required capability?",
            Subtitle = $"{FigureWords.Size(findings)}; state index at the end of each time bin, before a check that falls there{(ends.Length > 0 ? "; whiskers at both ends: 95 % interval" : "")}{Checks(findings)}",
            X = new Axis("Production time", "h") { From = 0.0, To = Hours(findings) },
            Y = new Axis("State index"),
            Layers = layers.ToImmutable(),
            Note = "State index: the capability index of a normal output with the same fraction of nonconforming parts as the cell's present state." + gap,
        };
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
