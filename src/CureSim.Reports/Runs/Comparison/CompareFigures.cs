using System.Collections.Immutable;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>The figures of a comparison: A and B laid over one another.</summary>
public static class CompareFigures
{
    /// <summary>Figures with the names of their files.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(ComparedRuns compared)
    {
        ArgumentNullException.ThrowIfNull(compared);
        IEnumerable<(string Name, Func<Figure?> Make)> all =
        [
            .. compared.A.Responses.Select(r => ($"{r.Id}_histograms", (Func<Figure?>)(() => Histograms(compared, r)))),
            ("state_index_over_time", () => StateIndex(compared)),
            ("time_to_requalify", () => Survival(compared)),
        ];
        foreach (var (name, make) in all)
        {
            if (make() is { } figure)
            {
                yield return (name, figure);
            }
        }
    }

    private static Figure? Histograms(ComparedRuns compared, RunResponse a)
    {
        if (compared.B.Responses.FirstOrDefault(r => r.Response == a.Response) is not { } b)
        {
            return null;
        }

        var (edgesA, countsA) = a.Histogram(compared.A.Run.Whole.Summary);
        var (edgesB, countsB) = b.Histogram(compared.B.Run.Whole.Summary);
        if (countsA.Length == 0 || countsB.Length == 0)
        {
            return null;
        }

        var (barsA, widthA) = SpreadFigures.Bars(compared.A, a, edgesA, countsA);
        var (barsB, widthB) = SpreadFigures.Bars(compared.B, b, edgesB, countsB);
        double width = Math.Max(widthA, widthB);
        long first = (long)Math.Floor(Math.Min(barsA.Edges[0], barsB.Edges[0]) / width), last = (long)Math.Ceiling(Math.Max(barsA.Edges[^1], barsB.Edges[^1]) / width);
        barsA = SpreadFigures.Bars(edgesA, countsA, width, first, last, "A");
        barsB = SpreadFigures.Bars(edgesB, countsB, width, first, last, "B", Tone.Second, outline: true);
        return new Figure
        {
            Title = $"Which scenario holds the {a.Words} better?",
            Subtitle = Names(compared),
            X = SpreadFigures.XAxis(a, barsA, barsB),
            Y = new Axis("Share of bonds", $"% per {Format.Value(width, a.Unit, 2)}") { FromZero = true },
            Layers =
            [
                barsA,
                barsB,
                .. SpreadFigures.Limits(a, Along.X),
            ],
            Note = compared.BandChanges ? "Not modelled: " + ComparedRuns.BandRemark.Replace(": not modelled", ".", StringComparison.Ordinal) : null,
        };
    }

    private static Figure? StateIndex(ComparedRuns compared)
    {
        var layers = ImmutableArray.CreateBuilder<Layer>();
        foreach (var (findings, name, tone) in new[] { (compared.A, "A", Tone.First), (compared.B, "B", Tone.Second) })
        {
            var summary = findings.Run.Whole.Summary;
            int bins = summary.Layout.BinCount;
            if (bins < 2)
            {
                return null;
            }

            var y = StateIndexCurve.Of(findings.Run, 5);
            if (y.Any(e => e.Value is not null))
            {
                ImmutableArray<double> x = [.. Enumerable.Range(0, bins).Select(b => TimeTables.Hours(findings.Run, b).To)];
                layers.InsertRange(0, TimeFigures.Bands(x, y, tone));
                layers.Add(new Line(x, [.. y.Select(e => e.Value ?? double.NaN)], name, tone));
            }
        }

        if (layers.Count == 0)
        {
            return null;
        }

        foreach (var verdict in new[] { compared.A.Requirement, compared.B.Requirement }.OfType<RequirementVerdict>().DistinctBy(v => v.Required))
        {
            layers.Add(new Limit(Along.Y, verdict.Required, $"required {Format.Value(verdict.Required)}"));
        }

        return new Figure
        {
            Title = "Which scenario keeps its weak cells capable?",
            Subtitle = $"State index that 5 % of the cells fall short of{(layers.OfType<Band>().Any() ? "; bands: 95 % intervals" : "")}. {Names(compared)}",
            X = new Axis("Production time", "h") { From = 0.0 },
            Y = new Axis("State index"),
            Layers = layers.ToImmutable(),
        };
    }

    private static Figure? Survival(ComparedRuns compared)
    {
        if (!compared.A.HasRequalification || !compared.B.HasRequalification)
        {
            return null;
        }

        double end = Math.Max(compared.A.Run.Scenario.Production.HorizonSeconds, compared.B.Run.Scenario.Production.HorizonSeconds);
        var (lineA, bandA) = RequalifyFigures.Curve(compared.A, compared.A.Run.Scenario.Production.HorizonSeconds, "A", Tone.First);
        var (lineB, bandB) = RequalifyFigures.Curve(compared.B, compared.B.Run.Scenario.Production.HorizonSeconds, "B", Tone.Second);
        return new Figure
        {
            Title = "Which scenario goes longer without requalification?",
            Subtitle = $"Cells that were qualified at the start; bands: 95 % intervals. {Names(compared)}",
            X = new Axis("Production time", "h") { From = 0.0, To = end / 3600.0 },
            Y = new Axis("Cells not yet requalified", "%") { From = 0.0, To = 100.0 },
            Layers = [.. bandA, .. bandB, lineA, lineB],
        };
    }

    private static string Names(ComparedRuns compared) => $"A: {compared.A.Run.Scenario.Name}. B: {compared.B.Run.Scenario.Name}.";
}
