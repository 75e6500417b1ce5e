namespace CureSim.Core.Statistics.Sensitivity;

/// <summary>Sums of one randomisation from which indices are formed: outputs of the two base matrices and of those with one group exchanged.</summary>
/// <remarks>
/// A and B are two independent samples of all inputs; in A_B⁽ⁱ⁾ the inputs of group i come from B and all others from A. A group may be one input, all draws of one
/// quantity, or all quantities of a level.
/// </remarks>
public sealed class SensitivitySums
{
    private SensitivitySums(double count, double sum, double pair, double[] fromA, double[] fromB)
    {
        Count = count;
        Sum = sum;
        Pair = pair;
        FromA = fromA;
        FromB = fromB;
    }

    /// <summary>Points.</summary>
    public double Count { get; }

    /// <summary>Σ (f(A) + f(B))/2.</summary>
    public double Sum { get; }

    /// <summary>Σ (f(A) − f(B))².</summary>
    public double Pair { get; }

    /// <summary>By group Σ (f(A) − f(A_B⁽ⁱ⁾))².</summary>
    public IReadOnlyList<double> FromA { get; }

    /// <summary>By group Σ (f(B) − f(A_B⁽ⁱ⁾))².</summary>
    public IReadOnlyList<double> FromB { get; }

    /// <summary>Sums of the outputs of one randomisation.</summary>
    /// <param name="a">f(A).</param>
    /// <param name="b">f(B), as long.</param>
    /// <param name="exchanged">f(A_B⁽ⁱ⁾) by group, each as long.</param>
    public static SensitivitySums Of(ReadOnlySpan<double> a, ReadOnlySpan<double> b, IReadOnlyList<ReadOnlyMemory<double>> exchanged)
    {
        ArgumentNullException.ThrowIfNull(exchanged);
        int points = a.Length;
        if (points != b.Length || exchanged.Any(e => e.Length != points))
        {
            throw new ArgumentException("all outputs must be as many", nameof(b));
        }

        double sum = 0.0, pair = 0.0;
        double[] fromA = new double[exchanged.Count], fromB = new double[exchanged.Count];
        for (int j = 0; j < a.Length; j++)
        {
            sum += 0.5 * (a[j] + b[j]);
            pair += Square(a[j] - b[j]);
        }

        for (int i = 0; i < exchanged.Count; i++)
        {
            var x = exchanged[i].Span;
            for (int j = 0; j < a.Length; j++)
            {
                fromA[i] += Square(a[j] - x[j]);
                fromB[i] += Square(b[j] - x[j]);
            }
        }

        return new(a.Length, sum, pair, fromA, fromB);
    }

    private static double Square(double x) => x * x;
}
