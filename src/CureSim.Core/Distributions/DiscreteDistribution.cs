using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>A few values, each with its probability.</summary>
public sealed class DiscreteDistribution : IDistribution
{
    private const double SumTolerance = 1e-9; // probabilities are typed as decimals
    private const int FewValues = 24; // up to here comparing with each step is quicker than a search

    private readonly double[] values;
    private readonly double[] probabilities;
    private readonly double[] upTo;

    /// <param name="values">The values, all different, in any order.</param>
    /// <param name="probabilities">Their probabilities, each &gt; 0, summing to 1 within 10⁻⁹.</param>
    /// <exception cref="ArgumentException">The lists do not fit together or an entry is out of range.</exception>
    public DiscreteDistribution(IReadOnlyList<double> values, IReadOnlyList<double> probabilities)
    {
        if (values.Count == 0 || values.Count != probabilities.Count)
        {
            throw new ArgumentException($"probabilities: {probabilities.Count} for {values.Count} values", nameof(probabilities));
        }

        this.values = [.. values];
        this.probabilities = [.. probabilities];
        Array.Sort(this.values, this.probabilities);
        upTo = new double[this.values.Length];
        double sum = 0.0;
        for (int i = 0; i < upTo.Length; i++)
        {
            Parameter.Finite(this.values[i], nameof(values));
            if (i > 0 && this.values[i] == this.values[i - 1])
            {
                throw Parameter.Wrong(nameof(values), this.values[i], "is given twice");
            }

            upTo[i] = sum += Parameter.Positive(this.probabilities[i], nameof(probabilities));
        }

        if (!(Math.Abs(sum - 1.0) <= SumTolerance))
        {
            throw Parameter.Wrong(nameof(probabilities), sum, "is their sum; it must be 1");
        }

        upTo[^1] = 1.0;
        double mean = 0.0, square = 0.0;
        for (int i = 0; i < upTo.Length; i++)
        {
            mean += this.probabilities[i] * this.values[i] / sum;
        }

        for (int i = 0; i < upTo.Length; i++)
        {
            square += this.probabilities[i] * (this.values[i] - mean) * (this.values[i] - mean) / sum;
        }

        Mean = mean;
        StandardDeviation = Math.Sqrt(square);
    }

    /// <summary>The values, increasing.</summary>
    public IReadOnlyList<double> Values => values;

    /// <summary>Probabilities in the order of <see cref="Values"/>.</summary>
    public IReadOnlyList<double> Probabilities => probabilities;

    /// <inheritdoc/>
    public double Mean { get; }

    /// <inheritdoc/>
    public double StandardDeviation { get; }

    /// <inheritdoc/>
    public double Minimum => values[0];

    /// <inheritdoc/>
    public double Maximum => values[^1];

    /// <inheritdoc/>
    public double Density(double x) => Array.BinarySearch(values, x) is >= 0 and int i ? probabilities[i] : 0.0;

    /// <inheritdoc/>
    public double Cdf(double x)
    {
        int i = LastNotAbove(x);
        return i < 0 ? 0.0 : upTo[i];
    }

    /// <inheritdoc/>
    public double Survival(double x)
    {
        double sum = 0.0;
        for (int i = values.Length - 1; i > LastNotAbove(x); i--)
        {
            sum += probabilities[i];
        }

        return Math.Min(sum, 1.0);
    }

    /// <inheritdoc/>
    public double Quantile(double p)
    {
        int i = Array.BinarySearch(upTo, p);
        return values[Math.Min(i < 0 ? ~i : i, values.Length - 1)];
    }

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        if (values.Length <= FewValues)
        {
            BlockLoop.Map(new Steps(values, upTo), p, x);
            return;
        }

        BlockLoop.Require(p, x);
        for (int i = 0; i < p.Length; i++)
        {
            x[i] = Quantile(p[i]);
        }
    }

    private int LastNotAbove(double x)
    {
        int i = Array.BinarySearch(values, x);
        return i < 0 ? ~i - 1 : i;
    }

    /// <summary>Steps up to the next value for each cumulative probability that is passed.</summary>
    private readonly struct Steps(double[] values, double[] upTo) : IBlockFunction
    {
        public double Invoke(double x)
        {
            double y = values[0];
            for (int i = 1; i < values.Length; i++)
            {
                y = x > upTo[i - 1] ? values[i] : y;
            }

            return y;
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Invoke(Vector512<double> x)
        {
            var y = Vector512.Create(values[0]);
            for (int i = 1; i < values.Length; i++)
            {
                y = Vector512.ConditionalSelect(Vector512.GreaterThan(x, Vector512.Create(upTo[i - 1])), Vector512.Create(values[i]), y);
            }

            return y;
        }
    }
}
