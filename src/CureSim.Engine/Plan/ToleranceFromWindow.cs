using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;

namespace CureSim.Engine.Plan;

/// <summary>A tolerance limit of checks found from the window: the deviation of the output at which the nonconforming fraction reaches the requirement.</summary>
/// <remarks>
/// All nominal bonds move together, set-up and lots at their medians; the nearer of the two sides counts, less the guard factor times the
/// radiometer's standard uncertainty. With `capability: none` the deviation at which a nominal bond reaches a limit.
/// </remarks>
public static class ToleranceFromWindow
{
    /// <summary>The limit, as |I/reference − 1|; at least the action limit.</summary>
    public static double Find(Scenario scenario, CellModel model, Checks checks)
    {
        double[] logE = NominalState.LogIrradiance(scenario, model);
        var row = new double[State.OwnFactorTable.Points];
        if (model.Judge.Table.Spread > 0.0)
        {
            model.Judge.Table.Slice(NominalState.Distance(scenario, model), 0.0, NominalState.Absorption(scenario, model), row);
        }

        double logRate = scenario.Cure is { } cure ? BlockMath.Log(cure.RateLot.Varies.Quantile(0.5) * model.RateLot!.Factor) : 0.0;
        bool Qualified(double shift)
        {
            double[] moved = [.. logE.Select(e => e + shift)];
            var (part, _) = model.Judge.Probability(moved, row, logRate, 0.0);
            return model.Judge.Verdict(part, model.Judge.NominalMargin(moved, logRate, 0.0));
        }

        if (!Qualified(0.0))
        {
            return checks.ActionLimit;
        }

        double up = BlockMath.Exp(Side(Qualified, 1.0)) - 1.0, down = 1.0 - BlockMath.Exp(-Side(Qualified, -1.0));
        double variance = 0.0;
        foreach (var error in (Quantity[])[scenario.Radiometer.Meter, scenario.Radiometer.Calibration, scenario.Radiometer.Session, scenario.Radiometer.Repeatability])
        {
            variance += error.Varies.StandardDeviation * error.Varies.StandardDeviation;
        }

        return Math.Max(checks.ActionLimit, Math.Min(up, down) - (checks.ToleranceGuardFactor * Math.Sqrt(variance)));
    }

    /// <summary>Distance in ln irradiance to the edge of the qualified states on one side, at most 3.</summary>
    private static double Side(Func<double, bool> qualified, double sign)
    {
        double inside = 0.0, outside = 0.01;
        while (qualified(sign * outside))
        {
            inside = outside;
            outside *= 1.5;
            if (outside > 3.0)
            {
                return 3.0;
            }
        }

        for (int i = 0; i < 40; i++)
        {
            double middle = 0.5 * (inside + outside);
            (inside, outside) = qualified(sign * middle) ? (middle, outside) : (inside, middle);
        }

        return inside;
    }
}

/// <summary>The nominal state of a cell: set to target (or at its drive), set-up and lots at their medians, part quantities at their means.</summary>
public static class NominalState
{
    /// <summary>ln irradiance at each nominal bond, ln W/m².</summary>
    public static double[] LogIrradiance(Scenario scenario, CellModel model)
    {
        double distance = Distance(scenario, model);
        double geometry = model.Spread.At(distance) * BlockMath.Exp(model.Beam.Log(0.0))
            * BlockMath.SinCos2Pi(model.Tilt.Mean * (0.5 / Math.PI)).Cos;
        double substrate = scenario.Substrate is { } s ? SubstrateModel.Transmission(s.Reflectance, Absorption(scenario, model), model.Thickness!.Mean) : 1.0;
        double atTip;
        if (scenario.Checks is { } checks)
        {
            atTip = checks.TargetWattsPerSquareMetre / (checks.MeasuredAt == MeasuredAt.BondFixture ? geometry : 1.0);
        }
        else
        {
            var source = scenario.Source;
            double legs = source.Arrangement == EmitterArrangement.Shared ? (double)source.StatedLegs / scenario.Production.SiteCount : 1.0;
            atTip = source.Irradiance.Varies.Quantile(0.5) * model.Irradiance.Factor * legs * source.Drive;
        }

        var log = new double[scenario.Production.SiteCount];
        Array.Fill(log, BlockMath.Log(atTip * geometry * substrate) + model.Ripple.Mean);
        return log;
    }

    /// <summary>Nominal distance with the mean set-up offset and mean part deviation, m.</summary>
    public static double Distance(Scenario scenario, CellModel model) =>
        Math.Max(SpreadLimit, scenario.Fixture.NominalDistanceMetres + model.DistanceSetup.Mean + model.DistancePart.Mean);

    /// <summary>Absorption of the median lot, 1/m.</summary>
    public static double Absorption(Scenario scenario, CellModel model) =>
        scenario.Substrate is { } s ? s.Absorption.Varies.Quantile(0.5) * model.Absorption!.Factor : 0.0;

    private const double SpreadLimit = Core.Model.Geometry.SpreadModel.SmallestDistance;
}
