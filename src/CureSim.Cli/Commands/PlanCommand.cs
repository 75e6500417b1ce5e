using System.Text;
using CureSim.Reports.Folders;
using CureSim.Reports.Plans;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Studies.Plans;

namespace CureSim.Cli;

/// <summary>Sample sizes and factors of a pair of confidence and reliability.</summary>
internal static class PlanCommand
{
    private static readonly OptionInfo Parts = new("--parts", "N", "Your own number of parts: adds its factors and what it shows.");
    private static readonly OptionInfo Out = new("--out", "FOLDER", "Folder for the tables (CSV) and summary.json. Left out: nothing is written.");

    public static CommandInfo Info { get; } = new(
        "plan",
        "Print sample sizes and factors of a pair of confidence and reliability, for a protocol.",
        [],
        [Probability.Confidence, Probability.Reliability, Parts, Out, Options.Json, Options.Quiet],
        [
            new("curesim plan --confidence 95% --reliability 99% --parts 60", "Attribute plans, order statistics and factors; what 60 parts show."),
            new("curesim plan --out plans --json", "95 %/95 % as tables in a folder, and the document for machines."),
        ],
        Run)
    {
        More = PlanTables.Assumption + " Left out, the reliability is 95 %.",
    };

    private static int Run(Call call)
    {
        var problems = new List<string>();
        double confidence = Probability.Read(call, Probability.Confidence, 0.95, problems), reliability = Probability.Read(call, Probability.Reliability, 0.95, problems);
        if (problems.Count > 0)
        {
            throw new InputException([.. problems]);
        }

        var plans = SamplePlanTables.Of(confidence, reliability, (int?)call.Whole(Parts, 2, SamplePlanTables.MostParts));
        return Tell(call, plans);
    }

    private static int Tell(Call call, SamplePlanTables plans)
    {
        var document = PlanSummary.Of(plans);
        using var results = call.Text(Out) is null ? null : Results.Begin(call, "plan", "plan");
        if (results is not null)
        {
            results.Folder.Add("summary.json", document.ToBytes());
            RunFiles.AddTables(results.Folder, PlanTables.Of(plans).Select(p => p.Table), call.Interruption.Token);

            // There is no scenario: what the numbers follow from is the pair, whose document is the text that is hashed.
            results.Complete("plan", RunRecord.Hash(Encoding.UTF8.GetBytes(document.ToText())), "plan", 0, 0, 1, null);
        }

        if (!call.Json && !call.Quiet)
        {
            Say(call.Terminal, plans);
        }

        if (results is not null)
        {
            results.Tell(call, document, 1, null);
        }
        else if (call.Json)
        {
            call.Terminal.Say(document.ToBytes());
        }

        return ExitCode.Done;
    }

    private static void Say(Terminal terminal, SamplePlanTables plans)
    {
        foreach (var plan in PlanTables.Of(plans))
        {
            terminal.Head(plan.Caption);
            terminal.Say(AlignedText.Of(plan.Table, terminal.Letters.Of));
            terminal.SayLine(WrappedText.Of($"Source: {plan.Source}", 0, terminal.Width));
            terminal.SayLine();
        }

        terminal.SayLine(WrappedText.Of(PlanTables.Assumption, 0, terminal.Width));
    }
}
