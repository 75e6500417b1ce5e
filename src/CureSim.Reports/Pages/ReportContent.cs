using System.Collections.Immutable;
using CureSim.Reports.Figures;
using CureSim.Reports.Runs;

namespace CureSim.Reports.Pages;

/// <summary>Whom a section of a report serves first.</summary>
public enum Reader
{
    /// <summary>Everybody.</summary>
    All,

    /// <summary>Who runs the line: how often to check, what to watch.</summary>
    Line,

    /// <summary>Who pays: parts, time, money.</summary>
    Management,

    /// <summary>Who signs: indices, methods, agreement of methods.</summary>
    Validation,
}

/// <summary>How a question is decided.</summary>
public enum Judgement
{
    /// <summary>Nothing was required; the answer is a figure.</summary>
    None,

    /// <summary>What is required is reached, at the unfavourable end where the study says so.</summary>
    Met,

    /// <summary>It is not reached.</summary>
    Missed,

    /// <summary>It is reached, but on inputs that are typical of the trade instead of the user's own: see <see cref="TypicalBasis"/>.</summary>
    Provisional,
}

/// <summary>One figure or one table of a report; the caption says what it shows.</summary>
/// <param name="Caption">One sentence, without number.</param>
public sealed record ReportItem(string Caption)
{
    /// <summary>The figure; null for a table.</summary>
    public Figure? Figure { get; init; }

    /// <summary>The table; null for a figure.</summary>
    public PageTable? Table { get; init; }

    /// <summary>Where the same is to be found in the folder, such as plots/dose_histogram.png; null where it is not.</summary>
    public string? File { get; init; }

    /// <summary>What can be switched: the response that it shows; null when it belongs to all.</summary>
    public string? Group { get; init; }

    /// <summary>A figure that also lies in the folder's plots.</summary>
    public static ReportItem Of((string Name, Figure Figure) plot, string caption, string? group = null) =>
        new(caption) { Figure = plot.Figure, File = $"plots/{plot.Name}.png", Group = group };

    /// <summary>A table.</summary>
    public static ReportItem Of(PageTable table, string caption) => new(caption) { Table = table, File = table.File };
}

/// <summary>A part of the evidence.</summary>
/// <param name="Reader">Whom it serves first.</param>
/// <param name="Title">What it is about.</param>
/// <param name="Paragraphs">Said before its items.</param>
/// <param name="Items">Figures and tables.</param>
public sealed record ReportSection(Reader Reader, string Title, ImmutableArray<string> Paragraphs, ImmutableArray<ReportItem> Items);

/// <summary>The inputs of one scenario, or of what stands in its place.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Sha256">Hash of its resolved text.</param>
/// <param name="Rows">Every input, left out or written.</param>
public sealed record ReportInputs(string Name, string? Sha256, ImmutableArray<InputRow> Rows);

/// <summary>All that a report says, without how it looks. A study makes one; page, PDF and dossier are made from it alone.</summary>
/// <remarks>It holds nothing that differs between two runs of the same scenario, seed and version: no time, no thread count, no path.</remarks>
public sealed record ReportContent
{
    /// <summary>The command that made it.</summary>
    public required string Command { get; init; }

    /// <summary>What was looked at: the name of the scenario.</summary>
    public required string Title { get; init; }

    /// <summary>The question that is decided.</summary>
    public required string Question { get; init; }

    /// <summary>The answer in a sentence or two, with its uncertainty.</summary>
    public required string Answer { get; init; }

    /// <summary>How it is decided.</summary>
    public required Judgement Judgement { get; init; }

    /// <summary>The word for it: "Check every week", "Met", "No requirement".</summary>
    public required string Decision { get; init; }

    /// <summary>What the interval of the answer holds and what it leaves out.</summary>
    public required string HowSure { get; init; }

    /// <summary>The assumption that the answer rests on most.</summary>
    public required string LargestAssumption { get; init; }

    /// <summary>The answer as the terminal prints it.</summary>
    public ImmutableArray<AnswerLine> Lines { get; init; } = [];

    /// <summary>The picture (or table) that decides; null when plots were not asked for.</summary>
    public ReportItem? Decisive { get; init; }

    /// <summary>The evidence, in the order in which it is read.</summary>
    public ImmutableArray<ReportSection> Evidence { get; init; } = [];

    /// <summary>Every input.</summary>
    public ImmutableArray<ReportInputs> Inputs { get; init; } = [];

    /// <summary>Said above the inputs: how much rests on what is not the user's own.</summary>
    public string? Basis { get; init; }

    /// <summary>How it is worked out, and where that ends.</summary>
    public ImmutableArray<string> Method { get; init; } = [];

    /// <summary>What is not modelled.</summary>
    public ImmutableArray<string> NotModelled { get; init; } = [];

    /// <summary>Checks that this result passed.</summary>
    public ImmutableArray<string> Checks { get; init; } = [];

    /// <summary>Cautions.</summary>
    public ImmutableArray<string> Cautions { get; init; } = [];

    /// <summary>How the result is made again: lines of a shell or of words.</summary>
    public ImmutableArray<string> Reproduce { get; init; } = [];
}
