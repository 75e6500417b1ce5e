using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>Two unknowns whose errors of estimate go together.</summary>
/// <param name="First">Path of the one quantity, ordinally before the other.</param>
/// <param name="Second">Path of the other.</param>
/// <param name="Coefficient">Correlation of their normal scores, between −1 and 1.</param>
public sealed record UnknownCorrelation(string First, string Second, double Coefficient);

/// <summary>Correlated standard normal scores of unknowns: z = L·e with L·Lᵀ the correlation matrix (a Gaussian copula).</summary>
/// <remarks>Source: Cholesky's factor of a correlation matrix, as JCGM 102:2011, 6.4.8, draws correlated inputs (recalled from memory).</remarks>
public sealed class CorrelatedScores
{
    private readonly double[,] factor;

    private CorrelatedScores(ImmutableArray<string> paths, double[,] factor)
    {
        Paths = paths;
        this.factor = factor;
    }

    /// <summary>Paths that any correlation names, in ordinal order.</summary>
    public ImmutableArray<string> Paths { get; }

    /// <summary>The factor; null when no such correlations can hold together (the matrix is not positive definite).</summary>
    public static CorrelatedScores? Of(IReadOnlyCollection<UnknownCorrelation> correlations)
    {
        ArgumentNullException.ThrowIfNull(correlations);
        ImmutableArray<string> paths = [.. correlations.SelectMany(c => new[] { c.First, c.Second }).Distinct().Order(StringComparer.Ordinal)];
        int n = paths.Length;
        var matrix = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            matrix[i, i] = 1.0;
        }

        foreach (var c in correlations)
        {
            int a = paths.IndexOf(c.First), b = paths.IndexOf(c.Second);
            matrix[a, b] = matrix[b, a] = c.Coefficient;
        }

        for (int j = 0; j < n; j++)
        {
            for (int i = j; i < n; i++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++)
                {
                    sum -= matrix[i, k] * matrix[j, k];
                }

                if (i == j && !(sum > 1e-12))
                {
                    return null;
                }

                matrix[i, j] = i == j ? Math.Sqrt(sum) : sum / matrix[j, j];
            }
        }

        return new(paths, matrix);
    }

    /// <summary>Correlated score of a path (by its place in <see cref="Paths"/>) from independent scores of all paths.</summary>
    public double At(int place, ReadOnlySpan<double> independent)
    {
        double sum = 0.0;
        for (int k = 0; k <= place; k++)
        {
            sum += factor[place, k] * independent[k];
        }

        return sum;
    }
}
