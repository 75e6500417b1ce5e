using System.Collections.Immutable;
using System.Text;
using CureSim.Reports.Folders;
using CureSim.Reports.Plans;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Studies.Plans;

namespace CureSim.Cli;

/// <summary>Sample sizes and factors of a pair of confidence and reliability; with a scenario, the assurance of its qualification plans.</summary>
internal static class PlanCommand
{
    private static readonly OptionInfo Parts = new("--parts", "N", "Without a scenario: your own number of parts; adds its factors and what it shows.");
    private static readonly OptionInfo Out = new("--out", "FOLDER", "Folder for the results. Left out: output/<scenario>/plan, or nothing is written without a scenario.");
    private static readonly ImmutableArray<OptionInfo> OfTables = [Probability.Confidence, Probability.Reliability, Parts];
    private static readonly ImmutableArray<OptionInfo> OfSimulation = [Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.NoPlots];

    public static CommandInfo Info { get; } = new(
        "plan",
        "Sample sizes for a protocol; with a scenario, the chance that its qualification passes.",
        [new("SCENARIO", "Scenario file (YAML) whose qualification block holds the plans. Left out: tables of sample sizes and factors.", Required: false)],
        [.. OfTables, .. OfSimulation, Out, Options.Pdf, Options.Json, Options.Quiet],
        [
            new("curesim plan --confidence 95% --reliability 99% --parts 60", "Attribute plans, order statistics and factors; what 60 parts show."),
            new("curesim plan scenarios/qualification.yaml", "The chance that a plan passes, and that it passes while the cell is not good."),
        ],
        Run)
    {
        More = PlanTables.Assumption + " Left out, confidence and reliability are 95 %. With a scenario the qualification itself is simulated: its parts share emitter, set-up, lots and meter, "
            + "so a plan proves less than its textbook says, and every plan is also shown with its parts spread over more set-ups, lots and emitter ages. The plans are then those of the scenario.",
    };

    private static int Run(Call call)
    {
        bool simulates = call.Argument(0) is not null;
        string[] astray = [.. (simulates ? OfTables : OfSimulation).Where(o => Given(call, o)).Select(o => simulates
            ? $"{o.Name}: with a scenario the plans are those of its qualification block; change them with --set, such as --set qualification.1.parts=60"
            : $"{o.Name} needs a scenario: curesim plan SCENARIO {o.Name}")];
        if (astray.Length > 0)
        {
            throw new InputException([.. astray]);
        }

        return simulates ? AssurancePlan.Run(call, 0) : Print(call);
    }

    private static bool Given(Call call, OptionInfo option) =>
        option.Value is null ? call.Has(option) : option.Repeatable ? call.Texts(option).Length > 0 : call.Text(option) is not null;

    private static int Print(Call call)
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

            results.Report(PlanContent.Of(plans));

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
