using CureSim.Engine.Block;
using CureSim.Reports.Folders;

namespace CureSim.Cli;

/// <summary>What is said when a command ends by an exception, and the exit code.</summary>
internal static class Faults
{
    /// <summary>With CURESIM_TRACE=1 the stack is shown too, for whoever looks for a fault of the tool.</summary>
    private const string TraceVariable = "CURESIM_TRACE";

    /// <summary>Tells one sentence (bad input: one line a problem) and returns the exit code.</summary>
    public static int Answer(Terminal terminal, Exception fault)
    {
        int code = Tell(terminal, fault);
        if (Environment.GetEnvironmentVariable(TraceVariable) == "1")
        {
            terminal.Tell(fault.ToString());
        }

        return code;
    }

    private static int Tell(Terminal terminal, Exception fault)
    {
        switch (fault)
        {
            case InputException input:
                foreach (string problem in input.Problems)
                {
                    terminal.Tell(input.IsLocated ? problem : $"curesim: {problem}");
                }

                return ExitCode.BadInput;
            case OperationCanceledException:
                terminal.Tell("curesim: interrupted; nothing was written");
                return ExitCode.Interrupted;
            case NotANumberException number:
                terminal.Tell($"curesim: {number.Message}");
                return ExitCode.BadInput;
            case ResultFolderException folder:
                terminal.Tell($"curesim: {folder.Message}");
                return ExitCode.CannotWrite;
            case IOException or UnauthorizedAccessException:
                terminal.Tell($"curesim: cannot write: {fault.Message}");
                return ExitCode.CannotWrite;
        }

        if (fault.GetBaseException() is OutOfMemoryException)
        {
            terminal.Tell("curesim: there is not enough memory for so many lifetimes; give fewer with --lifetimes");
            return ExitCode.BadInput;
        }

        terminal.Tell(
            $"curesim: a fault of the tool itself ({fault.GetBaseException().GetType().Name}: {fault.GetBaseException().Message}); "
            + $"please report it with the scenario and the command line; {TraceVariable}=1 shows where it happened");
        return ExitCode.InternalFault;
    }
}
