using CureSim.Engine.Plan;
using CureSim.Reports.Runs;
using CureSim.Studies.Runs;

namespace CureSim.Cli;

/// <summary>Simulates a scenario and answers.</summary>
internal static class RunCommand
{
    public static CommandInfo Info { get; } = new(
        "run",
        "Simulate a scenario: dose spread, capability, time to requalify.",
        [new("SCENARIO", "Scenario file (YAML).")],
        [Options.Set, Options.Lifetimes, Options.Precision, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Options.Require, Options.Json, Options.Quiet],
        [
            new("curesim run scenarios/quick.yaml", "A first look; results in output/quick/run."),
            new("curesim run scenarios/hub-bond-lamp.yaml --set \"checks.interval=2 weeks\" --lifetimes 100 --require", "Checks every two weeks instead; exit code 1 when the required capability is missed."),
        ],
        Run)
    {
        More = "Prints the answer in about ten lines and writes tables, plots, summary.json, the resolved scenario and record.json.",
    };

    private static int Run(Call call)
    {
        var reading = ScenarioInput.Read(call, 0);
        var cell = reading.Cell!;
        if (call.Has(Options.Require) && cell.Requalification.RequiredCapability is null)
        {
            throw new InputException("--require: the scenario requires no capability (requalification.capability: none)");
        }

        int threads = Simulation.Threads(call);
        var context = ScenarioInput.ContextOf(reading, call.Argument(0)!);
        using var results = Results.Begin(call, context.FileStem, "run");
        RunAnalysis run;
        RunFindings findings;
        using (var progress = new ProgressBar(call.Terminal, "simulating", call.Quiet))
        {
            run = call.Interruption.Compute(() => RunAnalysis.RunToPrecision(new RunPlan(cell), threads, progress.Report, call.Interruption.Token));
            progress.Say("writing tables and plots");
            findings = RunFindings.Of(run, context);
            call.Interruption.Compute(() => findings.TimeModel);
            RunFiles.Add(results.Folder, findings, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(RunContent.Of(findings, !call.Has(Options.NoPlots)));
            string? ended = run.Precision is { } precision ? PrecisionText.EndedBy(precision) : null;
            results.Complete(cell, reading.Sha256, "run", run.Result.Records.Length, threads, Simulation.Rate(run), ended);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(RunAnswer.Heading(findings));
            call.Terminal.Say(RunAnswer.Of(findings));
        }

        results.Tell(call, RunSummary.Of(findings), threads, Simulation.Rate(run));
        return call.Has(Options.Require) && !findings.Requirement!.IsMet ? ExitCode.RequirementMissed : ExitCode.Done;
    }
}
