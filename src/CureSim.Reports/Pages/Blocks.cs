using System.Collections.Immutable;
using CureSim.Reports.Figures;

namespace CureSim.Reports.Pages;

/// <summary>A piece of a report in reading order. Page and PDF are two writers of the same list, so their order cannot differ.</summary>
internal abstract record Block;

/// <summary>A heading; level 1 begins a report, 2 a section, 3 a part of it.</summary>
internal sealed record HeadingBlock(int Level, string Text, string Id) : Block;

/// <summary>What is asked, what decides, how sure, on what it rests; <paramref name="Words"/> is where its words are explained.</summary>
internal sealed record DecisionBlock(string Question, Judgement Judgement, string Decision, string Answer, string HowSure, string LargestAssumption, string? Words) : Block;

/// <summary>A paragraph.</summary>
internal sealed record TextBlockOf(string Text) : Block;

/// <summary>A list of sentences.</summary>
internal sealed record ListBlock(ImmutableArray<string> Items) : Block;

/// <summary>Names with what stands for them. The record of a run is <paramref name="IsRecord"/>: the only lines that differ between two equal runs.</summary>
internal sealed record FactsBlock(ImmutableArray<(string Name, string Text, Judgement Tone)> Rows, bool IsRecord = false) : Block;

/// <summary>Lines for a shell.</summary>
internal sealed record CodeBlock(string Text) : Block;

/// <summary>A figure.</summary>
internal sealed record FigureBlock(int Number, string Caption, Figure Figure, string? File, string? Group) : Block;

/// <summary>A table.</summary>
internal sealed record TableBlock(int Number, string Caption, PageTable Table, bool IsInputs = false) : Block;

/// <summary>Contents of a dossier or page: names and targets.</summary>
internal sealed record ContentsBlock(ImmutableArray<(int Level, string Text, string Id)> Entries) : Block;
