namespace CureSim.Checks.Comparing;

/// <summary>A Monte Carlo figure beside its exact value.</summary>
/// <param name="Name">What it is, with its unit.</param>
/// <param name="Expected">The exact value.</param>
/// <param name="Found">The value found.</param>
/// <param name="StandardError">Its standard error, above zero.</param>
/// <param name="Planted">What a stated wrong formula would give; the comparison must refuse it. Null when this figure does not tell that error.</param>
/// <param name="Allowance">Known difference between formula and simulated case (resolution of a step, overshoot), added to the tolerance; its reason
/// stands with the check.</param>
/// <param name="Scale">What relative errors are relative to; the expected value unless that is 0.</param>
internal sealed record SampledFigure(
    string Name, double Expected, double Found, double StandardError, double? Planted = null, double Allowance = 0.0, double? Scale = null)
{
    /// <summary>Found − expected in standard errors.</summary>
    public double Score => (Found - Expected) / StandardError;

    /// <summary>True when a value agrees with what was found.</summary>
    public bool Agrees(double value) =>
        Math.Abs(Found - value) <= (FalsePositiveBudget.StandardErrors * StandardError) + Allowance;

    /// <summary>Smallest relative error of the program that this figure would show.</summary>
    public double SmallestDetectable => ((FalsePositiveBudget.StandardErrors * StandardError) + Allowance) / Math.Abs(Scale ?? Expected);
}
