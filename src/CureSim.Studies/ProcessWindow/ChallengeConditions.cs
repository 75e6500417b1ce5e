using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Model.Ageing;
using CureSim.Core.Model.Bond;
using CureSim.Core.Model.Geometry;
using CureSim.Engine.Plan;

namespace CureSim.Studies.ProcessWindow;

/// <summary>One condition that a challenge point asks for.</summary>
/// <param name="Name">What, such as "fouled tip".</param>
/// <param name="Value">How to make it, such as "10 560 exposures since cleaning".</param>
/// <param name="Effect">ln of its factor on the irradiance at the bond (on the cure rate for an adhesive lot).</param>
public sealed record ChallengeCondition(string Name, string Value, double Effect);

/// <summary>A frozen state of the cell in which challenge parts are made.</summary>
/// <param name="Conditions">What is asked for; empty at nominal conditions.</param>
/// <param name="LogShift">ln of the product of all factors on the nominal irradiance but geometry and substrate.</param>
/// <param name="Distance">Distance with the set-up's deviation, m.</param>
/// <param name="Offset">Aim offset of the set-up, m.</param>
/// <param name="Absorption">Of the lot, 1/m.</param>
/// <param name="Thickness">Thickness of every part, m; null: drawn part by part.</param>
/// <param name="Rate">Cure rate of the lot, 1/s.</param>
public sealed record FrozenState(ImmutableArray<ChallengeCondition> Conditions, double LogShift, double Distance, double Offset, double Absorption, double? Thickness, double Rate)
{
    /// <summary>Set-up and lots at their medians, just set, clean, at part means.</summary>
    public static FrozenState Nominal(Scenario cell)
    {
        var f = cell.Fixture;
        return new([], 0.0, f.NominalDistanceMetres + f.DistanceSetup.Mean, 0.0, Median(cell.Substrate?.Absorption), null, Median(cell.Cure?.RateLot));
    }

    /// <summary>The state of least (or most) light and cure: every contributor at the stated level on its unfavourable side.</summary>
    /// <param name="cell">The cell at the settings of the point.</param>
    /// <param name="high">True for the most.</param>
    /// <param name="level">Probability level of each, above one half.</param>
    public static FrozenState Extreme(Scenario cell, bool high, double level)
    {
        var plan = new RunPlan(WindowCase.Path(cell));
        var list = new List<ChallengeCondition>();
        double interval = (cell.Checks?.IntervalSteps ?? cell.Production.StepCount) * cell.Production.StepSeconds;
        list.Add(Emitter(cell, plan, high, interval));
        double duty = cell.Production.PartsPerSecond / cell.Production.PartsAtOnce, exposures = duty * interval;
        if (cell.Loop.Kind != LoopKind.None && Moves(cell.Loop.SensorDrift))
        {
            double drift = Quantile(cell.Loop.SensorDrift, high ? 1.0 - level : level) * interval;
            list.Add(new("loop sensor drifted for one interval", Told(100.0 * drift, "%"), -drift));
        }

        if (Moves(cell.Tip.Fouling))
        {
            list.Add(high ? new("tip clean", "0 exposures since cleaning", 0.0)
                : new("tip fouled", $"{Told(exposures, "exposures")} since cleaning at {Told(1e6 * Quantile(cell.Tip.Fouling, level), "ppm each")}", -Quantile(cell.Tip.Fouling, level) * exposures));
        }

        if (cell.Guide is { } guide && Moves(guide.Loss))
        {
            double lit = guide.Lit == LitDuring.Exposures ? exposures * cell.Exposure.SettingSeconds : interval, loss = high ? 0.0 : Quantile(guide.Loss, level) * lit;
            list.Add(new(high ? "guide as at its setting" : "guide one interval after setting", Told(high ? 0.0 : lit / 3600.0, "h lit"), -loss));
        }

        int n = cell.Production.SiteCount;
        if (cell.Guide is { Imbalance: { IsVarying: true } imbalance } && n > 1 && cell.Source.Arrangement == EmitterArrangement.Shared)
        {
            double one = Math.Pow(level, 1.0 / n), leg = Quantile(imbalance, high ? one : 1.0 - one);
            list.Add(new(high ? "strongest leg" : "weakest leg", $"{Told(100.0 * (Math.Exp(leg) - 1.0), "%")} of the mean", leg));
        }

        var nominal = Nominal(cell);
        var (distance, offset) = Geometry(cell, plan, list, high, level);
        double absorption = nominal.Absorption;
        double? thickness = null;
        if (cell.Substrate is { } s && (s.Absorption.IsVarying || s.Thickness.IsVarying))
        {
            absorption = Quantile(s.Absorption, high ? 1.0 - level : level);
            thickness = Quantile(s.Thickness, high ? 1.0 - level : level);
            double effect = Math.Log(SubstrateModel.Transmission(s.Reflectance, absorption, thickness.Value) / SubstrateModel.Transmission(s.Reflectance, nominal.Absorption, s.Thickness.Mean));
            list.Add(new(high ? "substrate thin, clear lot" : "substrate thick, dense lot", $"{Told(1e3 * thickness.Value, "mm")}, {Told(absorption / 1e3, "/mm")}", effect));
        }

        double rate = nominal.Rate;
        if (cell.Cure is { RateLot.IsVarying: true } cure)
        {
            rate = Quantile(cure.RateLot, high ? level : 1.0 - level);
            list.Add(new(high ? "fast adhesive lot" : "slow adhesive lot", Told(rate, "/s at 1 W/cm²"), Math.Log(rate / nominal.Rate)));
        }

        // Geometry, substrate and rate act through the state itself.
        double shift = list.Where(c => !c.Name.StartsWith("fixture", StringComparison.Ordinal) && !c.Name.StartsWith("substrate", StringComparison.Ordinal) && !c.Name.EndsWith("lot", StringComparison.Ordinal)).Sum(c => c.Effect);
        return new([.. list], shift, distance, offset, absorption, thickness, rate);
    }

    private static (double Distance, double Offset) Geometry(Scenario cell, RunPlan plan, List<ChallengeCondition> list, bool high, double level)
    {
        var f = cell.Fixture;
        double nominal = f.NominalDistanceMetres + f.DistanceSetup.Mean, distance = nominal, offset = 0.0;

        // Held at the bond fixture, the radiometer sees distance and aim, and the setting makes up for them.
        if (cell.Checks is { MeasuredAt: MeasuredAt.BondFixture })
        {
            return (distance, offset);
        }

        var spread = new SpreadModel(f.Spread, f.ReferenceDistanceMetres);
        double mean = f.DistancePart.Mean;
        if (f.DistanceSetup.IsVarying && !spread.IsConstant)
        {
            double[] ends = [f.NominalDistanceMetres + Quantile(f.DistanceSetup, 1.0 - level), f.NominalDistanceMetres + Quantile(f.DistanceSetup, level)];
            distance = high ? ends.MaxBy(d => spread.At(d + mean)) : ends.MinBy(d => spread.At(d + mean));
            list.Add(new(distance > nominal ? "fixture far" : "fixture near", Told(1e3 * distance, "mm"), Math.Log(spread.At(distance + mean) / spread.At(nominal + mean))));
        }

        var beam = new BeamModel(f.Beam, f.BondRadiusMetres, f.JudgeAtWorstPoint);
        if (f.AimSetup.IsVarying && !beam.IsFlat && !high)
        {
            offset = Math.Abs(Quantile(f.AimSetup, level));
            list.Add(new("fixture off the axis", Told(1e3 * offset, "mm"), beam.Log(offset) - beam.Log(0.0)));
        }

        _ = plan;
        return (distance, offset);
    }

    private static ChallengeCondition Emitter(Scenario cell, RunPlan plan, bool high, double interval)
    {
        if (high)
        {
            return new("emitter new, just set", "0 h", 0.0);
        }

        var ageing = plan.FirstWorld.Values.Ageing;
        double[] p = [.. ageing.Parameters.Select(q => q.Varies.Quantile(0.5) * plan.FirstWorld.Values.Factor(q))];
        double Output(double h) => ageing.Output(h, p.ElementAtOrDefault(0), p.ElementAtOrDefault(1), p.ElementAtOrDefault(2));
        double perSecond = cell.Source.Lit == LitDuring.Exposures ? cell.Production.PartsPerSecond / cell.Production.PartsAtOnce * cell.Exposure.SettingSeconds : 1.0;
        double end = Math.Min(cell.Source.ReplaceAtBurnSeconds ?? double.PositiveInfinity, perSecond * cell.Production.HorizonSeconds), burn = perSecond * interval;
        if (cell.Loop.Kind != LoopKind.None && cell.Checks is not null)
        {
            // The loop makes up for ageing until full drive is short.
            var full = cell with { Checks = null, Source = cell.Source with { Drive = 1.0 } };
            double room = NominalState.LogIrradiance(full, plan.FirstWorld)[0] - NominalState.LogIrradiance(cell, plan.FirstWorld)[0];
            double lost = Math.Min(0.0, room + Math.Log(Output(end)));
            return new("emitter at its end", $"{Told(end / 3600.0, "h")}, {(lost < 0.0 ? "full drive is short" : "held by the loop")}", lost);
        }

        // Without a loop what counts is the loss since the last setting; the age at which it is largest.
        double worst = 0.0, at = end;
        for (int k = 0; k <= 40; k++)
        {
            double from = Math.Max(0.0, end - burn) * k / 40.0, loss = Math.Log(Output(from + burn) / Output(from));
            (worst, at) = loss < worst ? (loss, from) : (worst, at);
        }

        return new("emitter aged through one interval", $"from {Told(at / 3600.0, "h")}", worst);
    }

    private static bool Moves(Quantity q) => q.Varies is not FixedValue { Value: 0.0 };

    private static double Quantile(Quantity q, double p) => q.Varies.Quantile(p);

    private static double Median(Quantity? q) => q?.Varies.Quantile(0.5) ?? 0.0;

    // With a true minus sign: the text is printed in a protocol as it stands here.
    private static string Told(double value, string unit) => (Math.Abs(value) >= 1000.0 ? FormattableString.Invariant($"{value:F0} {unit}") : FormattableString.Invariant($"{value:G4} {unit}")).Replace('-', '\u2212');
}
