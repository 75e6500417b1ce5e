using System.Collections.Immutable;

namespace CureSim.Cli;

/// <summary>What was given cannot be used. Every line is one problem, told as it stands.</summary>
internal sealed class InputException(ImmutableArray<string> problems) : Exception(string.Join("; ", problems))
{
    /// <summary>With a single problem.</summary>
    public InputException(string problem)
        : this([problem])
    {
    }

    /// <summary>All problems, in the order in which they should be read.</summary>
    public ImmutableArray<string> Problems { get; } = problems;

    /// <summary>True when every line begins with the file and place that it is about, where editors look for it.</summary>
    public bool IsLocated { get; init; }
}
