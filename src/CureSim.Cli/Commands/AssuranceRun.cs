using CureSim.Engine.Plan;
using CureSim.Reports.Assurance;
using CureSim.Studies.Assurance;

namespace CureSim.Cli;

/// <summary>Simulates the qualification plans of a scenario and tells their assurance.</summary>
internal static class AssurancePlan
{
    /// <summary>Options that the command needs.</summary>
    public static CommandInfo Info { get; } = new(
        "assurance",
        "Simulate the qualification itself: the chance that a plan passes, and that it passes while the cell is not good.",
        [new("SCENARIO", "Scenario file (YAML); its qualification block holds the plans.")],
        [Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Json, Options.Quiet],
        [
            new("curesim assurance scenarios/quick.yaml", "A success run and a tolerance interval, both 95 % and 95 %, in one set-up and spread over more."),
            new("curesim assurance scenarios/qualification.yaml --set qualification.1.setups=3", "The first plan over three set-ups instead."),
        ],
        call => Run(call, 0))
    {
        More = "Parts of one qualification share emitter, set-up, lots and meter, so a plan proves less than its textbook says; every plan is also shown with its parts spread over more set-ups, lots and emitter ages.",
    };

    /// <summary>Runs it.</summary>
    /// <param name="call">The call, with the options of <see cref="Info"/>.</param>
    /// <param name="argument">Place of the scenario among the arguments.</param>
    public static int Run(Call call, int argument)
    {
        var reading = ScenarioInput.Read(call, argument);
        var cell = reading.Cell!;
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
