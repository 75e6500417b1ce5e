using CureSim.Core.Cell;

namespace CureSim.Studies.Ownership;

/// <summary>One scenario of the study.</summary>
/// <param name="Label">Short name, different from every other's.</param>
/// <param name="Scenario">The scenario, with costs and an ownership block, and the size that all options share.</param>
/// <param name="Sha256">Hash of its resolved text: with the label the order in which pairs are worked out, whatever the order of the files.</param>
public sealed record OwnershipOption(string Label, Scenario Scenario, string Sha256)
{
    /// <summary>True when the plant has it already.</summary>
    public bool Installed => Scenario.Ownership!.Installed;

    /// <summary>Fraction of nonconforming parts up to which it holds the window; null when nothing in the scenario says.</summary>
    public double? NonconformingLimit =>
        Scenario.Ownership!.NonconformingLimit ?? Scenario.IntervalStudy?.NonconformingLimit
        ?? (Scenario.Requalification.RequiredCapability is { } index ? new Core.Distributions.NormalDistribution(0.0, 1.0).Cdf(-3.0 * index) : null);
}
