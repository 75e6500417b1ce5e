using System.Globalization;
using CureSim.Core.Random;
using CureSim.Tests.Numerics;

namespace CureSim.Tests.Random;

/// <summary>Sobol' points against SciPy (tests/data/reference/sobol_points.py) and what a scramble must keep.</summary>
public class SobolPointsTests
{
    private static IEnumerable<string[]> Rows(string file) => RepositoryData.Rows("reference/" + file);

    [Fact]
    public void Points_AreThoseOfScipy()
    {
        var points = SobolPoints.Plain(SobolDirections.Most);
        int compared = 0;
        foreach (string[] row in Rows("sobol-points.csv"))
        {
            // Multiples of 2⁻³⁰ are exact in double precision: no tolerance.
            Assert.Equal(long.Parse(row[2], CultureInfo.InvariantCulture) / 1073741824.0, points.At(uint.Parse(row[0], CultureInfo.InvariantCulture), int.Parse(row[1], CultureInfo.InvariantCulture) - 1));
            compared++;
        }

        Assert.Equal(67 * 23, compared);
    }

    [Fact]
    public void Discrepancy_IsThatOfScipy()
    {
        foreach (string[] row in Rows("sobol-discrepancy.csv"))
        {
            // Sums of up to 10⁶ products of size 1, each rounded once or twice at 10⁻¹⁶.
            double expected = double.Parse(row[2], CultureInfo.InvariantCulture);
            Assert.Equal(expected, CentredDiscrepancy.Of(SobolPoints.Plain(int.Parse(row[1], CultureInfo.InvariantCulture)), int.Parse(row[0], CultureInfo.InvariantCulture)), 1e-12);
        }
    }

    [Fact]
    public void Scramble_KeepsOnePointInEveryInterval()
    {
        // 256 points of every dimension fall one into each interval of length 1/256; in two dimensions one into each of 16 × 16 boxes of the first pair.
        var points = SobolPoints.Scrambled(200, seed: 4, randomisation: 3);
        for (int d = 0; d < 200; d++)
        {
            Assert.Equal(256, Enumerable.Range(0, 256).Select(i => (int)(256 * points.At((uint)i, d))).Distinct().Count());
        }

        Assert.Equal(256, Enumerable.Range(0, 256).Select(i => ((int)(16 * points.At((uint)i, 0)), (int)(16 * points.At((uint)i, 1)))).Distinct().Count());
    }

    [Fact]
    public void Scrambles_AreIndependentAndUniform()
    {
        // The first point of 4096 randomisations is uniform: mean 1/2 within 4.5 standard errors (1/√(12·4096)), in two dimensions uncorrelated.
        double[][] x = [.. Enumerable.Range(0, 4096).Select(r => SobolPoints.Scrambled(2, 5, r)).Select(p => new[] { p.At(1, 0), p.At(1, 1) })];
        double bound = 4.5 / Math.Sqrt(12.0 * 4096);
        Assert.InRange(x.Average(p => p[0]), 0.5 - bound, 0.5 + bound);
        Assert.InRange(x.Average(p => p[1]), 0.5 - bound, 0.5 + bound);
        Assert.InRange(12.0 * x.Average(p => (p[0] - 0.5) * (p[1] - 0.5)), -4.5 / 64, 4.5 / 64);
        Assert.All(x, p => Assert.InRange(p[0], 1e-11, 1.0 - 1e-11));
    }
}
