using CureSim.Core.Cell;

namespace CureSim.Reports.Runs;

/// <summary>Which of several inputs spreads the dose most, as far as a first-order sum tells it; it ranks, and is never printed as a result.</summary>
internal static class WeightiestInput
{
    /// <summary>The input of a scenario that spreads most among those that are asked for; null when none of them varies.</summary>
    /// <param name="cell">The scenario.</param>
    /// <param name="context">Its inputs.</param>
    /// <param name="among">Which are asked for.</param>
    public static InputRow? Of(Scenario cell, RunContext context, Func<InputRow, bool> among)
    {
        var rows = context.Inputs.Where(i => i.Level is not null && among(i)).ToArray();
        var quantities = ScenarioQuantities.Of(cell).GroupBy(q => q.Path, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First(), StringComparer.Ordinal);
        return rows.Where(r => quantities.TryGetValue(r.Path, out var q) && !(q.IsFixed && q.Mean == 0.0)).MaxBy(r => LogSpread(cell, quantities[r.Path]) ?? 0.0);
    }

    /// <summary>Standard deviation of ln dose that a quantity makes alone, to first order; null when it works in another way (ageing, drift between checks, disturbances).</summary>
    public static double? LogSpread(Scenario cell, string path) =>
        ScenarioQuantities.Of(cell).FirstOrDefault(q => q.Path == path) is { } quantity ? LogSpread(cell, quantity) : null;

    private static double? LogSpread(Scenario cell, Quantity q)
    {
        double sd = Spread(q), mean = Math.Abs(q.Mean);
        double? relative = q.Path switch
        {
            "radiometer.meter" or "radiometer.calibration" or "radiometer.session" or "radiometer.repeatability" => cell.Checks is null ? 0.0 : sd,
            "loop.ripple" or "guide.imbalance" or "guide.reseat" => sd,

            // What setting by a reading takes out again; the transmission is a relative error, the deviation of its logarithm as it stands.
            "source.irradiance" => cell.Checks is null ? sd / mean : 0.0,
            "guide.transmission" => cell.Checks is null ? sd : 0.0,
            "exposure.error" or "exposure.offset" => sd / cell.Exposure.SettingSeconds,
            "fixture.distance.setup" or "fixture.distance.part" or "fixture.aim.setup" or "fixture.aim.part" => sd / cell.Fixture.NominalDistanceMetres,
            "substrate.absorption" => cell.Substrate is { } s ? sd * s.Thickness.Mean : null,
            "substrate.thickness" => cell.Substrate is { } s ? sd * s.Absorption.Mean : null,

            // The rate moves no dose: it counts where the degree of cure is limited.
            "cure.rate.lot" => cell.Window.For(Response.DegreeOfCure) is null ? 0.0 : sd / mean,
            "cure.rate.part" => cell.Window.For(Response.DegreeOfCure) is null ? 0.0 : sd,
            _ => null,
        };
        return relative is { } r && double.IsFinite(r) ? r : null;
    }

    private static double Spread(Quantity q)
    {
        double varies = q.IsVarying ? q.Varies.StandardDeviation : 0.0;
        return q.Unknown is not { } unknown ? varies : Math.Sqrt(Square(varies * unknown.Mean) + Square(q.Varies.Mean * unknown.StandardDeviation));
    }

    private static double Square(double x) => x * x;
}
