using MathNet.Numerics.LinearAlgebra;

namespace CureSim.Core.Statistics;

/// <summary>A curve fitted by weighted nonlinear least squares.</summary>
/// <param name="Parameters">p estimates.</param>
/// <param name="UnscaledCovariance">(JᵀWJ)⁻¹, p × p; times the variance of a reading of weight 1 it is the covariance of the estimates. A parameter held at a limit has zeros.</param>
/// <param name="Residuals">Reading − fitted value, in the order of the readings, not weighted.</param>
/// <param name="SumOfSquares">Σ w·residual².</param>
/// <param name="Free">Parameters that are not held at a limit.</param>
/// <param name="AtLimit">For each parameter, whether it ended at a limit.</param>
/// <param name="Steps">Steps taken.</param>
/// <param name="Withheld">Why there is no fit; null when there is one.</param>
public sealed record NonlinearFitResult(
    double[] Parameters, Matrix<double> UnscaledCovariance, double[] Residuals, double SumOfSquares, int Free, bool[] AtLimit, int Steps, string? Withheld = null)
{
    /// <summary>Readings less free parameters.</summary>
    public int DegreesOfFreedom => Residuals.Length - Free;

    /// <summary>√(sum of squares / degrees of freedom): standard deviation of a reading of weight 1; null without degrees of freedom.</summary>
    public double? ResidualDeviation => Withheld is null && DegreesOfFreedom > 0 ? Math.Sqrt(SumOfSquares / DegreesOfFreedom) : null;

    /// <summary>Standard deviation of a parameter, from the residuals; null without degrees of freedom or at a limit.</summary>
    public double? DeviationOf(int parameter) => ResidualDeviation is { } s && !AtLimit[parameter] ? s * Math.Sqrt(UnscaledCovariance[parameter, parameter]) : null;

    /// <summary>
    /// Akaike's information criterion with the small-sample correction, up to a constant that all curves on the same readings share:
    /// n·ln(S/n) + 2K + 2K(K+1)/(n−K−1), K the parameters and the variance; null when n ≤ K + 1. A parameter at a limit counts.
    /// </summary>
    /// <remarks>Source: C. M. Hurvich and C.-L. Tsai, Biometrika 76 (1989) 297; K. P. Burnham and D. R. Anderson, Model Selection and Multimodel Inference (2002), section 2.4 (both recalled from memory).</remarks>
    public double? CorrectedCriterion
    {
        get
        {
            double n = Residuals.Length, k = Parameters.Length + 1.0;
            return Withheld is not null || n <= k + 1.0 || !(SumOfSquares > 0.0) ? null : (n * Math.Log(SumOfSquares / n)) + (2.0 * k) + (2.0 * k * (k + 1.0) / (n - k - 1.0));
        }
    }

    /// <summary>No fit, and why.</summary>
    public static NonlinearFitResult Refuse(string reason, int parameters, int readings) =>
        new(new double[parameters], Matrix<double>.Build.Dense(parameters, parameters), new double[readings], double.NaN, parameters, new bool[parameters], 0, reason);
}
