using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Drivers;

namespace CureSim.Reports.Drivers;

/// <summary>The figures of the drivers study.</summary>
public static class DriversPlots
{
    private const int MostRows = 12;

    /// <summary>Figures with the names of their files.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(DriversResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        if (Changes(study) is { } changes)
        {
            yield return ("what_if", changes);
        }

        var any = study.Indices.Moments[0];
        if (any.Indices is not null)
        {
            yield return ("dose_by_quantity", Indices(study, any.RankedQuantities, "Which inputs make the dose of one bond spread?", "Quantity"));
            yield return ("dose_by_level", Indices(study, any.RankedLevels, "At which level does the dose of one bond spread?", "Level"));
        }

        foreach (var importance in study.Importances.Where(i => i.Withheld is null))
        {
            yield return ("importance_" + importance.Id, Ranking(importance));
            for (int k = 0; k < importance.Effects.Length; k++)
            {
                yield return ($"effect_{importance.Id}_{k + 1}", Effect(importance, importance.Effects[k], study.Scenario.Production.HorizonSeconds));
            }
        }
    }

    private static int HeightOf(int rows) => Math.Max(320, 200 + (36 * rows));

    private static Figure? Changes(DriversResult study)
    {
        var rows = study.WhatIf.Rows.Where(r => r.Changes[0].Value is not null && r.Variant.Action == VariantAction.Halved).ToArray();
        var moved = study.WhatIf.Rows.Where(r => r.Changes[0].Value is not null && r.Variant.Action != VariantAction.Halved && WhatIfRow.IsSeen(r.Changes[0]))
            .OrderByDescending(r => Math.Abs(r.Changes[0].Value!.Value)).Take(6).ToArray();
        WhatIfRow[] shown = [.. rows.Take(MostRows).Concat(moved).OrderByDescending(r => r.Changes[0].Value)];
        if (shown.Length == 0)
        {
            return null;
        }

        Bar Draw(WhatIfRow r)
        {
            var c = r.Changes[0];
            bool seen = WhatIfRow.IsSeen(c);
            return new(PlainText.Capital(DriversWords.Short(r.Variant)), c.Value!.Value, (c.Value > 0.0 ? "+" : "") + Format.Fixed(c.Value.Value, 3) + (seen ? "" : ", no change seen"))
            {
                Lower = c.Lower95, Upper = c.Upper95, Tone = !seen ? Tone.Quiet : c.Value > 0.0 ? Tone.First : Tone.Second,
            };
        }

        string left = rows.Length > MostRows ? $" The {rows.Length - MostRows} spreads that gain least are left out." : "";
        return new Figure
        {
            Title = "What would halving one spread do to the capability?",
            Subtitle = $"Change of Ppk of {DriversWords.Response(study)} from {Format.Value(study.WhatIf.Base[0].Value ?? 0.0, null, 3)}; whiskers: 95 % interval, the same lifetimes with and without",
            X = new Axis("Change of Ppk"),
            Y = new Axis(""),
            Height = HeightOf(shown.Length),
            Layers = [new Bars([.. shown.Select(Draw)])],
            Note = $"Named alone: its spread halved about its mean. With 'mean': the mean moved by its own standard deviation, those that matter most.{left} Grey: no change seen, the interval holds 0.",
        };
    }

    private static Figure Indices(DriversResult study, IReadOnlyList<(DriverGroup Group, Core.Statistics.Sensitivity.SensitivityIndex Index)> ranked, string title, string what)
    {
        var shown = ranked.Take(MostRows).ToArray();
        ImmutableArray<double> At(double offset) => [.. Enumerable.Range(0, shown.Length).Select(i => shown.Length - 1 - i + offset)];
        Points Of(Func<Core.Statistics.Sensitivity.SensitivityIndex, Estimate> pick, double offset, string label, Tone tone, MarkShape shape) => new(
            [.. shown.Select(s => pick(s.Index).Value!.Value)], At(offset), label, tone) { Shape = shape };
        Line[] Whiskers(Func<Core.Statistics.Sensitivity.SensitivityIndex, Estimate> pick, double offset, Tone tone) =>
            [.. shown.Select((s, i) => new Line([pick(s.Index).Lower95!.Value, pick(s.Index).Upper95!.Value], [shown.Length - 1 - i + offset, shown.Length - 1 - i + offset], null, tone))];
        string left = ranked.Count > shown.Length ? $" {ranked.Count - shown.Length} with smaller indices are left out." : "";
        return new Figure
        {
            Title = title,
            Subtitle = $"Sobol' indices of the dose of one bond at {DriversWords.Site(study)}, any time of the horizon; lines: 95 % interval, {Format.Count(study.Indices.Points)} points",
            X = new Axis("Share of the variance of dose") { FromZero = true },
            Y = new Axis(what) { Names = [.. shown.Reverse().Select(s => PlainText.Capital(DriversWords.Name(s.Group.Name)))], From = -0.6, To = shown.Length - 0.4 },
            Height = HeightOf(shown.Length),
            Layers =
            [
                .. Whiskers(i => i.Total, 0.14, Tone.First), .. Whiskers(i => i.First, -0.14, Tone.Second),
                Of(i => i.Total, 0.14, "total", Tone.First, MarkShape.Circle), Of(i => i.First, -0.14, "first order", Tone.Second, MarkShape.Square),
            ],
            Note = $"First order (lower mark): what goes when that input alone is known. Total (upper mark): what stays when all else is known.{left}",
        };
    }

    private static Figure Ranking(Importance importance)
    {
        var shown = importance.Inputs.Take(MostRows).ToArray();
        Bar Draw(InputImportance i) => new(PlainText.Capital(DriversWords.Name(i.Input)), i.Drop.Value!.Value, Format.Fixed(i.Drop.Value.Value, 2)) { Lower = i.Drop.Lower95, Upper = i.Drop.Upper95, Tone = i.Drop.Lower95 > 0.0 ? Tone.First : Tone.Quiet };
        return new Figure
        {
            Title = importance.Id == "time_to_requalify" ? "Which draws tell when a cell must be requalified?" : "Which draws tell how many bad parts a cell makes?",
            Subtitle = $"Drop of R² (of {Format.Value(importance.RSquared.Value!.Value, null, 2)} on {Format.Count(importance.HeldOut)} lifetimes held out) when an input is dealt out anew; whiskers: spread of permutations",
            X = new Axis("Drop of R²") { FromZero = true },
            Y = new Axis(""),
            Height = HeightOf(shown.Length),
            Layers = [new Bars([.. shown.Select(Draw)])],
            Note = $"Boosted trees on the lifetimes' first draws; predicted: {importance.Answer}. What predicts need not cause.{(shown.Any(i => i.Drop.Value > importance.RSquared.Value) ? " A drop above R²: the model then predicts worse than the mean of all lifetimes would." : "")}",
        };
    }

    private static Figure Effect(Importance importance, EffectCurve effect, double horizonSeconds)
    {
        bool time = importance.Id == "time_to_requalify";
        string axis = DriversWords.AxisOf(effect.Column);
        var (unit, perSi) = DriversWords.UnitOf(effect.Column);
        ImmutableArray<double> x = [.. effect.X.Select(v => v * perSi)];

        // The answer of the second model is log10 of the odds; ppm on a logarithmic axis is read more easily.
        ImmutableArray<double> Shown(ImmutableArray<double> answer) => time ? answer : [.. answer.Select(a => 1e6 / (1.0 + Math.Pow(10.0, -a)))];
        string mean = time ? "Mean" : "Geometric mean of the odds";
        return new()
        {
            Title = $"{(time ? "Time without requalification" : "Nonconforming parts")} against {(char.IsLower(axis[1]) ? char.ToLowerInvariant(axis[0]) : axis[0])}{axis[1..]}",
            Subtitle = $"{mean} predicted for the lifetimes held out, all other draws as they are; band: 10 to 90 % of them",
            X = new Axis(axis, unit),
            Y = time ? new Axis("Time without requalification", "h") : new Axis("Nonconforming parts", "ppm") { Scale = AxisScale.Logarithmic },
            Layers = [new Band(x, Shown(effect.Low), Shown(effect.High)), new Line(x, Shown(effect.Mean), time ? "mean" : "geometric mean")],
            Note = $"Along the axis: {DriversWords.DrawOf(effect.Column)}, 2 to 98 % of lifetimes."
                + (time ? $" Times are held at the horizon, {Format.Value(horizonSeconds / 3600.0, "h")}." : " Fractions below 0.001 ppm are held there."),
        };
    }
}
