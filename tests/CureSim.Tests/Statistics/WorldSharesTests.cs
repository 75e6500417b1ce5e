using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Core.Statistics.Sensitivity;

namespace CureSim.Tests.Statistics;

/// <summary>Which part of the variance between worlds each input makes: models whose shares are known.</summary>
public class WorldSharesTests
{
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Reserved, "tests.world-shares");

    private static double[] Scores(int worlds, ulong seed, int column) => [.. Enumerable.Range(0, worlds).Select(w => BlockMath.NormalQuantile(Draw.Uniform(seed, w, 0, Stream, column)))];

    private static WorldShares Found(double[] answers, double[] noise, IReadOnlyList<double[][]> inputs, ulong seed = 1)
    {
        var found = WorldShares.Of(answers, noise, inputs, seed, out string? withheld);
        Assert.Null(withheld);
        return found!;
    }

    [Fact]
    public void LinearModelWithoutNoise_GivesExactFractions()
    {
        // y = 2x₁ + 3x₂ + x₃ with unit variances: 4/14, 9/14, 1/14 whatever the draws. 1e-9: squared errors of the fit are rounding alone.
        double[] x1 = Scores(24, 1, 0), x2 = Scores(24, 1, 1), x3 = Scores(24, 1, 2);
        double[] y = [.. x1.Select((x, w) => (2.0 * x) + (3.0 * x2[w]) + x3[w])];
        var found = Found(y, new double[24], [[x1], [x2], [x3]]);
        Assert.Equal(4.0 / 14.0, found.Share(0).Get(), 1e-9);
        Assert.Equal(9.0 / 14.0, found.Share(1).Get(), 1e-9);
        Assert.Equal(1.0 / 14.0, found.Share(2).Get(), 1e-9);
        Assert.Equal(10.0 / 14.0, found.Share(1, 2).Get(), 1e-9);
        Assert.Equal(0.0, found.Rest.Get(), 1e-9);
        Assert.Equal(1.0, found.AdjustedRSquared, 1e-9);
    }

    [Fact]
    public void CurvedInput_IsFoundWithItsSquare()
    {
        // y = x₁ + (x₁² − 1)/√2 + x₂: 2/3 and 1/3.
        double[] x1 = Scores(40, 2, 0), x2 = Scores(40, 2, 1);
        double[] y = [.. x1.Select((x, w) => x + (((x * x) - 1.0) / Math.Sqrt(2.0)) + x2[w])];
        var found = Found(y, new double[40], [WorldShares.Columns(x1, true), WorldShares.Columns(x2, true)]);
        Assert.Equal(2.0 / 3.0, found.Share(0).Get(), 1e-9);
        Assert.Equal(1.0 / 3.0, found.Share(1).Get(), 1e-9);
    }

    [Fact]
    public void Kinds_HaveTheVarianceOfTheirChances()
    {
        // Three kinds with chances 0.5, 0.3, 0.2 and answers 0, 1, 3: variance 0.3 + 1.8 − 0.9² = 1.29, beside 1 of x.
        int[] kinds = [.. Enumerable.Range(0, 40).Select(w => w % 10 < 5 ? 0 : w % 10 < 8 ? 1 : 2)];
        double[] answers = [0.0, 1.0, 3.0], x = Scores(40, 3, 0);
        double[] y = [.. kinds.Select((k, w) => answers[k] + x[w])];
        double[][] columns = WorldShares.Columns(kinds, [0.5, 0.3, 0.2]);
        Assert.Equal(2, columns.Length);
        Assert.Equal(1.29 / 2.29, Found(y, new double[40], [columns, [x]]).Share(0).Get(), 1e-9);
    }

    [Fact]
    public void WhatActsTogether_IsTheRest()
    {
        // y = x₁ + x₁x₂: x₁ makes one half, the product the other; x₂ alone makes nothing. 4000 worlds: standard errors about 0.02, three of them allowed.
        double[] x1 = Scores(4000, 4, 0), x2 = Scores(4000, 4, 1);
        var found = Found([.. x1.Select((x, w) => x + (x * x2[w]))], new double[4000], [[x1], [x2]]);
        Assert.InRange(found.Share(0).Get(), 0.5 - (3 * found.Share(0).StandardError!.Value), 0.5 + (3 * found.Share(0).StandardError!.Value));
        Assert.InRange(found.Rest.Get(), 0.44, 0.56);
        Assert.InRange(found.Share(1).Get(), 0.0, 0.02);
    }

    [Theory]
    [InlineData(16, 2, 0.05)]
    [InlineData(32, 3, 0.3)]
    public void Intervals_HoldTheTruthAsOftenAsTheySay(int worlds, int inputs, double noise)
    {
        // Shares 0.75, 0.25, 0 of a linear model, noise inside the worlds beside it. 150 seeds; the shares of a model go together, so the bound is that of single ones:
        // 95 % ± 3.5·1.8 %, on the low side one per cent more, for so few worlds are resampled a little short. With the noise left in, shares are too small by it.
        double[] slopes = [Math.Sqrt(0.75), Math.Sqrt(0.25), 0.0], truth = [0.75, 0.25, 0.0], mean = new double[inputs];
        int[] held = new int[inputs];
        const int Seeds = 150;
        for (ulong seed = 1; seed <= Seeds; seed++)
        {
            double[][] x = [.. Enumerable.Range(0, inputs).Select(c => Scores(worlds, seed, c))];
            double[] error = Scores(worlds, seed, 99);
            double[] y = [.. Enumerable.Range(0, worlds).Select(w => Enumerable.Range(0, inputs).Sum(c => slopes[c] * x[c][w]) + (Math.Sqrt(noise) * error[w]))];
            var found = Found(y, [.. Enumerable.Repeat(noise, worlds)], [.. x.Select(c => (double[][])[c])], seed);
            for (int c = 0; c < inputs; c++)
            {
                var share = found.Share(c);
                held[c] += share.Lower95 <= truth[c] && truth[c] <= share.Upper95 ? 1 : 0;
                mean[c] += share.Get() / Seeds;
            }
        }

        for (int c = 0; c < inputs; c++)
        {
            Assert.InRange((double)held[c] / Seeds, 0.877, 1.0);
            Assert.InRange(mean[c], truth[c] - 0.04, truth[c] + 0.04);
        }
    }

    [Fact]
    public void TooFewWorldsOrNothingButNoise_IsWithheldWithTheReason()
    {
        double[] x1 = Scores(15, 5, 0), x2 = Scores(15, 5, 1);
        Assert.Null(WorldShares.Of(x1, new double[15], [[x1], [x2]], 1, out string? few));
        Assert.Equal("15 worlds are too few to part 2 unknown inputs; 16 would be enough", few);
        double[] noise = Scores(64, 6, 5);
        Assert.Null(WorldShares.Of(noise, [.. Enumerable.Repeat(1.3, 64)], [[Scores(64, 6, 0)]], 1, out string? alike));
        Assert.Contains("no more than the noise", alike, StringComparison.Ordinal);
    }
}
