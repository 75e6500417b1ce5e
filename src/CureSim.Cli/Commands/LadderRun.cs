namespace CureSim.Cli;

/// <summary>Limits from a dose ladder.</summary>
internal static class LadderRun
{
    public static readonly OptionInfo FromStudy = new("--from-study", "DOSES.csv", "Limits from the team's own dose ladder (CSV).");

    public static readonly OptionInfo[] Own = [FromStudy];

    public static int Run(Call call) => throw new InputException("not yet");

    public static void RefuseAlone(Call call)
    {
    }
}
