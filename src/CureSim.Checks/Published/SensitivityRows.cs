using CureSim.Checks.Comparing;
using CureSim.Core.Numerics;
using CureSim.Core.Statistics.Sensitivity;

namespace CureSim.Checks.Published;

/// <summary>Indices of functions whose indices are known, at 2¹⁴ points in 32 randomisations, and the estimators on a few numbers by hand.</summary>
internal static class SensitivityRows
{
    private const int Points = 1 << 14;
    private static readonly double Pi = Math.PI;

    /// <summary>True for rows that are sampled here.</summary>
    public static bool Simulates(string id) => id.StartsWith("SEN-", StringComparison.Ordinal) && id != "SEN-FORM";

    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["SEN-FORM"] = row =>
        {
            // f(A) = 1, 4; f(B) = 2, 7; f(A_B) = 3, 5. V = (1 + 9)/4, E = (4 + 1)/4, V − V₁ = (1 + 4)/4.
            double[] a = [1, 4], b = [2, 7], mixed = [3, 5];
            var sums = Enumerable.Repeat(SensitivitySums.Of(a, b, [mixed]), SensitivityIndices.LeastRandomisations).ToArray();
            var found = SensitivityIndices.Of(sums, 1)!;
            row.Holds("the row states Jansen's forms", row.ExpectedText.Contains("E_i=(1/2N) sum (f(A)_j-f(A_B^i)_j)^2", StringComparison.Ordinal));
            row.Equal("V", 2.5, found.Variance.Get(), 1e-15);
            row.Equal("S", 1.0 - (1.25 / 2.5), found.Groups[0].First.Get(), 1e-15);
            row.Equal("ST", 1.25 / 2.5, found.Groups[0].Total.Get(), 1e-15);
        },
    };

    public static IEnumerable<SampledCheck> All()
    {
        yield return Of("SEN-ISH", 9301, 3, "first order for total", u => Ishigami(u), row =>
            [(row.Expected("S1"), row.Expected("ST1")), (row.Expected("S2"), row.Expected("ST2")), (row.Expected("S3"), row.Expected("ST3"))], row => row.Expected("mean"), row => row.Expected("Var"));
        yield return G("SEN-G-8", 9302, [0, 1, 4.5, 9, 99, 99, 99, 99]);
        yield return G("SEN-G-6", 9303, [0, 0.5, 3, 9, 99, 99]);
        yield return Of("SEN-LIN", 9304, 3, "an equal share for each", u => (2.0 * Z(u[0])) + (3.0 * Z(u[1])) + Z(u[2]),
            row => [.. row.Tokens("S=ST").Select(t => (PublishedRow.Parse(t), PublishedRow.Parse(t)))], null, _ => 14.0);
        yield return Of("SEN-PROD", 9305, 2, "first order for total", u => (1.0 + (0.5 * Z(u[0]))) * (1.0 + (0.5 * Z(u[1]))),
            row => [(row.Expected("S1=S2"), row.Expected("ST1=ST2")), (row.Expected("S1=S2"), row.Expected("ST1=ST2"))], _ => 1.0, row => row.Expected("Var"));
    }

    private static SampledCheck G(string id, ulong seed, double[] a) => Of(id, seed, a.Length, "first order for total",
        u => u.Select((x, i) => (Math.Abs((4.0 * x) - 2.0) + a[i]) / (1.0 + a[i])).Aggregate(1.0, (p, x) => p * x),
        row => [.. row.Tokens("S").Zip(row.Tokens("ST")).Select(t => (PublishedRow.Parse(t.First), PublishedRow.Parse(t.Second)))], row => row.Expected("mean"), row => row.Expected("Var"));

    private static SampledCheck Of(
        string id, ulong seed, int inputs, string planted, Func<double[], double> function, Func<PublishedRow, (double First, double Total)[]> expected, Func<PublishedRow, double>? mean, Func<PublishedRow, double> variance)
    {
        var row = PublishedData.Rows[id];
        IEnumerable<SampledFigure> Figures(ulong s)
        {
            var found = FunctionIndices.Of(function, inputs, Points, s)!;
            if (mean is not null)
            {
                yield return Sample.Of("mean", mean(row), found.Mean);
            }

            yield return Sample.Of("variance", variance(row), found.Variance);
            var exact = expected(row);
            for (int i = 0; i < inputs; i++)
            {
                // The planted error: the total index in the first order's place; for a linear form, where both are one, an equal share for each.
                var (first, total) = exact[i];
                double? wrong = i > 0 ? null : Math.Abs(total - first) > 0.01 ? total : 1.0 / inputs;
                yield return Sample.Of($"S{i + 1}", first, found.Groups[i].First, wrong) with { Scale = 1.0 };
                yield return Sample.Of($"ST{i + 1}", total, found.Groups[i].Total) with { Scale = 1.0 };
            }
        }

        return new SampledCheck(id, row.Topic, row.Inputs, row.Source, seed, planted, Figures) { Provenance = row.Provenance, ThroughEngine = false };
    }

    private static double Z(double u) => BlockMath.NormalQuantile(u);

    internal static double Ishigami(double[] u)
    {
        double x1 = Pi * ((2.0 * u[0]) - 1.0), x2 = Pi * ((2.0 * u[1]) - 1.0), x3 = Pi * ((2.0 * u[2]) - 1.0), s = Math.Sin(x2);
        return Math.Sin(x1) + (7.0 * s * s) + (0.1 * x3 * x3 * x3 * x3 * Math.Sin(x1));
    }
}
