using System.Collections.Immutable;
using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.SelfCheck;

namespace CureSim.Cli;

/// <summary>How a command is run again from what its folder of results holds.</summary>
/// <param name="Command">The command's word.</param>
/// <param name="Inputs">Files of the folder that take the places of the command's arguments, in their order.</param>
/// <param name="Options">Options of the record that are given again. Others of the record are either in the inputs already (<see cref="InTheInputs"/>), or
/// say nothing about the files; any other is refused.</param>
internal sealed record Rerun(string Command, ImmutableArray<string> Inputs, ImmutableArray<OptionInfo> Options)
{
    /// <summary>Files that hold date or machine and so are never the same twice.</summary>
    public ImmutableArray<string> Dated { get; init; } = [ReportFiles.Pdf];

    /// <summary>Names of files that take the place of a series of arguments, by number from 0; as many as the folder holds. Null: the command takes none.</summary>
    public Func<int, string>? Series { get; init; }

    /// <summary>True when the user's data files of the record come after the inputs.</summary>
    public bool TakesData { get; init; }

    /// <summary>An option that names the user's data file, in the place of an argument; results that were made without it are run again by another line. Null: the data file is an argument.</summary>
    public OptionInfo? DataOption { get; init; }

    /// <summary>An option that names a file, and the file of the folder that takes its place.</summary>
    public (OptionInfo Option, string File)? OptionInput { get; init; }

    /// <summary>The inputs that a folder holds.</summary>
    public ImmutableArray<string> InputsIn(Func<string, bool> holds) => Series is null ? Inputs : [.. Inputs, Series(0), .. Enumerable.Range(1, 99).Select(Series).TakeWhile(holds)];

    /// <summary>Commands whose results can be made again. A new command is one line here.</summary>
    public static ImmutableArray<Rerun> All { get; } =
    [
        new("run", ["scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf]),
        new("compare", ["scenario.yaml", "other-scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf]),
        new("plan", ["scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf]),
        new("interval", ["scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf, IntervalCommand.Only]),
        new("drivers", ["scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf, DriversCommand.Site, DriversCommand.Points]),
        new("ownership", [], [Cli.Options.NoPlots, Cli.Options.Pdf, OwnershipCommand.Only, OwnershipCommand.Sites]) { Series = Reports.Ownership.OwnershipFiles.Scenario },
        new("window", ["scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf, WindowCommand.AlongAxis, WindowCommand.UpAxis, WindowCommand.MapOnly, WindowCommand.EveryNode]),
        new("window", [], [Cli.Options.NoPlots, Cli.Options.Pdf, LadderRun.AtLeast, WindowCommand.Risk]) { TakesData = true, DataOption = LadderRun.FromStudy },
        new("capability", [],
            [
                Cli.Options.NoPlots, Cli.Options.Pdf, CapabilityInput.Lower, CapabilityInput.Upper, CapabilityInput.Target, CapabilityInput.Column, CapabilityInput.Group, CapabilityInput.UnitOfColumn, CapabilityInput.Index,
                Probability.Confidence, Probability.Reliability, CapabilityInput.Uncertainty, CapabilityInput.CoverageFactor,
            ]) { TakesData = true },
        new("trace", ["scenario.yaml"], [TraceCommand.Lifetime, TraceCommand.World, Cli.Options.Pdf]),
        new("make-log", ["scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf, TraceCommand.Lifetime, TraceCommand.World, MakeLogCommand.Repeats, MakeLogCommand.Until]),
        new("fit", [],
            [Cli.Options.NoPlots, Cli.Options.Pdf, FitCommand.Parts, .. LogInput.All, FitCommand.Quantity, FitCommand.Forms, FitCommand.AsItIs]) { TakesData = true, OptionInput = (FitCommand.Into, "scenario.yaml") },
        new("time-left", ["scenario.yaml"], [Cli.Options.NoPlots, Cli.Options.Pdf, .. LogInput.All, TimeLeftCommand.Simulated]) { TakesData = true },
        new(SelfCheckFiles.Name, [], [SelfCheckCommand.Topic, SelfCheckCommand.Id]) { Dated = SelfCheckFiles.Dated },
    ];

    /// <summary>Options that the resolved scenario holds.</summary>
    private static ImmutableArray<OptionInfo> InTheInputs { get; } = [Cli.Options.Set, Cli.Options.Seed, Cli.Options.Lifetimes, Cli.Options.Precision, IntervalCommand.Candidates, WindowCommand.Risk];

    /// <summary>Options that change what is printed or the exit code, and no file.</summary>
    private static ImmutableArray<OptionInfo> OfPrinting { get; } = [Cli.Options.Require, TraceCommand.Events, SelfCheckCommand.Summary];

    /// <summary>How a record is run again.</summary>
    /// <exception cref="InputException">Its command is unknown, or is one whose results cannot be made again.</exception>
    public static Rerun Of(RunRecord record) => All.Where(r => r.Command == record.Command && (r.DataOption is null || record.Options.Contains(r.DataOption.Name))).MaxBy(r => r.DataOption is not null)
        ?? throw new InputException(CommandList.All.Any(c => c.Name == record.Command)
            ? $"results of \"{record.Command}\" cannot be made again from their folder; accepted: {string.Join(", ", All.Select(r => r.Command).Distinct())}"
            : $"the record is of a command \"{record.Command}\" that this version does not have");

    /// <summary>The command line that makes the results again.</summary>
    /// <param name="record">The record.</param>
    /// <param name="inputs">Where the inputs are, in the order of <see cref="Inputs"/>.</param>
    /// <param name="folder">Where the results go.</param>
    /// <param name="threads">Threads.</param>
    /// <param name="optionInput">Where the file of <see cref="OptionInput"/> or <see cref="DataOption"/> is; null for none.</param>
    /// <exception cref="InputException">The record has an option that a rerun must not be given.</exception>
    public ImmutableArray<string> Arguments(RunRecord record, IEnumerable<string> inputs, string folder, int threads, string? optionInput = null)
    {
        var again = new List<string>();
        var given = record.Options;
        var file = DataOption ?? OptionInput?.Option;
        for (int i = 0; i < given.Length; i++)
        {
            var option = Options.Concat(InTheInputs).Concat(OfPrinting).Concat(file is not null ? [file] : (OptionInfo[])[]).FirstOrDefault(o => o.Name == given[i])
                ?? throw new InputException($"the record has an option \"{given[i]}\" that \"{Command}\" is not given again");
            if (option.Value is not null && i + 1 >= given.Length)
            {
                throw new InputException($"the record has an option \"{given[i]}\" without its value");
            }

            string[] tokens = option.Value is null ? [option.Name] : [$"{option.Name}={given[++i]}"];
            if (Options.Contains(option))
            {
                again.AddRange(tokens);
            }
            else if (option == file && optionInput is not null)
            {
                again.Add($"{option.Name}={optionInput}");
            }
        }

        return
        [
            Command, .. again, Cli.Options.Out.Name, folder, Cli.Options.Quiet.Name, .. HasThreads ? [Cli.Options.Threads.Name, threads.ToString(System.Globalization.CultureInfo.InvariantCulture)] : (string[])[],
            "--", .. inputs,
        ];
    }

    private bool HasThreads => CommandList.All.Single(c => c.Name == Command).Options.Any(o => o.Name == Cli.Options.Threads.Name);
}
