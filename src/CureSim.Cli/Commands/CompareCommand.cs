using CureSim.Engine.Plan;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Scenarios;
using CureSim.Studies.Compare;
using CureSim.Studies.Runs;

namespace CureSim.Cli;

/// <summary>Simulates two scenarios over the same lifetimes and sets them side by side.</summary>
internal static class CompareCommand
{
    public static CommandInfo Info { get; } = new(
        "compare",
        "Compare two scenarios over the same lifetimes, figure by figure.",
        [new("A", "First scenario file."), new("B", "Second scenario file.")],
        [Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Options.Json, Options.Quiet],
        [
            new("curesim compare scenarios/hub-bond-lamp.yaml scenarios/hub-bond-led.yaml --lifetimes 100", "The same bond under an arc lamp and under LED heads."),
            new("curesim compare old.yaml new.yaml --set \"checks.interval=2 weeks\"", "Overrides hold for both."),
        ],
        Run)
    {
        More = "What both scenarios share is drawn alike in both (common random numbers), so the difference B − A is known better than either figure. "
            + "Worlds, lifetimes and seed are those of the scenario with more worlds, of A when they have as many.",
    };

    private static int Run(Call call)
    {
        string pathA = call.Argument(0)!, pathB = call.Argument(1)!;
        ScenarioReading a = Read(call, 0, out var problemsA), b = Read(call, 1, out var problemsB);
        if (problemsA.Length + problemsB.Length > 0)
        {
            throw new InputException([.. problemsA, .. problemsB]) { IsLocated = true };
        }

        int threads = Simulation.Threads(call);
        var settings = PairedComparison.SharedSettings(a.Cell!.Run, b.Cell!.Run);
        var cells = (A: a.Cell with { Run = settings with { PartsAStep = a.Cell.Run.PartsAStep } }, B: b.Cell with { Run = settings with { PartsAStep = b.Cell.Run.PartsAStep } });
        string stemA = ScenarioInput.StemOf(pathA);
        using var results = Results.Begin(call, stemA, "compare-" + ScenarioInput.StemOf(pathB));
        RunAnalysis Simulate(Core.Cell.Scenario cell, string name)
        {
            using var progress = new ProgressBar(call.Terminal, $"simulating {name}", call.Quiet);
            return call.Interruption.Compute(() => RunAnalysis.Run(new RunPlan(cell), threads, progress.Report, call.Interruption.Token));
        }

        RunAnalysis runA = Simulate(cells.A, "A"), runB = Simulate(cells.B, "B");
        ComparedRuns compared;
        using (var progress = new ProgressBar(call.Terminal, "comparing, writing tables and plots", call.Quiet))
        {
            compared = call.Interruption.Compute(() => new ComparedRuns(
                PairedComparison.Of(runA, runB),
                RunFindings.Of(runA, ScenarioInput.ContextOf(a, pathA)),
                RunFindings.Of(runB, ScenarioInput.ContextOf(b, pathB)),
                [.. ScenarioDiff.Compare(a, b).Select(d => new DifferenceRow(d.Path, d.First, d.Second, d.Meaning))]));
            CompareFiles.Add(results.Folder, compared, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(CompareContent.Of(compared, !call.Has(Options.NoPlots)));
            results.Complete(cells.A, a.Sha256, "compare", 2L * runA.Result.Records.Length, threads, null);
        }

        if (!call.Json && !call.Quiet)
        {
            Say(call.Terminal, compared);
        }

        results.Tell(call, CompareSummary.Of(compared), threads, null);
        return ExitCode.Done;
    }

    // Both are read before anything is refused, so that all problems are told at once.
    private static ScenarioReading Read(Call call, int argument, out string[] problems)
    {
        try
        {
            problems = [];
            return ScenarioInput.Read(call, argument);
        }
        catch (InputException e)
        {
            problems = [.. e.Problems];
            return new(null, [], [], [], "", "");
        }
    }

    private static void Say(Terminal terminal, ComparedRuns compared)
    {
        terminal.Head($"A: {compared.A.Run.Scenario.Name}");
        terminal.Head($"B: {compared.B.Run.Scenario.Name}");
        var run = compared.A.Run.Scenario.Run;
        terminal.SayLine(FormattableString.Invariant($"Both over the same lifetimes: {run.Worlds} x {run.LifetimesPerWorld}, seed {run.Seed}"));
        terminal.SayLine();
        terminal.Say(AlignedText.Of(CompareTables.Answer(compared), terminal.Letters.Of));
        terminal.SayLine();
        terminal.Say(AlignedText.Of(CompareTables.BudgetAnswer(compared), terminal.Letters.Of));
        if (compared.BandChanges)
        {
            terminal.SayLine(ComparedRuns.BandRemark);
        }

        foreach (string caution in compared.Cautions())
        {
            terminal.SayLine("Caution: " + caution);
        }
    }
}
