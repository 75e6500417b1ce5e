using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Assurance;

namespace CureSim.Reports.Assurance;

/// <summary>The figures of an assurance study.</summary>
public static class AssurancePlots
{
    private const int CurveNodes = 121;

    /// <summary>Figures with the names of their files: for each plan the spread of its parts and its operating characteristic.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(AssuranceStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        for (int i = 0; i < study.Plans.Length; i++)
        {
            string slug = AssuranceWords.Slug(study.Plans[i].Rule.Plan.Name, i + 1);
            if (Spread(study, study.Plans[i]) is { } spread)
            {
                yield return ($"setups_{slug}", spread);
            }

            if (Curve(study, study.Plans[i]) is { } curve)
            {
                yield return ($"operating_characteristic_{slug}", curve);
            }
        }
    }

    private static Figure? Spread(AssuranceStudy study, PlanAssurance plan)
    {
        var shown = plan.Rows
            .Where(r => r.Taking is { EmitterAges: 1 } t && (t.Lots == t.Setups || t.Lots == 1) && r.Figures(plan.Rule.Plan.Good) is not null)
            .Select(r => (r.Taking!.Setups, r.Taking.Lots, r.Figures(plan.Rule.Plan.Good)!.PassIfNotGood.Estimate))
            .Where(r => r.Estimate.Upper95 is not null)
            .GroupBy(r => r.Setups).Select(g => g.MaxBy(r => r.Lots)).OrderBy(r => r.Setups).ToArray();
        if (shown.Length < 2)
        {
            return null;
        }

        bool lots = shown.Any(r => r.Lots > 1);
        ImmutableArray<double> x = [.. shown.Select(r => (double)r.Setups)];
        ImmutableArray<double> y = [.. shown.Select(r => 100.0 * (r.Estimate.Value ?? 0.0))];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        layers.Add(new Line(x, y));
        layers.Add(new Points(x, y)
        {
            Lower = [.. shown.Select(r => 100.0 * (r.Estimate.Lower95 ?? 0.0))],
            Upper = [.. shown.Select(r => 100.0 * r.Estimate.Upper95!.Value)],
        });
        layers.Add(new Limit(Along.Y, 100.0 * plan.Rule.TextbookRisk, $"textbook: at most {Format.PerCent(plan.Rule.TextbookRisk)}"));
        if (plan.Rule.Plan.Good == GoodOver.Horizon && plan.Rows.FirstOrDefault(r => r.Taking is null)?.Horizon?.PassIfNotGood.Estimate.Value is { } independent)
        {
            layers.Add(new Target(Along.Y, 100.0 * independent, "every part at a moment of its own"));
        }

        return new Figure
        {
            Title = $"How many cells that are not good pass, by set-ups{(lots ? " and lots" : "")}?",
            Subtitle = $"{AssuranceWords.Accepts(plan.Rule)}. Good: {AssuranceWords.Good(plan.Rule)}. {Sample(study)}; whiskers: 95 % intervals.",
            X = new Axis(lots ? "Set-ups and lots over which the same parts are spread" : "Set-ups over which the same parts are spread") { WholeNumbers = true, From = 0.0 },
            Y = new Axis("Cells that are not good and pass", "% of cells not good") { FromZero = true },
            Layers = layers.ToImmutable(),
        };
    }

    private static Figure? Curve(AssuranceStudy study, PlanAssurance plan)
    {
        var curves = plan.Curves.Select(c => c with { Points = [.. c.Points.Where(p => p.Nonconforming > 1e-5)] }).Where(c => c.Points.Length > 0).ToArray();
        if (curves.Length == 0)
        {
            return null;
        }

        double claimed = plan.Rule.Claimed;
        double from = Math.Min(claimed / 10.0, curves.Min(c => c.Points[0].Nonconforming)) * 0.8, to = Math.Min(0.98, Math.Max(10.0 * claimed, curves.Max(c => c.Points[^1].Nonconforming) * 1.25));
        double[] nodes = [.. Enumerable.Range(0, CurveNodes).Select(i => from * Math.Pow(to / from, i / (CurveNodes - 1.0)))];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        layers.Add(new Line([.. nodes.Select(p => 100.0 * p)], [.. nodes.Select(p => 100.0 * plan.Rule.Textbook(p))], "textbook", Tone.Ink));
        Tone[] tones = [Tone.First, Tone.Second];
        for (int i = 0; i < curves.Length; i++)
        {
            var points = curves[i].Points;
            ImmutableArray<double> x = [.. points.Select(p => 100.0 * p.Nonconforming)];
            layers.Add(new Points(x, [.. points.Select(p => 100.0 * p.Pass.Value!.Value)], curves[i].Label, tones[i])
            {
                Lower = [.. points.Select(p => 100.0 * p.Pass.Lower95!.Value)],
                Upper = [.. points.Select(p => 100.0 * p.Pass.Upper95!.Value)],
            });
        }

        layers.Add(new Limit(Along.X, 100.0 * claimed, $"claimed: at most {AssuranceWords.Ppm(claimed)}"));
        string law = plan.Rule.Plan.Accept == Acceptance.Attribute ? "binomial" : "one normal value, all of the fraction beyond one limit";
        return new Figure
        {
            Title = "What does a cell pass with, given its own fraction nonconforming?",
            Subtitle = $"{AssuranceWords.Accepts(plan.Rule)}. {Sample(study)} in bins of their own fraction over the horizon; whiskers: 95 % intervals.",
            Note = $"Textbook: independent parts ({law}).",
            X = new Axis("Parts nonconforming over the cell's horizon", "%") { Scale = AxisScale.Logarithmic },
            Y = new Axis("Chance to pass", "%") { From = 0.0, To = 100.0 },
            Layers = layers.ToImmutable(),
        };
    }

    private static string Sample(AssuranceStudy study) => $"{Format.Count(study.Result.Records.Length)} lifetimes";
}
