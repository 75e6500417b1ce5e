using CureSim.Reports.Capability;
using CureSim.Studies.Capability;

namespace CureSim.Cli;

/// <summary>Judges a user's own measured sample against limits.</summary>
internal static class CapabilityCommand
{
    public static readonly OptionInfo Require = new("--require", null, "Exit with 1 when the index of --capability is not shown.");

    public static CommandInfo Info { get; } = new(
        "capability",
        "Judge your own measured sample against limits: indices, normality, fraction outside, tolerance interval.",
        [new("PARTS.csv", "Measured values (CSV, UTF-8); the unit stands in the header: \"dose [J/cm2]\" or dose_j_per_cm2.")],
        [
            CapabilityInput.Lower, CapabilityInput.Upper, CapabilityInput.Target, CapabilityInput.Column, CapabilityInput.Group, CapabilityInput.UnitOfColumn, CapabilityInput.Index, Require,
            Probability.Confidence, Probability.Reliability, CapabilityInput.Uncertainty, CapabilityInput.CoverageFactor, Options.Out, Options.NoPlots, Options.Pdf, Options.Json, Options.Quiet,
        ],
        [
            new("curesim capability scenarios/samples/hub-bond-dose.csv --lower \"5 J/cm2\" --upper \"11 J/cm2\" --target \"7 J/cm2\" --group setup", "An invented sample in groups; results in output/hub-bond-dose/capability."),
            new("curesim capability strength.csv --lower \"12 MPa\" --capability 1.33 --require --uncertainty \"3 %\"", "One limit; exit code 1 unless the sample shows Ppk 1.33."),
        ],
        Run)
    {
        More = "Every figure comes with its interval, or is withheld with the number of values that would be enough. The intervals hold for independent values; "
            + "values of one setup share lamp, lot and meter and show less than their number says. Left out, the reliability of the tolerance interval is 99 %.",
    };

    private static int Run(Call call)
    {
        var (sample, settings, context) = CapabilityInput.Read(call);
        using var results = Results.Begin(call, context.Stem, "capability");
        context = context with { Copied = results.Keep(FitPartsRun.Copy, call.Argument(0)!, context.Sha256) };
        CapabilityAnalysis analysis;
        using (var progress = new ProgressBar(call.Terminal, "judging, writing tables and plots", call.Quiet))
        {
            analysis = call.Interruption.Compute(() => CapabilityAnalysis.Of(sample, settings));
            CapabilityFiles.Add(results.Folder, analysis, context, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(CapabilityContent.Of(analysis, context, !call.Has(Options.NoPlots)));
            results.Complete(context.Stem, context.Sha256, "capability", PercentileFinding.Seed, 0, 1, null);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(CapabilityAnswer.Heading(analysis, context));
            call.Terminal.Say(CapabilityAnswer.Of(analysis, context));
        }

        results.Tell(call, CapabilitySummary.Of(analysis, context), 1, null);
        return call.Has(Require) && !analysis.Requirement!.IsShown ? ExitCode.RequirementMissed : ExitCode.Done;
    }
}
