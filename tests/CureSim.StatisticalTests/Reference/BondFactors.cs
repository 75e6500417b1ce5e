using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>ln E of a bond at one site as a constant and the factors that are the bond's own.</summary>
/// <param name="LogConstant">ln of everything that is the same for every bond of the site, W/m²; ripple of a shared emitter not in it.</param>
/// <param name="Own">Factors that vary.</param>
internal sealed record BondFactors(double LogConstant, IReadOnlyList<ILogFactor> Own)
{
    /// <summary>The factors of a bond at a site.</summary>
    /// <param name="state">The frozen state.</param>
    /// <param name="site">From 0.</param>
    /// <param name="rippleIsOwn">True with one emitter a site.</param>
    public static BondFactors Of(ReferenceState state, int site, bool rippleIsOwn)
    {
        var fixture = state.Scenario.Fixture;
        var s = state.Sites[site];
        double constant = BlockMath.Log(s.LightWattsPerSquareMetre);
        var own = new List<ILogFactor>();
        void Take(PartQuantity quantity, Func<double, double> logFactor)
        {
            if (quantity.IsFixed)
            {
                constant += logFactor(quantity.Mean);
            }
            else
            {
                own.Add(new ScoreFactor(z => logFactor(quantity.AtScore(z))));
            }
        }

        if (fixture.Spread is not NoSpread)
        {
            Take(state.Parts.Distance, v => BlockMath.Log(
                BondEquations.Spread(fixture, Math.Max(s.DistanceMetres + v, BondEquations.LeastDistanceMetres))));
        }

        double offset = Math.Sqrt((s.AimXMetres * s.AimXMetres) + (s.AimYMetres * s.AimYMetres));
        if (fixture.Beam is GaussianBeam && !state.Parts.Aim.IsFixed)
        {
            if (!PartAim.IsNormalAboutZero(state.Parts.Aim.Varies))
            {
                throw new NotSupportedException("Only aim deviations that are normal about 0 are integrated.");
            }

            own.Add(new AimFactor(fixture, state.Parts.Aim.Scale * state.Parts.Aim.Varies.StandardDeviation, offset));
        }
        else
        {
            constant += BlockMath.Log(BondEquations.Beam(fixture, offset));
        }

        Take(state.Parts.Tilt, v => BlockMath.Log(Math.Max(BondEquations.Tilt(v), double.Epsilon)));
        if (state.Scenario.Substrate is { } substrate)
        {
            Take(state.Parts.Thickness, v => BlockMath.Log(BondEquations.Substrate(substrate, state.AbsorptionPerMetre, v)));
        }

        if (rippleIsOwn)
        {
            Take(state.Parts.Ripple, v => v);
        }

        return new BondFactors(constant, own);
    }
}
