namespace CureSim.Cli;

/// <summary>Options that several commands share.</summary>
internal static class Options
{
    public static readonly OptionInfo Json = new("--json", null, "Print one JSON document with schemaVersion instead of text.");

    public static readonly OptionInfo Quiet = new("--quiet", null, "Print nothing but errors (and the document that --json asks for).");

    public static readonly OptionInfo Seed = new("--seed", "N", "Key of every draw, instead of the scenario's run.seed.");

    public static readonly OptionInfo Lifetimes = new("--lifetimes", "N", "Simulated lifetimes (in each world), instead of the scenario's run.lifetimes.");

    public static readonly OptionInfo Precision = new(
        "--precision", "FIGURE=HALF-WIDTH",
        "Go on until half of the figure's 95 % interval is that small, instead of the scenario's run.precision, run.lifetimes (run.worlds when something is unknown): "
        + "\"ppk=0.02\", \"fraction_nonconforming=10 %\", \"median_time_to_requalify=50 h\", and the other keys of run.precision; \"at_most=200000\" caps the lifetimes.",
        Repeatable: true);

    public static readonly OptionInfo Threads = new("--threads", "N", "Threads; the results do not depend on it. Left out: one for each processor.");

    public static readonly OptionInfo Out = new("--out", "FOLDER", "Folder for the results, instead of output/<scenario>/<command>. Only an empty folder or a former result is replaced.");

    public static readonly OptionInfo Set = new("--set", "KEY=VALUE", "Override any scenario value, such as \"checks.interval=2 weeks\"; an empty value takes the key out.", Repeatable: true);

    public static readonly OptionInfo Require = new(
        "--require", null, "Exit with 1 when the required capability is missed: the 5th percentile over cells of the state index just before a check (at the end without checks) is below it.");

    public static readonly OptionInfo NoPlots = new("--no-plots", null, "Write tables, summary and report, but no plots.");

    public static readonly OptionInfo Pdf = new("--pdf", null, "Write the report as report.pdf too (A4, font embedded).");

    /// <summary>Options that say where and how to print, and change no result.</summary>
    public static readonly OptionInfo[] Presentation = [Json, Quiet, Threads, Out];
}
