using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using System.CommandLine.Parsing;

namespace CureSim.Cli;

/// <summary>Makes the parser from the table of commands, and runs the command that was given.</summary>
internal sealed class CommandTree
{
    private readonly Terminal terminal;
    private readonly ImmutableArray<CommandInfo> commands;
    private readonly RootCommand root;

    /// <summary>Builds the tree.</summary>
    public CommandTree(ImmutableArray<CommandInfo> commands, Terminal terminal, Interruption interruption)
    {
        this.commands = commands;
        this.terminal = terminal;
        root = new RootCommand(HelpText.Purpose);
        var help = new HelpText(commands, terminal);
        Replace(root, help);
        foreach (var info in commands)
        {
            var command = new Command(info.Name, info.Purpose);
            foreach (var argument in info.Arguments)
            {
                if (argument.IsSeries)
                {
                    command.Add(new Argument<string[]>(argument.Name) { Description = argument.Meaning, Arity = new ArgumentArity(argument.Least, argument.Most) });
                    continue;
                }

                command.Add(new Argument<string?>(argument.Name) { Description = argument.Meaning, Arity = argument.Required ? ArgumentArity.ExactlyOne : ArgumentArity.ZeroOrOne });
            }

            foreach (var option in info.Options)
            {
                command.Add(OptionOf(option));
            }

            command.SetAction(parsed => info.Run(new Call(parsed, info, terminal, interruption)));
            root.Add(command);
        }
    }

    /// <summary>Parses and runs; exceptions of the command pass through.</summary>
    public int Run(IReadOnlyList<string> arguments)
    {
        // A token "@name" is an argument like any other here, not a file of further arguments.
        var parsed = root.Parse(arguments, new ParserConfiguration { ResponseFileTokenReplacer = null, EnablePosixBundling = false });
        if (arguments.Count == 0)
        {
            new HelpText(commands, terminal).Write(root, terminal.Error);
            return ExitCode.BadInput;
        }

        if (parsed.Errors.Count > 0 && parsed.Action is ParseErrorAction)
        {
            throw new InputException(Problems(parsed));
        }

        return parsed.Invoke(new InvocationConfiguration
        {
            EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null, Output = terminal.Output, Error = terminal.Error,
        });
    }

    private ImmutableArray<string> Problems(ParseResult parsed)
    {
        var command = commands.FirstOrDefault(c => c.Name == parsed.CommandResult.Command.Name);
        string where = command is null ? "" : $" of \"{command.Name}\"";
        string[] options = command is null ? ["--help", "--version"] : [.. command.Options.Select(o => o.Name), "--help"];
        string advice = command is null ? "see \"curesim --help\"" : $"see \"curesim {command.Name} --help\"";
        string[] unknown = [.. parsed.UnmatchedTokens.Where(t => t.Length > 1 && t[0] == '-')];
        if (unknown.Length > 0)
        {
            // What follows an unknown option is probably its value, not a problem of its own.
            return [.. unknown.Select(t => $"unknown option \"{t}\"{where}; {Meant(t, options, advice)}")];
        }

        if (command is null && parsed.UnmatchedTokens.Count > 0)
        {
            return [$"unknown command \"{parsed.UnmatchedTokens[0]}\"; {Meant(parsed.UnmatchedTokens[0], commands.Select(c => c.Name), advice)}"];
        }

        if (parsed.UnmatchedTokens.Count > 0)
        {
            return [.. parsed.UnmatchedTokens.Select(t => $"\"{t}\" is one argument too many{where}; {advice}")];
        }

        return [.. parsed.Errors.Select(e => e.SymbolResult is ArgumentResult { Parent: CommandResult } missing
            ? $"{missing.Argument.Name}{where} is missing; {advice}"
            : $"{e.Message.TrimEnd('.')}; {advice}")];
    }

    private static string Meant(string given, IEnumerable<string> known, string advice) =>
        NearestName.Of(given, known) is { } near ? $"did you mean \"{near}\"?" : advice;

    private static Option OptionOf(OptionInfo info) => info switch
    {
        { Value: null } => new Option<bool>(info.Name) { Description = info.Meaning, Arity = ArgumentArity.Zero },
        { Repeatable: true } => new Option<string[]>(info.Name) { Description = info.Meaning, HelpName = info.Value },
        _ => new Option<string?>(info.Name) { Description = info.Meaning, HelpName = info.Value },
    };

    // The help option is recursive: one action serves every command.
    private static void Replace(RootCommand root, HelpText help)
    {
        foreach (var option in root.Options.OfType<HelpOption>())
        {
            option.Action = help;
        }
    }
}
