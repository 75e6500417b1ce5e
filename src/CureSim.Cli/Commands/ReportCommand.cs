using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;

namespace CureSim.Cli;

/// <summary>Joins the reports of several folders of results into one dossier, without computing anything again.</summary>
internal static class ReportCommand
{
    private static readonly OptionInfo Title = new("--title", "TEXT", "Name of the dossier. Left out: that of the first scenario.");

    private static readonly OptionInfo Out = Options.Out with { Meaning = "Folder for the dossier, instead of output/<first scenario>/dossier. Only an empty folder or a former result is replaced." };

    public static CommandInfo Info { get; } = new(
        "report",
        "Join the reports of several studies of a cell into one dossier, as a page and as PDF.",
        [new("FOLDER", "Folders of results, each with record.json and report.json; they are only read.", Least: 1, Most: Dossier.MostParts)],
        [Title, Options.Pdf, Out, Options.Json, Options.Quiet],
        [
            new("curesim report output/quick/run output/quick/interval --pdf", "One page and one PDF of both studies, with contents and numbered figures."),
            new("curesim report output/quick/run --title \"Line 3, lens bond\" --out dossier", "The report of one folder again, under another name."),
        ],
        Run)
    {
        More = "Nothing is simulated: the dossier is made from report.json of each folder. A folder whose record or report was changed since it was written is refused.",
    };

    private static int Run(Call call)
    {
        var dossier = Dossier.Read(call.Series(0), call.Text(Title), out var problems) ?? throw new InputException([.. problems]) { IsLocated = true };
        if (!dossier.IsOfOneCell)
        {
            call.Terminal.Tell($"curesim: to think about: the studies are of different scenarios ({string.Join("; ", dossier.Parts.Select(p => p.Record.Scenario).Distinct())})");
        }

        string stem = ResultName.Fault(Slug(dossier.Parts[0].Folder!)) is null ? Slug(dossier.Parts[0].Folder!) : "dossier";
        using var results = Results.Begin(call, stem, "dossier");
        using (new ProgressBar(call.Terminal, "writing the dossier", call.Quiet))
        {
            results.Folder.Add(ReportFiles.Page, dossier.Page());
            if (call.Has(Options.Pdf))
            {
                results.Folder.Add(ReportFiles.Pdf, dossier.Pdf());
            }

            results.Folder.Add("summary.json", dossier.Document().ToBytes());
            results.Complete("report", dossier.Title, 1);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head($"{dossier.Title}: {dossier.Parts.Length} {(dossier.Parts.Length == 1 ? "study" : "studies")}");
            call.Terminal.Say((AnswerLine[])[.. dossier.Parts.Select(p => new AnswerLine(p.Content.Command, p.Content.Decision,
                p.Content.Judgement switch { Judgement.Met => AnswerTone.Met, Judgement.Missed => AnswerTone.Missed, _ => AnswerTone.Plain }))]);
        }

        results.Tell(call, dossier.Document(), 1, null);
        return ExitCode.Done;
    }

    // "quick/run" is a study of quick: its dossier lies beside it.
    private static string Slug(string folder) => folder.Split('/')[0];
}
