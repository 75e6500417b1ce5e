using System.Collections.Immutable;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;

namespace CureSim.Reports.Pages;

/// <summary>Sentences that the reports of all simulating studies share.</summary>
internal static class CommonTexts
{
    /// <summary>What the model leaves out; docs/model.md, section 5.</summary>
    public static ImmutableArray<string> NotModelled { get; } =
    [
        "Spectra: two sources with the same reading may cure differently (band of lamp, absorption of photoinitiator and substrate).",
        "Exposure on a moving belt; ageing by a gamma process; droop of the output within one exposure.",
        "Depth of cure, temperature of the bond, dark cure after the exposure, strength of the bond.",
        "Warm-up of the source, stray light, heating of the radiometer.",
        "Operators: a check that is forgotten, a reading that is copied, an adjustment that goes the wrong way.",
    ];

    /// <summary>Cautions of every study of a cell.</summary>
    public static ImmutableArray<string> Cautions { get; } =
    [
        "A prediction is as good as the distributions given to it. Nobody but you can validate it for your plant: compare it with measurements of the cell.",
        "This is a planning tool. It does not replace measurement, installation, operational and performance qualification, the adhesive maker's data sheet or a professional's judgement.",
        "UV light injures eyes and skin: enclose, interlock, shield stray light. Arc lamps are hot and pressurised and contain mercury. Uncured adhesive sensitises skin. "
            + "Local codes, the maker's data sheet and licensed practice come first; nothing here is a safety assessment.",
    ];

    /// <summary>How a simulated result comes about.</summary>
    public static IEnumerable<string> Method(Core.Cell.Scenario cell)
    {
        var run = cell.Run;
        yield return $"{(run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds of " : "")}{Format.Count(run.LifetimesPerWorld)} lifetimes were simulated, each a cell of its own over the whole horizon: emitter, guide, fixture, "
            + "lots, radiometer and checks are drawn at the levels that the list of inputs names.";
        yield return "Every draw has an address (seed, world, lifetime, stream), so the same scenario, seed and version give the same numbers on any number of threads.";
        yield return run.Worlds > 1
            ? "Round brackets are 95 % Monte-Carlo intervals, which more lifetimes narrow. Square brackets are the 5 to 95 % band over worlds, that is over what is declared unknown; more lifetimes never narrow it."
            : "Round brackets are 95 % Monte-Carlo intervals, which more lifetimes narrow. They say nothing of how right the inputs are.";
        yield return "A figure that the sample cannot support is withheld, with the reason in its place. Model, statistics and their sources: docs/model.md and docs/statistics.md of the tool.";
    }

    /// <summary>Checks that any scenario passed before it was simulated.</summary>
    public static IEnumerable<string> Checks(RunContext context)
    {
        yield return "The scenario was read without a problem: keys, units, ranges, limits that cross, distributions that may not be negative, files, sizes.";
        yield return context.Warnings.IsEmpty ? "It raised no warning." : $"It raised {Format.Count(context.Warnings.Length)} {(context.Warnings.Length == 1 ? "warning" : "warnings")}: {string.Join(" · ", context.Warnings)}";
        yield return "The tool itself: self-check compares it with published values and closed forms on your machine and leaves a record to sign. This page does not hold that record.";
    }

    /// <summary>How sure an answer is, of a scenario with or without worlds.</summary>
    public static string HowSure(Core.Cell.Scenario cell) => cell.Run.Worlds > 1
        ? $"Round brackets: 95 % Monte-Carlo interval of the simulation. Square brackets: 5 to 95 % of {Format.Count(cell.Run.Worlds)} worlds, over what is declared unknown."
        : "Round brackets: 95 % Monte-Carlo interval of the simulation. Nothing is declared unknown, so it does not show how far the inputs may be off.";

    /// <summary>What the report of any study of one cell has in common; the study adds question, answer and evidence by "with".</summary>
    /// <param name="command">The command.</param>
    /// <param name="cell">The scenario.</param>
    /// <param name="context">Its texts.</param>
    public static ReportContent Base(string command, Core.Cell.Scenario cell, RunContext context) => new()
    {
        Command = command, Title = cell.Name, Question = "", Answer = "", Judgement = Judgement.None, Decision = "", HowSure = HowSure(cell), LargestAssumption = "",
        Inputs = [new(cell.Name, context.Sha256, context.Inputs)], Basis = TypicalBasis.Of(context.Inputs, cell.Run.Worlds).Words, Method = [.. Method(cell)], NotModelled = NotModelled,
        Checks = [.. Checks(context)], Cautions = Cautions, Reproduce = Reproduce,
    };

    /// <summary>Figures and tables of a study, by name, as items of a page.</summary>
    /// <param name="figures">Its figures.</param>
    /// <param name="caption">Caption of a figure by its name.</param>
    public static Dictionary<string, ReportItem> Items(IEnumerable<(string Name, Figures.Figure Figure)> figures, Func<string, string> caption) =>
        figures.ToDictionary(f => f.Name, f => ReportItem.Of(f, caption(f.Name)));

    /// <summary>The line that makes a result again.</summary>
    public static ImmutableArray<string> Reproduce { get; } = ["curesim reproduce FOLDER", "runs the scenario of this folder again and compares every file, byte by byte; of this page all but the record."];
}
