using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;
using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;

namespace CureSim.Reports.Pages;

/// <summary>One report of a page or dossier.</summary>
/// <param name="Content">What it says.</param>
/// <param name="Record">How it came about.</param>
/// <param name="Folder">Name of its folder, for a dossier; null for its own page.</param>
public sealed record ReportPart(ReportContent Content, RunRecord Record, string? Folder = null);

/// <summary>Puts what reports say into the one order in which every report is read.</summary>
internal static class ReportLayout
{
    /// <summary>The one column that is meant for the keys of the scenario format.</summary>
    internal const string KeyHeading = "Key in the scenario";

    private const double Hour = 3600.0;

    /// <summary>Blocks of one report, or of a dossier of several with its contents in front.</summary>
    public static ImmutableArray<Block> Of(ImmutableArray<ReportPart> parts)
    {
        var blocks = ImmutableArray.CreateBuilder<Block>();
        bool dossier = parts.Length > 1;
        int figures = 0, tables = 0;
        for (int i = 0; i < parts.Length; i++)
        {
            string prefix = dossier ? string.Create(CultureInfo.InvariantCulture, $"r{i + 1}-") : "";
            int number = i + 1;
            Add(blocks, parts[i], prefix, dossier ? number : null, () => ++figures, () => ++tables);
        }

        var entries = blocks.OfType<HeadingBlock>().Where(h => h.Level <= (dossier ? 2 : 2) && (h.Level == 2 || dossier)).Select(h => (h.Level, h.Text, h.Id)).ToImmutableArray();
        blocks.Insert(dossier ? 0 : Math.Min(2, blocks.Count), new ContentsBlock(entries));
        if (dossier)
        {
            blocks.InsertRange(0, Front(parts));
        }

        return blocks.ToImmutable();
    }

    /// <summary>True when all reports are of scenarios of one name.</summary>
    public static bool AreOfOneCell(ImmutableArray<ReportPart> parts) => parts.Select(p => p.Record.Scenario).Distinct(StringComparer.Ordinal).Count() == 1;

    // What a dossier answers, study by study, before anything else.
    private static IEnumerable<Block> Front(ImmutableArray<ReportPart> parts)
    {
        if (!AreOfOneCell(parts))
        {
            yield return new TextBlockOf("These studies are not all of one scenario: their figures stand beside each other, and need not belong to the same cell.");
        }
        else if (parts.Select(p => p.Record.ScenarioSha256).Distinct(StringComparer.Ordinal).Count() > 1)
        {
            yield return new TextBlockOf("The scenarios have one name and not all the same content: some inputs, or the size of the simulation, differ between the studies. The hashes stand in each record.");
        }

        yield return new FactsBlock([.. parts.Select((p, i) => (
            string.Create(CultureInfo.InvariantCulture, $"{i + 1}. {p.Content.Command}"), $"{p.Content.Question} {p.Content.Decision}. {p.Content.Answer}", p.Content.Judgement))]);
    }

    private static void Add(ImmutableArray<Block>.Builder blocks, ReportPart part, string prefix, int? number, Func<int> figure, Func<int> table)
    {
        var c = part.Content;
        string numbered = number is { } n ? string.Create(CultureInfo.InvariantCulture, $"{n}. ") : "";
        void Head(string text, string id) => blocks.Add(new HeadingBlock(2, text, prefix + id));
        void Item(ReportItem item)
        {
            if (item.Figure is { } drawn)
            {
                blocks.Add(new FigureBlock(figure(), item.Caption, drawn, item.File, item.Group));
            }
            else if (item.Table is { } rows)
            {
                blocks.Add(new TableBlock(table(), item.Caption, rows));
            }
        }

        var words = GlossaryWords.In(c);
        string? wordsId = words.Length > 0 ? prefix + "words" : null;
        blocks.Add(new HeadingBlock(1, numbered.Length == 0 ? c.Title : $"{numbered}{c.Title}: {c.Command}", prefix + "top"));
        blocks.Add(new DecisionBlock(c.Question, c.Judgement, c.Decision, c.Answer, HowSure(c), c.LargestAssumption, wordsId));
        if (c.Decisive is { } decisive)
        {
            Head(decisive.Figure is null ? "The table that decides" : "The picture that decides", "picture");
            Item(decisive);
        }

        if (!c.Lines.IsEmpty)
        {
            Head("The answer in lines", "lines");
            blocks.Add(new FactsBlock([.. c.Lines.Select(l => (l.Label.Trim(), l.Text, l.Tone switch { AnswerTone.Met => Judgement.Met, AnswerTone.Missed => Judgement.Missed, _ => Judgement.None }))]));
        }

        int k = 0;
        foreach (var section in c.Evidence.Where(s => !s.Items.IsEmpty || !s.Paragraphs.IsEmpty))
        {
            Head(Serves(section.Reader) is { } serves ? $"{serves}: {section.Title}" : PlainText.Capital(section.Title), string.Create(CultureInfo.InvariantCulture, $"evidence-{++k}"));
            foreach (string paragraph in section.Paragraphs)
            {
                blocks.Add(new TextBlockOf(paragraph));
            }

            foreach (var item in section.Items)
            {
                Item(item);
            }
        }

        Assumptions(blocks, c, Head, prefix, table);
        Head("Method and limits", "method");
        blocks.Add(new ListBlock(c.Method));
        if (words.Length > 0)
        {
            blocks.Add(new HeadingBlock(3, "Words used here", wordsId!));
            blocks.Add(new FactsBlock([.. words.Select(w => (w.Word, w.Meaning, Judgement.None))]));
        }

        if (!c.NotModelled.IsEmpty)
        {
            blocks.Add(new HeadingBlock(3, "Not modelled", prefix + "not-modelled"));
            blocks.Add(new ListBlock(c.NotModelled));
        }

        if (!c.Checks.IsEmpty)
        {
            Head("Checks passed", "checks");
            blocks.Add(new ListBlock(c.Checks));
        }

        Head("Cautions", "cautions");
        blocks.Add(new ListBlock(c.Cautions));
        Head("Record, and how to reproduce it", "record");
        blocks.Add(new FactsBlock(Fixed(part)));
        blocks.Add(new FactsBlock(Record(part.Record), IsRecord: true));
        for (int i = 0; i < c.Reproduce.Length; i++)
        {
            blocks.Add(i == 0 ? new CodeBlock(c.Reproduce[i]) : new TextBlockOf(c.Reproduce[i]));
        }
    }

    /// <summary>Square brackets are explained where some are shown.</summary>
    private static string HowSure(ReportContent c) => c.Answer.Contains('[', StringComparison.Ordinal) || c.LargestAssumption.Contains('[', StringComparison.Ordinal)
        ? c.HowSure
        : string.Join(". ", c.HowSure.Split(". ").Where(s => !s.StartsWith("Square brackets", StringComparison.Ordinal)));

    private static void Assumptions(ImmutableArray<Block>.Builder blocks, ReportContent c, Action<string, string> head, string prefix, Func<int> table)
    {
        if (c.Inputs.IsEmpty && c.Basis is null)
        {
            return;
        }

        head("Assumptions", "assumptions");
        blocks.Add(new TextBlockOf("Largest: " + c.LargestAssumption));
        if (c.Basis is { } basis)
        {
            blocks.Add(new TextBlockOf(basis));
        }

        for (int i = 0; i < c.Inputs.Length; i++)
        {
            var inputs = c.Inputs[i];
            if (c.Inputs.Length > 1)
            {
                blocks.Add(new HeadingBlock(3, inputs.Name, string.Create(CultureInfo.InvariantCulture, $"{prefix}inputs-{i + 1}")));
            }

            ImmutableArray<ImmutableArray<string>> rows = [.. inputs.Rows.Select(r => (ImmutableArray<string>)[PlainText.Capital(r.Name), r.Level ?? InputRow.Setting, r.Said, UnitOf(r), r.Origin, InputNames.InText(r.Meaning), r.Path])];
            string[] headings = ["Input", "Drawn anew at each", "Value", "Unit", "Origin", "Meaning", KeyHeading];
            blocks.Add(new TableBlock(
                table(), "Every input, written or left out. Typical: common practice of the trade, no source; replace it with your own. Default: the format's, nothing unusual.",
                new(null, [.. headings.Select(h => new PageColumn(h, false))], rows, rows.Length), IsInputs: true));
        }
    }

    // Values of a routine are listed in steps of the simulation beside their hours; people read the hours.
    private static string UnitOf(InputRow row) => row.Unit switch { "steps" => "h", "deg" => "°", var unit => ValueWords.Of(unit) };

    private static string? Serves(Reader reader) => reader switch
    {
        Reader.Line => "For the line",
        Reader.Management => "For management",
        Reader.Validation => "For validation",
        _ => null,
    };

    private static ImmutableArray<(string, string, Judgement)> Fixed(ReportPart part)
    {
        var (c, r) = (part.Content, part.Record);
        var rows = new List<(string, string, Judgement)> { ("About", r.Scenario, Judgement.None) };
        if (r.ScenarioSha256 is { } sha)
        {
            rows.Add(("Hash of the input, SHA-256", sha, Judgement.None));
        }

        rows.AddRange(c.Inputs.Where(i => i.Sha256 is not null && i.Sha256 != r.ScenarioSha256).Select(i => ($"Hash of {i.Name}", i.Sha256!, Judgement.None)));
        if (r.Lifetimes > 0)
        {
            rows.Add(("Seed", r.Seed.ToString(CultureInfo.InvariantCulture), Judgement.None));
            rows.Add(("Lifetimes simulated", Format.Count(r.Lifetimes) + (r.Sampling is { } s ? $", {s}" : ""), Judgement.None));
        }

        if (part.Folder is { } folder)
        {
            rows.Add(("Folder", folder, Judgement.None));
        }

        return [.. rows];
    }

    private static ImmutableArray<(string, string, Judgement)> Record(RunRecord r) =>
    [
        // Options that the resolved scenario holds are not given again when it is reproduced, so they belong to the record of this run.
        ("Command", r.Command + (r.Options.IsDefaultOrEmpty ? "" : " " + string.Join(' ', r.Options)), Judgement.None),
        ("Version", r.Version + (r.Commit is { } commit ? $", commit {commit}" : ""), Judgement.None),
        ("Runtime", r.Runtime, Judgement.None),
        ("Machine", r.Machine, Judgement.None),
        ("Date", r.Started.ToUniversalTime().ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture), Judgement.None),
        ("Duration", $"{(r.DurationSeconds < Hour ? Format.Value(r.DurationSeconds, "s", 3) : Format.Value(r.DurationSeconds / Hour, "h", 3))} on {Format.Count(r.Threads)} {(r.Threads == 1 ? "thread" : "threads")}", Judgement.None),
    ];
}
