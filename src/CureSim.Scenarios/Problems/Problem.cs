namespace CureSim.Scenarios;

/// <summary>One thing that is wrong, or worth a warning, in a scenario: where it is, what was found, what is accepted.</summary>
/// <param name="File">File name as it was given, or the source of an override.</param>
/// <param name="Line">Line from 1; 0 when the source has no lines.</param>
/// <param name="Column">Column from 1; 0 when the source has no lines.</param>
/// <param name="Path">Place in the scenario, e.g. "source.irradiance"; empty for the file as a whole.</param>
/// <param name="Found">What was found, as it reads after "found".</param>
/// <param name="Accepted">What would be accepted, as it reads after "accepted:".</param>
/// <param name="Suggestion">What to write instead, a clause of its own; or null.</param>
public sealed record Problem(string File, int Line, int Column, string Path, string Found, string Accepted, string? Suggestion)
{
    /// <summary>One line: <c>file:line:column: path: found …; accepted: …; suggestion</c>.</summary>
    public override string ToString()
    {
        string where = new Place(File, Line, Column).ToString();
        string path = Path.Length == 0 ? "" : Path + ": ";
        string suggestion = Suggestion is null ? "" : "; " + Suggestion;
        return $"{where}: {path}found {Found}; accepted: {Accepted}{suggestion}";
    }
}
