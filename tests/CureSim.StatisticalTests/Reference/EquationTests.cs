using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <summary>The equations of the reference at published or recomputed numbers.</summary>
public class EquationTests
{
    private static Fixture At(SpreadLaw spread, double reference, BeamProfile? beam = null, double bondRadius = 0) => new(
        reference, reference, None, None, None, None, None, spread, beam ?? new FlatBeam(), bondRadius, true);

    private static Quantity None => Quantity.Of("none", Level.Part, 0);

    // Irradiance of 1 W from a guide face of 2.5 mm radius and 20°, mW/cm² (recomputed; the row at 10 mm also by a ray trace).
    [Theory]
    [InlineData(5, 1705.74, 5092.96)]
    [InlineData(10, 844.414, 2561.05)]
    [InlineData(20, 332.832, 669.813)]
    [InlineData(50, 74.2971, 108.573)]
    public void GuideFace_MeanAndCentreOfTheSpot(double millimetres, double mean, double centre)
    {
        double theta = Math.PI / 9;

        Assert.Equal(mean / 5092.96, BondEquations.Spread(At(new ConeMeanSpread(0.0025, theta), 0), millimetres / 1000), 2e-6); // six digits given
        Assert.Equal(centre / 5092.96, BondEquations.Spread(At(new ConeAxisSpread(0.0025, theta), 0), millimetres / 1000), 2e-6);
    }

    [Fact]
    public void OtherSpreads_AreOneAtTheReferenceAndFallAsStated()
    {
        Assert.Equal(1, BondEquations.Spread(At(new FocusedSpread(0.02, 0.01), 0.013), 0.013));
        Assert.Equal(1.49 / 2, BondEquations.Spread(At(new FocusedSpread(0.02, 0.01), 0.013), 0.03), 1e-15); // (1 + 0.7²)/(1 + 1²)
        Assert.Equal(0.25, BondEquations.Spread(At(new InverseSquareSpread(0.005), 0.01), 0.025), 1e-15); // (15/30)²
        Assert.Equal(0.5, BondEquations.Spread(At(new TableSpread([0.01, 0.02], [0.8, 0.4]), 0.01), 0.05), 1e-15); // flat outside
    }

    // E(ρ)/E(0) of exp(−2(ρ/w)^n) at 0.5 w and 0.8 w (recomputed, six digits).
    [Theory]
    [InlineData(2, 0.606531, 0.278037)]
    [InlineData(4, 0.882497, 0.440784)]
    [InlineData(6, 0.969233, 0.591977)]
    [InlineData(10, 0.998049, 0.806744)]
    public void Beam_SuperGaussian(double order, double half, double eight)
    {
        Assert.Equal(half, BondEquations.Beam(At(new NoSpread(), 0, new GaussianBeam(0.004, order)), 0.002), 5e-7);
        Assert.Equal(eight, BondEquations.Beam(At(new NoSpread(), 0, new GaussianBeam(0.004, order), 0.0012), 0.002), 5e-7); // worst point of the bond
    }

    [Fact]
    public void Slab_WithMultipleReflections() => // R = 0.04, 0.2/mm, 2 mm (recomputed)
        Assert.Equal(0.618211, BondEquations.Substrate(new Substrate(0.04, None, None, 0), 200, 0.002), 5e-7);

    // k = 0.8/s, p = 0.5 and a dose of 3 J/cm² at three irradiances in W/cm² (recomputed).
    [Theory]
    [InlineData(1, 3, 0.909282)]
    [InlineData(0.5, 6, 0.966430)]
    [InlineData(0.1, 30, 0.999494)]
    public void DegreeOfCure_AtEqualDose(double irradiance, double seconds, double expected)
    {
        Assert.Equal(expected, BondEquations.DegreeOfCure(1, 0.8, 0.5, 0, irradiance * 1e4, seconds), 5e-7);

        // 0.5 J/cm² spent on oxygen take 0.5/E seconds off.
        Assert.Equal(
            BondEquations.DegreeOfCure(1, 0.8, 0.5, 0, irradiance * 1e4, seconds - (0.5 / irradiance)),
            BondEquations.DegreeOfCure(1, 0.8, 0.5, 5000, irradiance * 1e4, seconds),
            1e-15);
        Assert.Equal(0, BondEquations.DegreeOfCure(1, 0.8, 0.5, 4e4, irradiance * 1e4, seconds));
    }

    // Two candidate curves of a mercury short arc, hours (recomputed, five digits).
    [Theory]
    [InlineData(100, 0.92208, 0.92255)]
    [InlineData(1500, 0.66064, 0.63948)]
    [InlineData(5000, 0.34487, 0.38383)]
    public void Ageing_TwoStageAndStretched(double hours, double twoStage, double stretched)
    {
        Quantity Q(double v) => Quantity.Of("q", Level.Emitter, v);
        double h = hours * 3600;

        Assert.Equal(
            twoStage, AgeingCurve.Of(new TwoStageAgeing(Q(0.127127), Q(150 * 3600), Q(5384.23 * 3600)), q => q.Varies.Mean)(h), 6e-6);
        Assert.Equal(stretched, AgeingCurve.Of(new StretchedAgeing(Q(5354.879 * 3600), Q(0.632578)), q => q.Varies.Mean)(h), 6e-6);
    }

    // SciPy 1.10.1, interpolate.PchipInterpolator (recomputed): slopes after Fritsch and Butland, three-point ends.
    [Theory]
    [InlineData(
        new[] { 0.0, 1, 3, 4, 7, 9 }, new[] { 1, 0.9, 0.88, 0.6, 0.55, 0.5 }, new[] { 0.3, 1.7, 3.2, 5.5, 8.6 },
        new[] { 0.9605499999999999, 0.8918800000000001, 0.8493046153846152, 0.5687551975051974, 0.511156036036036 })]
    [InlineData(
        new[] { 0.0, 1, 2, 4 }, new[] { 0.2, 1.0, 0.7, 0.1 }, new[] { 0.3, 0.9, 1.4, 3.1 },
        new[] { 0.5712499999999999, 0.9897499999999999, 0.9232, 0.36999999999999994 })]
    public void MonotoneTable_EqualsAnotherImplementation(double[] x, double[] y, double[] at, double[] expected)
    {
        Assert.All(at.Zip(expected), p => Assert.Equal(p.Second, MonotoneTable.At(x, y, p.First), 1e-14));
        Assert.All(x.Zip(y), p => Assert.Equal(p.Second, MonotoneTable.At(x, y, p.First), 1e-15));
        Assert.Equal(y[0], MonotoneTable.At(x, y, x[0] - 1));
        Assert.Equal(y[^1], MonotoneTable.At(x, y, x[^1] + 1));
    }
}
