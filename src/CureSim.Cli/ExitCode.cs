namespace CureSim.Cli;

/// <summary>What the tool tells the shell.</summary>
internal static class ExitCode
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>Done, and a stated requirement is missed (only with --require).</summary>
    public const int RequirementMissed = 1;

    /// <summary>Done, and it does not hold: a check missed, a record that does not come out again.</summary>
    public const int DoesNotHold = 1;

    /// <summary>Something given is wrong: the command line, a scenario, a number.</summary>
    public const int BadInput = 2;

    /// <summary>Results cannot be written.</summary>
    public const int CannotWrite = 3;

    /// <summary>A fault of the tool itself (EX_SOFTWARE of BSD sysexits).</summary>
    public const int InternalFault = 70;

    /// <summary>Interrupted: 128 + the number of SIGINT.</summary>
    public const int Interrupted = 130;

    /// <summary>One line a code, for the help.</summary>
    public const string Meaning = """
          0    done
          1    done, but what is required is missed (only with --require),
               a check is missed (self-check), or a record does not come out again (reproduce)
          2    bad input: command line or scenario
          3    results cannot be written
          70   a fault of the tool itself
          130  interrupted; nothing is left half-written
        """;
}
