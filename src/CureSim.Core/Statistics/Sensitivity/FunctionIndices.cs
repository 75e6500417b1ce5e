using CureSim.Core.Random;

namespace CureSim.Core.Statistics.Sensitivity;

/// <summary>Indices of a plain function of independent uniform inputs: what the engine's design does, without the engine.</summary>
public static class FunctionIndices
{
    /// <summary>Indices of every input alone.</summary>
    /// <param name="function">The function of its inputs, each uniform in (0, 1).</param>
    /// <param name="inputs">Inputs, at most half of <see cref="SobolDirections.Most"/>.</param>
    /// <param name="points">Points of each matrix, a multiple of the randomisations.</param>
    /// <param name="seed">Key of the scrambles.</param>
    /// <param name="randomisations">Independent scrambles.</param>
    public static SensitivityIndices? Of(Func<double[], double> function, int inputs, int points, ulong seed, int randomisations = 32)
    {
        ArgumentNullException.ThrowIfNull(function);
        int size = points / randomisations;
        var sums = new SensitivitySums[randomisations];
        for (int r = 0; r < randomisations; r++)
        {
            var sequence = SobolPoints.Scrambled(2 * inputs, seed, r);
            double[] a = new double[size], b = new double[size];
            double[][] exchanged = [.. Enumerable.Range(0, inputs).Select(_ => new double[size])];
            for (int p = 0; p < size; p++)
            {
                double[] x = [.. Enumerable.Range(0, inputs).Select(k => sequence.At((uint)p, k))], y = [.. Enumerable.Range(0, inputs).Select(k => sequence.At((uint)p, inputs + k))];
                (a[p], b[p]) = (function(x), function(y));
                for (int k = 0; k < inputs; k++)
                {
                    double own = x[k];
                    x[k] = y[k];
                    exchanged[k][p] = function(x);
                    x[k] = own;
                }
            }

            sums[r] = SensitivitySums.Of(a, b, [.. exchanged.Select(e => new ReadOnlyMemory<double>(e))]);
        }

        return SensitivityIndices.Of(sums, inputs);
    }
}
