using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>The standard error from leaving out one group after the other.</summary>
public class LeaveOneOutTests
{
    // Scores and grades of fifteen schools: B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap (1993), table 3.1 (recalled from memory).
    private static readonly double[] Scores = [576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594];
    private static readonly double[] Grades = [3.39, 3.30, 2.81, 3.03, 3.44, 3.07, 3.00, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96];

    [Fact]
    public void Correlation_OfFifteenSchools_HasThePublishedError()
    {
        static double Correlation(double[] x, double[] y)
        {
            double a = x.Average(), b = y.Average();
            return x.Zip(y, (u, v) => (u - a) * (v - b)).Sum() / Math.Sqrt(x.Sum(u => (u - a) * (u - a)) * y.Sum(v => (v - b) * (v - b)));
        }

        static double[] Without(double[] x, int i) => [.. x[..i], .. x[(i + 1)..]];
        double[] left = [.. Enumerable.Range(0, 15).Select(i => Correlation(Without(Scores, i), Without(Grades, i)))];
        Estimate estimate = LeaveOneOut.Of(Correlation(Scores, Grades), left, [.. Enumerable.Repeat(1.0, 15)]);

        // Efron and Tibshirani print 0.776 and 0.1425 (recalled from memory); the further digits are recomputed in Python 3.
        Assert.Equal(0.776374, estimate.Get(), 1e-6);
        Assert.Equal(0.1425186, estimate.StandardError!.Value, 1e-7);
    }

    [Fact]
    public void Mean_OfEqualGroups_HasTheErrorOfTheScatterOfGroups()
    {
        double[] values = [3.0, 1.0, 4.0, 1.5, 9.0, 2.6, 5.3];
        double mean = values.Average();
        double[] without = [.. values.Select(v => ((values.Length * mean) - v) / (values.Length - 1))];
        Estimate found = LeaveOneOut.Of(mean, without, [.. values.Select(_ => 12.0)]), expected = BatchEstimate.Of(values);

        // The same number by two formulas: rounding only.
        Assert.Equal(expected.StandardError!.Value, found.StandardError!.Value, 1e-12);
        Assert.Equal(expected.Lower95!.Value, found.Lower95!.Value, 1e-12);
    }

    [Fact]
    public void Mean_OfUnequalGroups_HasTheErrorOfTheWrittenFormula()
    {
        // Two groups of 1 and 3 with means 0 and 4: θ = 3, θ₍₁₎ = 4, θ₍₂₎ = 0; h = 4, 4/3; θ_J = 6 − ¾·4 − ¼·0 = 3;
        // pseudo-values 4·3 − 3·4 = 0 and 4 − 0 = 4; SE² = ½(9/3 + 1/(1/3)) = 3.
        Assert.Equal(Math.Sqrt(3.0), LeaveOneOut.Of(3.0, [4.0, 0.0], [1.0, 3.0]).StandardError!.Value, 1e-12);
    }

    [Fact]
    public void Wrong_Input_IsRefused()
    {
        Assert.NotNull(LeaveOneOut.Of(1.0, [1.0], [1.0]).Withheld);
        Assert.Throws<ArgumentException>(() => LeaveOneOut.Of(1.0, [1.0, 2.0], [1.0]));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeaveOneOut.Of(1.0, [1.0, 2.0], [1.0, 0.0]));
    }
}
