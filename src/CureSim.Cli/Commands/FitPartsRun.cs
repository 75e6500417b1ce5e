using CureSim.Core.Statistics;
using CureSim.Reports.Fit;
using CureSim.Scenarios;
using CureSim.Studies.Fit;

namespace CureSim.Cli;

/// <summary>fit --parts: a distribution of measured parts.</summary>
internal static class FitPartsRun
{
    /// <summary>Name of the file's copy in a folder of results.</summary>
    public const string Copy = "parts.csv";

    public static int Run(Call call)
    {
        OptionInfo[] others = [LogInput.HoursAWeek, LogInput.StartHours, FitCommand.Quantity, FitCommand.Forms, FitCommand.Into, Options.Set, Options.Lifetimes, Options.Seed];
        string[] problems = [.. others.Where(o => o.Repeatable ? call.Texts(o).Length > 0 : call.Text(o) is not null).Select(o => $"{o.Name}: it goes with a log, not with --parts")];
        string[] columns = call.Texts(LogInput.Column);
        var reading = SampleFile.Read(call.Argument(0)!, new(columns.Length > 0 ? columns[0][(columns[0].IndexOf('=', StringComparison.Ordinal) + 1)..].Trim() : null, null, call.Text(LogInput.UnitOfReading)));
        if (reading.Sample is not { } sample || problems.Length > 0)
        {
            throw new InputException([.. reading.Problems.Select(p => p.ToString()), .. problems]) { IsLocated = !reading.Problems.IsEmpty };
        }

        var context = new PartContext(ScenarioInput.StemOf(call.Argument(0)!), Path.GetFileName(sample.File), sample.Sha256, sample.Header, sample.Name, sample.Unit.Shown);
        using var results = Results.Begin(call, context.Stem, "fit");
        context = context with { Copied = results.Keep(Copy, call.Argument(0)!, sample.Sha256) };
        PartFit fit;
        using (var progress = new ProgressBar(call.Terminal, "fitting, writing tables and plots", call.Quiet))
        {
            fit = call.Interruption.Compute(() => PartFit.Of(sample.Values));
            PartFitFiles.Add(results.Folder, fit, context, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(PartFitContent.Of(fit, context, !call.Has(Options.NoPlots)));
            results.Complete(context.Stem, context.Sha256, "fit", SampleLaws.Seed, 0, 1, null);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(PartFitFiles.Heading(fit, context));
            call.Terminal.Say(PartFitFiles.Answer(fit, context));
        }

        results.Tell(call, PartFitFiles.Summary(fit, context), 1, null);
        return ExitCode.Done;
    }
}
