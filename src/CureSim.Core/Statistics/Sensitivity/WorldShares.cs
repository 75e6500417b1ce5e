using CureSim.Core.Random;
using MathNet.Numerics.LinearAlgebra;

namespace CureSim.Core.Statistics.Sensitivity;

/// <summary>Which part of the variance between worlds each unknown input makes, from the worlds of one run: no further simulation.</summary>
/// <remarks>
/// Least squares of the worlds' answers on columns that are independent of each other with mean 0 and variance 1 over all worlds: y = b₀ + Σ b_c x_c + rest. b_c² is then the variance that
/// column c makes; its estimate b̂_c² − se²(b̂_c) is unbiased when the rest has equal spread everywhere. The residual variance (degrees of freedom W − p − 1), less the mean noise
/// inside a world, is what no column makes: inputs that act together, and curvature. A share is a sum of b̂² − se² over their total with the rest, held to 0 to 1.
/// Interval: worlds are drawn with replacement; percentiles at the level that makes up for their number, Φ(−√(W/(W − 1))·t₀.₉₇₅,W−p−₁)
/// (T. C. Hesterberg, The American Statistician 69 (2015) 371, 'expanded percentile'; recalled from memory). Coverage: WorldSharesTests.
/// Source: least squares and its standard errors as in N. R. Draper and H. Smith, Applied Regression Analysis, 3rd ed. (1998), chapters 5 and 6 (recalled from memory).
/// </remarks>
public sealed class WorldShares
{
    /// <summary>Worlds for each column at least.</summary>
    public const int LeastWorldsAColumn = 8;

    /// <summary>Worlds for each column from which its square enters too.</summary>
    public const int WorldsForCurvature = 16;

    private const int Resamples = 1000;

    private static readonly StreamKey Picks = StreamKey.Of(DrawDomain.Reserved, "statistics.world-shares-bootstrap");
    private readonly double[] whole;
    private readonly List<double[]> drawn;
    private readonly double tail;

    private WorldShares(double[] whole, List<double[]> drawn, double tail, int worlds, double adjusted)
    {
        this.whole = whole;
        this.drawn = drawn;
        this.tail = tail;
        Worlds = worlds;
        AdjustedRSquared = adjusted;
    }

    /// <summary>Worlds.</summary>
    public int Worlds { get; }

    /// <summary>Share of the scatter of the answers, noise included, that the columns explain, adjusted for their number.</summary>
    public double AdjustedRSquared { get; }

    /// <summary>Share of the variance between worlds that no single input makes.</summary>
    public Estimate Rest => Of(x => x[^2]);

    /// <summary>Share of some inputs together, each alone: what they do together with others is in <see cref="Rest"/>.</summary>
    /// <param name="inputs">Numbers of the inputs.</param>
    public Estimate Share(params IReadOnlyCollection<int> inputs) => Of(x => inputs.Sum(i => x[i]));

    /// <summary>Columns of an input whose draw has this standard normal score: the score and, where there are worlds enough, (z² − 1)/√2.</summary>
    /// <param name="scores">Score by world.</param>
    /// <param name="curved">True: with the square.</param>
    public static double[][] Columns(double[] scores, bool curved) => curved ? [scores, [.. scores.Select(z => ((z * z) - 1.0) / Math.Sqrt(2.0))]] : [scores];

    /// <summary>Columns of an input that is one of several kinds, chosen with these chances: one fewer than kinds.</summary>
    /// <param name="kinds">Kind by world.</param>
    /// <param name="chances">Chance of each kind; they sum to one.</param>
    public static double[][] Columns(int[] kinds, IReadOnlyList<double> chances)
    {
        ArgumentNullException.ThrowIfNull(chances);
        var columns = new double[chances.Count - 1][];
        double before = chances[0];
        for (int k = 1; k < chances.Count; k++)
        {
            // Kind k against all kinds before it: mean 0, variance 1.
            double p = chances[k], all = before + p, lower = -Math.Sqrt(p / (before * all)), upper = Math.Sqrt(before / (p * all));
            int own = k;
            columns[k - 1] = [.. kinds.Select(i => i < own ? lower : i == own ? upper : 0.0)];
            before = all;
        }

        return columns;
    }

    /// <summary>The shares of inputs.</summary>
    /// <param name="answers">Answer by world.</param>
    /// <param name="noise">Squared Monte-Carlo error of each answer.</param>
    /// <param name="inputs">By input its columns, each with a number for every world.</param>
    /// <param name="seed">Key of the bootstrap.</param>
    /// <param name="withheld">Why there are none.</param>
    public static WorldShares? Of(double[] answers, double[] noise, IReadOnlyList<double[][]> inputs, ulong seed, out string? withheld)
    {
        ArgumentNullException.ThrowIfNull(answers);
        ArgumentNullException.ThrowIfNull(noise);
        ArgumentNullException.ThrowIfNull(inputs);
        int worlds = answers.Length;
        double[][] columns = [.. inputs.SelectMany(i => i)];
        int[] owner = [.. inputs.SelectMany((input, i) => input.Select(_ => i))];
        if (noise.Length != worlds || columns.Any(c => c.Length != worlds))
        {
            throw new ArgumentException("there must be one number for each world", nameof(inputs));
        }

        if (worlds < LeastWorldsAColumn * columns.Length)
        {
            withheld = $"{worlds} worlds are too few to part {inputs.Count} unknown inputs; {LeastWorldsAColumn * columns.Length} would be enough";
            return null;
        }

        var once = new double[worlds];
        Array.Fill(once, 1.0);
        const string Alike = "the worlds differ no more than the noise inside them";
        if (Parts(answers, noise, columns, owner, inputs.Count, once) is not { } whole || !(whole[^1] > 0.0))
        {
            withheld = Alike;
            return null;
        }

        var drawn = new List<double[]>(Resamples);
        var times = new double[worlds];
        int none = 0;
        for (int b = 0; b < Resamples; b++)
        {
            Array.Clear(times);
            for (int w = 0; w < worlds; w++)
            {
                times[Math.Min(worlds - 1, (int)(worlds * Draw.Uniform(seed, 0, (uint)b, Picks, w)))]++;
            }

            if (Parts(answers, noise, columns, owner, inputs.Count, times) is { } found)
            {
                none += found[^1] > 0.0 ? 0 : 1;
                drawn.Add(found);
            }
        }

        if (drawn.Count < Resamples / 2 || none > drawn.Count / 40)
        {
            withheld = Alike;
            return null;
        }

        withheld = null;
        int free = worlds - columns.Length - 1;
        double mean = answers.Average(), scatter = answers.Sum(y => (y - mean) * (y - mean)) / (worlds - 1.0);
        double tail = NormalLaw.Cdf(-Math.Sqrt(worlds / (worlds - 1.0)) * StudentLaw.Quantile(0.975, free));
        return new(whole, drawn, tail, worlds, 1.0 - (Residual(answers, columns, once)!.Value.Variance / scatter));
    }

    private Estimate Of(Func<double[], double> part)
    {
        static double Held(double share) => double.IsFinite(share) ? Math.Clamp(share, 0.0, 1.0) : 0.0;
        double value = Held(part(whole) / whole[^1]);
        double[] sorted = [.. drawn.Where(d => d[^1] > 0.0).Select(d => Held(part(d) / d[^1])).Order()];
        double sd = SampleMoments.Of(sorted).StandardDeviation ?? 0.0;
        return Estimate.Bounded(value, sd, Math.Min(value, SampleQuantile.OfSorted(sorted, tail)), Math.Max(value, SampleQuantile.OfSorted(sorted, 1.0 - tail)), Worlds);
    }

    // Variance that each input makes, then that of the rest, then their sum; null when the worlds cannot part the columns.
    private static double[]? Parts(double[] y, double[] noise, double[][] columns, int[] owner, int inputs, double[] times)
    {
        if (Residual(y, columns, times) is not { } fit)
        {
            return null;
        }

        var parts = new double[inputs + 2];
        for (int c = 0; c < columns.Length; c++)
        {
            parts[owner[c]] += (fit.Slopes[c] * fit.Slopes[c]) - fit.SquaredErrors[c];
        }

        double weight = 0.0, inside = 0.0;
        for (int w = 0; w < y.Length; w++)
        {
            weight += times[w];
            inside += times[w] * noise[w];
        }

        parts[inputs] = Math.Max(0.0, fit.Variance - (inside / weight));
        parts[inputs + 1] = parts.Take(inputs + 1).Sum();
        return parts;
    }

    private static (double[] Slopes, double[] SquaredErrors, double Variance)? Residual(double[] y, double[][] columns, double[] times)
    {
        int p = columns.Length, different = times.Count(t => t > 0.0);
        double n = times.Sum(), centre = 0.0;
        if (different < p + 2 || n < p + 2)
        {
            return null;
        }

        for (int w = 0; w < y.Length; w++)
        {
            centre += times[w] * y[w] / n;
        }

        var a = Matrix<double>.Build.Dense(p + 1, p + 1);
        var v = Vector<double>.Build.Dense(p + 1);
        double squares = 0.0;
        for (int w = 0; w < y.Length; w++)
        {
            if (!(times[w] > 0.0))
            {
                continue;
            }

            double d = y[w] - centre;
            squares += times[w] * d * d;
            for (int i = 0; i <= p; i++)
            {
                double x = times[w] * (i == 0 ? 1.0 : columns[i - 1][w]);
                v[i] += x * d;
                for (int j = 0; j <= i; j++)
                {
                    a[i, j] += x * (j == 0 ? 1.0 : columns[j - 1][w]);
                }
            }
        }

        for (int i = 0; i <= p; i++)
        {
            for (int j = 0; j < i; j++)
            {
                a[j, i] = a[i, j];
            }
        }

        Matrix<double> inverse;
        try
        {
            inverse = a.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(p + 1));
        }
        catch (ArgumentException)
        {
            return null; // columns that these worlds cannot part
        }

        var b = inverse * v;
        double variance = Math.Max(0.0, squares - (b * v)) / (n - p - 1.0);
        return ([.. b.Skip(1)], [.. Enumerable.Range(1, p).Select(i => variance * inverse[i, i])], variance);
    }
}
