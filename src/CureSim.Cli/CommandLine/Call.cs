using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;

namespace CureSim.Cli;

/// <summary>A command as it was given, with the terminal it answers to.</summary>
internal sealed class Call(ParseResult parsed, CommandInfo command, Terminal terminal, Interruption interruption)
{
    /// <summary>The command.</summary>
    public CommandInfo Command { get; } = command;

    /// <summary>Where answers go.</summary>
    public Terminal Terminal { get; } = terminal;

    /// <summary>Whether the user wants to stop.</summary>
    public Interruption Interruption { get; } = interruption;

    /// <summary>True with --json.</summary>
    public bool Json => Has(Options.Json);

    /// <summary>True with --quiet.</summary>
    public bool Quiet => Has(Options.Quiet);

    /// <summary>The options that were given, each value after its option; without those that only say where and how to print.</summary>
    public ImmutableArray<string> Given =>
    [
        .. Command.Options.ExceptBy(Options.Presentation.Select(p => p.Name), o => o.Name).SelectMany(o => o switch
        {
            { Value: null } => Has(o) ? [o.Name] : (string[])[],
            { Repeatable: true } => Texts(o).SelectMany(t => (string[])[o.Name, t]),
            _ => Text(o) is { } text ? [o.Name, text] : [],
        }),
    ];

    /// <summary>An argument; null when it was left out.</summary>
    public string? Argument(int place) => parsed.GetValue<string?>(Command.Arguments[place].Name);

    /// <summary>The arguments of a series.</summary>
    public string[] Series(int place) => parsed.GetValue<string[]>(Command.Arguments[place].Name) ?? [];

    /// <summary>True when a switch was given; false when the command does not have it.</summary>
    public bool Has(OptionInfo option) => Command.Options.Contains(option) && parsed.GetValue<bool>(option.Name);

    /// <summary>The text after an option; null when it was not given.</summary>
    public string? Text(OptionInfo option) => parsed.GetValue<string?>(option.Name);

    /// <summary>The texts after a repeatable option.</summary>
    public string[] Texts(OptionInfo option) => parsed.GetValue<string[]>(option.Name) ?? [];

    /// <summary>The whole number after an option; null when it was not given.</summary>
    /// <exception cref="InputException">Another text, or a number outside the range.</exception>
    public ulong? Whole(OptionInfo option, ulong least, ulong most)
    {
        if (Text(option) is not { } text)
        {
            return null;
        }

        return ulong.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out ulong number) && number >= least && number <= most
            ? number
            : throw new InputException($"{option.Name}: found \"{text}\"; accepted: a whole number from {least.ToString(CultureInfo.InvariantCulture)} to {most.ToString(CultureInfo.InvariantCulture)}");
    }
}
