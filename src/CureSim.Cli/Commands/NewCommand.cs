using CureSim.Scenarios;

namespace CureSim.Cli;

/// <summary>A commented starting file.</summary>
internal static class NewCommand
{
    private static readonly OptionInfo Out = new("--out", "FILE", "File to write, instead of printing. An existing file is never overwritten.");

    public static CommandInfo Info { get; } = new(
        "new",
        "Print a commented scenario to start from.",
        [new("KIND", "arc-lamp or led. Left out: arc-lamp.", Required: false)],
        [Out],
        [
            new("curesim new --out cell.yaml", "A cell with an arc lamp, every key explained."),
            new("curesim new led --out cell.yaml", "A cell with LED heads."),
        ],
        Run);

    private static int Run(Call call)
    {
        string given = call.Argument(0) ?? "arc-lamp";
        string[] names = [.. NewScenario.Kinds.Select(NameOf)];
        string kind = NewScenario.Kinds.FirstOrDefault(k => NameOf(k) == given)
            ?? throw new InputException($"KIND: found \"{given}\"; accepted: {string.Join(" or ", names)}"
                + (NearestName.Of(given, names) is { } near ? $"; did you mean \"{near}\"?" : ""));
        string text = NewScenario.Write(kind);
        if (call.Text(Out) is { } path)
        {
            TextFile.Write(path, text, replace: _ => false);
            call.Terminal.SayLine($"{path} is written: replace its numbers with your own, then \"curesim show {path}\"");
            return ExitCode.Done;
        }

        call.Terminal.Say(System.Text.Encoding.UTF8.GetBytes(text));
        return ExitCode.Done;
    }

    private static string NameOf(string kind) => kind.ToLowerInvariant().Replace(' ', '-');
}
