using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>One column of measured values, in the order of the file.</summary>
/// <param name="File">The file as it was named.</param>
/// <param name="Sha256">SHA-256 of its bytes, 64 lower-case hexadecimal digits.</param>
/// <param name="Header">Header of the column, on one line.</param>
/// <param name="Name">The header without its unit, as words: "dose".</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Values">The values, in that unit; at least two, not all equal.</param>
/// <param name="Lines">The line of the file that each value stands in, from 1.</param>
/// <param name="GroupHeader">Header of the grouping column; null without one.</param>
/// <param name="Groups">Group of each value; empty without a grouping column.</param>
public sealed record MeasuredSample(
    string File, string Sha256, string Header, string Name, SampleUnit Unit, ImmutableArray<double> Values, ImmutableArray<int> Lines, string? GroupHeader, ImmutableArray<string> Groups);

/// <summary>A sample, or all that is wrong with its file.</summary>
/// <param name="Sample">Null when there are problems.</param>
/// <param name="Problems">In the order of the file.</param>
public sealed record SampleReading(MeasuredSample? Sample, ImmutableArray<Problem> Problems);

/// <summary>Which part of a file is wanted.</summary>
/// <param name="Column">Header of the values, with or without its unit; null takes the only column of numbers.</param>
/// <param name="Group">Header of the column that names the group of each value; null for none.</param>
/// <param name="Unit">Unit of the values where the header has none; null for none.</param>
public sealed record SampleChoice(string? Column = null, string? Group = null, string? Unit = null);
