using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>What came of reading a scenario: a cell, or all the problems that stand in its way.</summary>
/// <param name="Cell">The cell; null when there is any problem.</param>
/// <param name="Problems">Everything that is wrong, in the order of the file.</param>
/// <param name="Warnings">What is accepted and should be thought about.</param>
/// <param name="Inputs">Every input, those left out included, in the order of the format.</param>
/// <param name="ResolvedYaml">The scenario with overrides applied, everything left out written out and data files included: reads to an
/// equal cell without any other file. Empty when the file could not be read as YAML.</param>
/// <param name="Sha256">SHA-256 of <paramref name="ResolvedYaml"/> (UTF-8), lower-case hexadecimal.</param>
public sealed record ScenarioReading(
    Scenario? Cell,
    ImmutableArray<Problem> Problems,
    ImmutableArray<Problem> Warnings,
    ImmutableArray<InputNote> Inputs,
    string ResolvedYaml,
    string Sha256);
