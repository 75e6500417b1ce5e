using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Invocation;
using System.Text;

namespace CureSim.Cli;

/// <summary>The help, written from the table of commands.</summary>
internal sealed class HelpText(ImmutableArray<CommandInfo> commands, Terminal terminal) : SynchronousCommandLineAction
{
    /// <summary>What the tool is for.</summary>
    public const string Purpose = "Simulates UV-cured bonding cells by the Monte Carlo method: how the dose spreads, how capable the process is and stays, and when a cell must be requalified.";

    private const string Caution = "Caution: UV light injures eyes and skin; lamps are hot, pressurised and contain mercury. A simulation replaces no measurement and no protection.";
    private const int Indent = 2;

    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        Write(parseResult.CommandResult.Command, terminal.Output);
        return ExitCode.Done;
    }

    /// <summary>Writes the help of a command or of the tool.</summary>
    public void Write(Command command, TextWriter to) =>
        to.Write(terminal.Letters.Of(commands.FirstOrDefault(c => c.Name == command.Name) is { } info ? Of(info) : OfTool()));

    private string OfTool()
    {
        var text = new StringBuilder();
        Paragraph(text, Purpose, 0);
        text.Append("\nUsage:\n  curesim COMMAND [options]\n\nCommands:\n");
        Rows(text, [.. commands.Select(c => (string.Join(' ', [c.Name, .. c.Arguments.Select(Shown)]), c.Purpose)), ("COMMAND --help", "Options of a command, and two examples.")]);
        text.Append("\nOptions:\n");
        Rows(text, [("--help, -h", "This help."), ("--version", "Version and source commit.")]);
        text.Append("\nExit codes:\n").Append(ExitCode.Meaning).Append("\n\n");
        Paragraph(text, Caution, 0);
        return text.ToString();
    }

    private string Of(CommandInfo info)
    {
        var text = new StringBuilder();
        Paragraph(text, info.Purpose, 0);
        if (info.More is { } more)
        {
            Paragraph(text, more, 0);
        }

        text.Append("\nUsage:\n  curesim ").Append(string.Join(' ', [info.Name, .. info.Arguments.Select(Shown), "[options]"])).Append('\n');
        if (!info.Arguments.IsEmpty)
        {
            text.Append("\nArguments:\n");
            Rows(text, [.. info.Arguments.Select(a => (a.Name, a.Meaning))]);
        }

        text.Append("\nOptions:\n");
        Rows(text, [.. info.Options.Select(o => (o.Value is null ? o.Name : $"{o.Name} {o.Value}", o.Meaning + (o.Repeatable ? " May be repeated." : ""))), ("--help, -h", "This help.")]);
        text.Append("\nExamples:\n");
        foreach (var example in info.Examples)
        {
            text.Append("  ").Append(example.Line).Append('\n');
            Paragraph(text, example.Says, 6);
        }

        return text.ToString();
    }

    private static string Shown(ArgumentInfo argument) => argument.IsSeries ? $"{argument.Name}..." : argument.Required ? argument.Name : $"[{argument.Name}]";

    private void Rows(StringBuilder text, IReadOnlyList<(string Left, string Right)> rows)
    {
        int column = Indent + rows.Max(r => r.Left.Length) + 2;
        foreach (var (left, right) in rows)
        {
            text.Append(' ', Indent).Append(left.PadRight(column - Indent));
            Paragraph(text, right, column, started: true);
        }
    }

    private void Paragraph(StringBuilder text, string words, int indent, bool started = false) =>
        text.Append(' ', started ? 0 : indent).Append(WrappedText.Of(words, indent, terminal.Width)).Append('\n');
}
