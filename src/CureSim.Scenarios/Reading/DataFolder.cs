using System.Text;

namespace CureSim.Scenarios;

/// <summary>Data files of a scenario: only from its own folder, of limited size, and never through a link or "..".</summary>
internal sealed class DataFolder(string? folder)
{
    /// <summary>Largest data file that is read, bytes.</summary>
    public const int SizeLimit = 1 << 20;

    private const string Accepted = "a CSV file inside the scenario's folder, at most 1 MiB";

    /// <summary>Text of a data file, or null (a problem is noted).</summary>
    public string? Read(string name, Place place, string path, Findings findings)
    {
        string? why = Refusal(name, out string file);
        if (why is null)
        {
            try
            {
                return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(BoundedFile.Read(file, SizeLimit)).TrimStart('\uFEFF');
            }
            catch (DecoderFallbackException)
            {
                why = "bytes that are not UTF-8";
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                why = $"a file that cannot be read ({e.Message.TrimEnd('.')})";
            }
        }

        findings.Problem(place, path, $"\"{name}\": {why}", Accepted);
        return null;
    }

    private string? Refusal(string name, out string file)
    {
        file = "";
        if (folder is null)
        {
            return "a scenario that is not read from a folder";
        }

        string[] steps = name.Split('/', '\\');
        if (name.Length == 0 || name.IndexOfAny(['\0', ':']) >= 0 || Path.IsPathRooted(name) || steps.Any(s => s is "" or "." or ".."))
        {
            return "a path that is not plainly inside the folder";
        }

        file = folder;
        try
        {
            foreach (string step in steps)
            {
                file = Path.Combine(file, step);
                if (new FileInfo(file).LinkTarget is not null)
                {
                    return "a link";
                }
            }

            var info = new FileInfo(file);
            return !info.Exists ? Directory.Exists(file) ? "a folder" : "no such file"
                : info.Length == 0 ? "an empty file" // or a pipe, which would be waited for
                : info.Length > SizeLimit ? FormattableString.Invariant($"{info.Length} bytes")
                : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return "a name that is no file's";
        }
    }
}
