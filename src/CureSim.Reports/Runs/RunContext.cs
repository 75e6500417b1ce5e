using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>One input of the scenario as it is listed beside the results.</summary>
/// <param name="Path">Dotted path in the scenario.</param>
/// <param name="Level">The event at which it is drawn anew; null for a setting.</param>
/// <param name="Value">As written, with its unit.</param>
/// <param name="Unit">Unit of the input; empty for words and plain numbers.</param>
/// <param name="Origin">Yours, default or typical.</param>
/// <param name="Meaning">What it is.</param>
public sealed record InputRow(string Path, string? Level, string Value, string Unit, string Origin, string Meaning)
{
    /// <summary>The level of a setting in the words of a page.</summary>
    public const string Setting = "setting";

    /// <summary>Name in plain words.</summary>
    internal string Name => InputNames.Of(Path);

    /// <summary>The value in plain words.</summary>
    internal string Said => ValueWords.Of(Value);
}

/// <summary>One factor of the nominal light budget.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Factor">Ratio; 1 in the first row, which states the source.</param>
/// <param name="IrradianceAfter">Irradiance after it, W/m².</param>
public sealed record BudgetRow(string Name, double Factor, double IrradianceAfter);

/// <summary>What is known of a scenario beside its cell: where its results will say it came from.</summary>
/// <param name="FileStem">Name of the scenario's file without folder and extension; names the folder of results.</param>
/// <param name="Sha256">SHA-256 of the resolved scenario.</param>
/// <param name="ResolvedYaml">The resolved scenario.</param>
/// <param name="Inputs">Every input.</param>
/// <param name="Budget">Nominal light budget from the source to the bond.</param>
public sealed record RunContext(string FileStem, string Sha256, string ResolvedYaml, ImmutableArray<InputRow> Inputs, ImmutableArray<BudgetRow> Budget)
{
    /// <summary>What was accepted and should be thought about.</summary>
    public ImmutableArray<string> Warnings { get; init; } = [];
}
