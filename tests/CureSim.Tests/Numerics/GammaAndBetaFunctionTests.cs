using System.Globalization;
using CureSim.Core.Numerics;

namespace CureSim.Tests.Numerics;

/// <summary>Gamma and beta functions against many-digit series (tests/data/reference/make_references.py, mpmath; recomputed).</summary>
public class GammaAndBetaFunctionTests
{
    [Theory]
    [InlineData("log_gamma", 9)]
    [InlineData("gamma_lower", 69)]
    [InlineData("gamma_upper", 71)]
    [InlineData("log_beta", 9)]
    [InlineData("beta_lower", 54)]
    [InlineData("beta_upper", 58)]
    public void Agrees_with_the_reference(string function, int rows)
    {
        int count = 0;
        foreach (string[] row in RepositoryData.Rows("reference/special.csv").Where(r => r[0] == function))
        {
            double a = Parse(row[1]), b = Parse(row[2]), x = Parse(row[3]), expected = Parse(row[4]);

            // The errors that the documentation states: a rounding of a term of the exponent is a relative error of the result.
            (double actual, double bound) = function switch
            {
                "log_gamma" => (GammaFunctions.LogGamma(a), 1e-14),
                "log_beta" => (BetaFunctions.LogBeta(a, b), 1e-14),
                "gamma_lower" => (GammaFunctions.Incomplete(a, x).Lower, 2e-14 * Terms(a, x)),
                "gamma_upper" => (GammaFunctions.Incomplete(a, x).Upper, 2e-14 * Terms(a, x)),
                "beta_lower" => (BetaFunctions.Incomplete(a, b, x, 1.0 - x).Lower, 2e-14 * Logs(a, b, x)),
                _ => (BetaFunctions.Incomplete(a, b, x, 1.0 - x).Upper, 2e-14 * Logs(a, b, x)),
            };
            bool direct = function switch
            {
                "gamma_lower" => x < a + 1.0,
                "gamma_upper" => x >= a + 1.0,
                "beta_lower" => x < (a + 1.0) / (a + b + 2.0),
                "beta_upper" => x >= (a + 1.0) / (a + b + 2.0),
                _ => Math.Abs(expected) > 1.0,
            };
            double error = Math.Abs(actual - expected) / (direct ? Math.Abs(expected) : 1.0);
            Assert.True(error <= bound, $"{string.Join(',', row)}: {actual:R}, error {error:G3} above {bound:G3}");
            count++;
        }

        Assert.Equal(rows, count);
    }

    [Fact]
    public void Gamma_of_whole_numbers_is_the_factorial()
    {
        double factorial = 1.0;
        for (int n = 1; n <= 20; n++)
        {
            Assert.InRange(GammaFunctions.Gamma(n) / factorial, 1.0 - 4e-13, 1.0 + 4e-13); // ln Γ is up to 42, with a relative error of 10⁻¹⁴
            factorial *= n;
        }
    }

    private static double Terms(double a, double x) => 1.0 + (a * Math.Abs(Math.Log(x))) + x;

    private static double Logs(double a, double b, double x) => 1.0 + (a * Math.Abs(Math.Log(x))) + (b * Math.Abs(Math.Log(1.0 - x)));

    private static double Parse(string s) => s.Length == 0 ? double.NaN : double.Parse(s, CultureInfo.InvariantCulture);
}
