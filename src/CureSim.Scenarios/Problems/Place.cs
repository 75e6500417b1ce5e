namespace CureSim.Scenarios;

/// <summary>Where something is written: a file's line and column (from 1), or a source without lines (line 0), e.g. "--set run.seed".</summary>
public readonly record struct Place(string File, int Line, int Column)
{
    /// <summary>A source that has no lines.</summary>
    public static Place Of(string source) => new(source, 0, 0);

    /// <summary>Another line and column of the same source; itself when the source has no lines.</summary>
    public Place At(long line, long column) => Line == 0 ? this : new(File, (int)line, (int)column);

    /// <inheritdoc/>
    public override string ToString() => Line > 0
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{File}:{Line}:{Column}")
        : File;
}
