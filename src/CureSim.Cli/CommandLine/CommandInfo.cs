using System.Collections.Immutable;

namespace CureSim.Cli;

/// <summary>One thing that a command must be given, by place.</summary>
/// <param name="Name">In capitals, as help shows it.</param>
/// <param name="Meaning">What it is.</param>
/// <param name="Required">False when it may be left out.</param>
/// <param name="Least">With more than one allowed: how many at least; 0 for a single one.</param>
/// <param name="Most">With more than one allowed: how many at most.</param>
internal sealed record ArgumentInfo(string Name, string Meaning, bool Required = true, int Least = 0, int Most = 8)
{
    /// <summary>True when several may be given in its place.</summary>
    public bool IsSeries => Least > 0;
}

/// <summary>One option.</summary>
/// <param name="Name">With its two dashes.</param>
/// <param name="Value">What follows it, as help shows it; null for a switch.</param>
/// <param name="Meaning">What it does.</param>
/// <param name="Repeatable">True when it may be given more than once.</param>
internal sealed record OptionInfo(string Name, string? Value, string Meaning, bool Repeatable = false);

/// <summary>An example that help prints.</summary>
/// <param name="Line">The command line.</param>
/// <param name="Says">What it does.</param>
internal sealed record Example(string Line, string Says);

/// <summary>A command: parser, help and tests are made from these records.</summary>
/// <param name="Name">Its word.</param>
/// <param name="Purpose">One line.</param>
/// <param name="Arguments">By place.</param>
/// <param name="Options">In the order of the help.</param>
/// <param name="Examples">Two.</param>
/// <param name="Run">Does it; returns the exit code.</param>
internal sealed record CommandInfo(
    string Name, string Purpose, ImmutableArray<ArgumentInfo> Arguments, ImmutableArray<OptionInfo> Options, ImmutableArray<Example> Examples, Func<Call, int> Run)
{
    /// <summary>What help says below the purpose; null for nothing.</summary>
    public string? More { get; init; }
}
