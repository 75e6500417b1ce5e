using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Reports.Assurance;
using CureSim.Studies.Assurance;

namespace CureSim.Cli;

/// <summary>Simulates the qualification plans of a scenario and tells their assurance: "plan" with a scenario.</summary>
internal static class AssurancePlan
{
    /// <summary>Runs it.</summary>
    /// <param name="call">The call of <see cref="PlanCommand"/>.</param>
    /// <param name="argument">Place of the scenario among the arguments.</param>
    public static int Run(Call call, int argument)
    {
        var reading = ScenarioInput.Read(call, argument);
        var cell = reading.Cell!;

        // Chances are counted over lifetimes, which must be independent of each other.
        cell = cell with { Run = cell.Run with { Sampling = Sampling.Independent } };
        int threads = Simulation.Threads(call);
        var context = ScenarioInput.ContextOf(reading, call.Argument(argument)!);
        using var results = Results.Begin(call, context.FileStem, "plan");
        AssuranceStudy study;
        double? rate;
        using (var progress = new ProgressBar(call.Terminal, "simulating", call.Quiet))
        {
            study = call.Interruption.Compute(() => AssuranceStudy.Run(new RunPlan(cell), threads, progress.Report, call.Interruption.Token));
            RefuseWhatCannotBeDone(study);
            progress.Say("writing tables and plots");
            AssuranceFiles.Add(results.Folder, study, context, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            double seconds = study.Result.Elapsed.TotalSeconds;
            rate = seconds > 0.0 ? study.Result.BondExposures / seconds : null;
            results.Report(AssuranceContent.Of(study, context, !call.Has(Options.NoPlots)));
            results.Complete(cell, reading.Sha256, "plan", study.Result.Records.Length, threads, rate);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(AssuranceAnswer.Heading(study));
            call.Terminal.Say(AssuranceAnswer.Of(study));
        }

        results.Tell(call, AssuranceSummary.Of(study, context.Sha256), threads, rate);
        return ExitCode.Done;
    }

    private static void RefuseWhatCannotBeDone(AssuranceStudy study)
    {
        string[] problems = [.. study.Plans.Where(p => p.Own.Withheld is not null).Select(p =>
            $"plan \"{p.Rule.Plan.Name}\": {p.Own.Withheld} ({p.Own.Label}; {p.Rule.Plan.Parts} parts); ask for fewer, or write a longer production.horizon")];
        if (problems.Length > 0)
        {
            throw new InputException([.. problems]);
        }
    }
}
