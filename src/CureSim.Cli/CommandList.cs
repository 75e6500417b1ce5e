using System.Collections.Immutable;

namespace CureSim.Cli;

/// <summary>All commands, in the order of the help. A new command is one record and one line here.</summary>
internal static class CommandList
{
    public static ImmutableArray<CommandInfo> All { get; } =
    [
        RunCommand.Info, IntervalCommand.Info, OwnershipCommand.Info, WindowCommand.Info, DriversCommand.Info, CompareCommand.Info, TraceCommand.Info, CapabilityCommand.Info, FitCommand.Info, TimeLeftCommand.Info, MakeLogCommand.Info, PlanCommand.Info, ReportCommand.Info, ShowCommand.Info, DiffCommand.Info, NewCommand.Info,
        SchemaCommand.Info, SelfCheckCommand.Info, ReproduceCommand.Info,
    ];
}
