using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Model.Bond;
using CureSim.Core.Model.Geometry;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;

namespace CureSim.Engine.State;

/// <summary>
/// The log factors that one bond draws for itself at every exposure, relative to the nominal bond of the same state:
/// distance, aim, tilt, substrate thickness and, where no other bond shares them, ripple and exposure time.
/// </summary>
/// <remarks>
/// A state enters through three numbers only: distance d (nominal, set-up, shifts and mean part deviation), aim offset |o|, absorption α.
/// Everything else that bonds have in common multiplies the nominal irradiance.
/// </remarks>
public sealed class OwnFactors
{
    private readonly Scenario scenario;
    private readonly WorldValues world;
    private readonly SpreadModel spread;
    private readonly BeamModel beam;
    private readonly bool ownRipple;
    private readonly bool ownTime;
    private readonly System.Collections.Concurrent.ConcurrentDictionary<(int Axis, double At), double> variances = new();

    /// <summary>Prepares the factors; <paramref name="ownRipple"/> and <paramref name="ownTime"/> tell whether those are a bond's own.</summary>
    public OwnFactors(Scenario scenario, WorldValues world, bool ownRipple, bool ownTime)
    {
        this.scenario = scenario;
        this.world = world;
        this.ownRipple = ownRipple;
        this.ownTime = ownTime;
        var fixture = scenario.Fixture;
        spread = new SpreadModel(fixture.Spread, fixture.ReferenceDistanceMetres);
        beam = new BeamModel(fixture.Beam, fixture.BondRadiusMetres, fixture.JudgeAtWorstPoint);
        DistanceMatters = !spread.IsConstant && fixture.DistancePart.IsVarying;
        AimMatters = !beam.IsFlat && fixture.AimPart.IsVarying;
        ThicknessMatters = scenario.Substrate is { Thickness.IsVarying: true };
        AimSpread = world.Factor(fixture.AimPart) * fixture.AimPart.Varies.StandardDeviation;
        AimIsIsotropic = fixture.AimPart.Varies is FixedValue || (fixture.AimPart.Varies is NormalDistribution && fixture.AimPart.Varies.Mean == 0.0);
    }

    /// <summary>True when a part's own distance changes its irradiance.</summary>
    public bool DistanceMatters { get; }

    /// <summary>True when a part's own aim changes its irradiance.</summary>
    public bool AimMatters { get; }

    /// <summary>True when a part's own thickness changes its irradiance.</summary>
    public bool ThicknessMatters { get; }

    /// <summary>True when a bond draws anything for itself.</summary>
    public bool AnythingVaries => DistanceMatters || AimMatters || ThicknessMatters || scenario.Fixture.Tilt.IsVarying
        || (ownRipple && scenario.Loop.Ripple.IsVarying) || (ownTime && scenario.Exposure.Error.IsVarying);

    /// <summary>Standard deviation of aim along one axis, m.</summary>
    public double AimSpread { get; }

    /// <summary>True when only the length of an aim offset matters, not its direction.</summary>
    public bool AimIsIsotropic { get; }

    /// <summary>Approximate standard deviation of the sum of the own log factors in a state; 0 when nothing varies.</summary>
    public double Spread(double d, double offset, double absorption)
    {
        // A grid coarse enough to be quick: the number only chooses steps and node counts.
        const double Coarse = 1e-3;
        double VarianceAt(int axis, double at, Func<double, double, GridMasses> masses)
        {
            if (!variances.TryGetValue((axis, at), out double known))
            {
                variances[(axis, at)] = known = Variance(masses(Coarse, at), Coarse);
            }

            return known;
        }

        return Math.Sqrt(
            VarianceAt(0, d, Distance) + VarianceAt(1, offset, Aim) + VarianceAt(2, absorption, Substrate) + VarianceAt(3, 0.0, (step, _) => Constant(step)));
    }

    private static double Variance(GridMasses part, double step)
    {
        if (part.Mass.Length <= 1)
        {
            return 0.0;
        }

        double n = 0.0, s1 = 0.0, s2 = 0.0;
        for (int i = 0; i < part.Mass.Length; i++)
        {
            double x = (part.First + i) * step;
            n += part.Mass[i];
            s1 += part.Mass[i] * x;
            s2 += part.Mass[i] * x * x;
        }

        return Math.Max(0.0, (s2 / n) - (s1 / n * (s1 / n)));
    }

    /// <summary>E[part]/E(nominal): mean of the product of a bond's own factors over its value with all part quantities at their means and aim 0.</summary>
    public double MeanFactor(double d, double offset, double absorption)
    {
        double step = Math.Max(1e-5, Spread(d, offset, absorption) / 60.0), product = 1.0;
        foreach (var part in Parts(step, d, offset, absorption))
        {
            double mass = 0.0, mean = 0.0;
            for (int i = 0; i < part.Mass.Length; i++)
            {
                mass += part.Mass[i];
                mean += part.Mass[i] * BlockMath.Exp((part.First + i) * step);
            }

            product *= mean / mass;
        }

        return product;
    }

    /// <summary>Factors that change with distance.</summary>
    public GridMasses Distance(double step, double d)
    {
        if (!DistanceMatters)
        {
            return GridMasses.Nothing(step);
        }

        var part = scenario.Fixture.DistancePart;
        double factor = world.Factor(part), mean = part.Varies.Mean * factor;
        double nominal = BlockMath.Log(spread.At(d));
        return GridMasses.Image(step, part.Varies, factor, x => BlockMath.Log(spread.At(d - mean + x)) - nominal);
    }

    /// <summary>Factors that change with the aim offset.</summary>
    public GridMasses Aim(double step, double offset) => !AimMatters
        ? GridMasses.Nothing(step)
        : AimIsIsotropic ? AimMasses.Isotropic(step, beam, offset, AimSpread)
        : AimMasses.ByAxis(step, beam, scenario.Fixture.AimPart.Varies, world.Factor(scenario.Fixture.AimPart));

    /// <summary>Factors that change with the absorption of the substrate lot.</summary>
    public GridMasses Substrate(double step, double absorption)
    {
        if (!ThicknessMatters)
        {
            return GridMasses.Nothing(step);
        }

        var substrate = scenario.Substrate!;
        double factor = world.Factor(substrate.Thickness), mean = substrate.Thickness.Varies.Mean * factor;
        double nominal = BlockMath.Log(SubstrateModel.Transmission(substrate.Reflectance, absorption, mean));
        return GridMasses.Image(step, substrate.Thickness.Varies, factor, x => BlockMath.Log(SubstrateModel.Transmission(substrate.Reflectance, absorption, x)) - nominal);
    }

    /// <summary>Factors that are the same in every state: tilt and, where own, ripple and time.</summary>
    public GridMasses Constant(double step)
    {
        var tilt = scenario.Fixture.Tilt;
        double tiltFactor = world.Factor(tilt), tiltNominal = BlockMath.Log(Cosine(tilt.Varies.Mean * tiltFactor));
        var sum = GridMasses.Image(step, tilt.Varies, tiltFactor, x => BlockMath.Log(Cosine(x)) - tiltNominal);
        if (ownRipple)
        {
            var ripple = scenario.Loop.Ripple;
            double mean = ripple.Varies.Mean * world.Factor(ripple);
            sum = sum.Plus(GridMasses.Image(step, ripple.Varies, world.Factor(ripple), x => x - mean));
        }

        if (ownTime)
        {
            var exposure = scenario.Exposure;
            double set = exposure.SettingSeconds + world.Fixed(exposure.Offset), factor = world.Factor(exposure.Error);
            double nominal = BlockMath.Log(Math.Max(1e-6, set + (exposure.Error.Varies.Mean * factor)));
            sum = sum.Plus(GridMasses.Image(step, exposure.Error.Varies, factor, x => BlockMath.Log(Math.Max(1e-6, set + x)) - nominal));
        }

        return sum;
    }

    private static double Cosine(double angle) => Math.Max(1e-6, BlockMath.SinCos2Pi(angle * (0.5 / Math.PI)).Cos);

    private IEnumerable<GridMasses> Parts(double step, double d, double offset, double absorption) =>
        [Distance(step, d), Aim(step, offset), Substrate(step, absorption), Constant(step)];
}
