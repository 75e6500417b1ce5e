using CureSim.Reports.Folders;

namespace CureSim.Cli;

/// <summary>Single files that a command writes where the user says.</summary>
internal static class TextFile
{
    /// <summary>Writes a text, in one step: a file of this name is either what it was or complete.</summary>
    /// <param name="path">Where to.</param>
    /// <param name="text">Its content; UTF-8 without byte order mark.</param>
    /// <param name="replace">Whether an existing file with this content may be replaced.</param>
    /// <exception cref="ResultFolderException">It may not be replaced, or cannot be written.</exception>
    public static void Write(string path, string text, Func<string, bool> replace)
    {
        string partial = $"{path}.partial-{Environment.ProcessId}";
        try
        {
            bool exists = File.Exists(path);
            if (Directory.Exists(path) || (exists && !replace(File.ReadAllText(path))))
            {
                throw new ResultFolderException($"'{path}' exists and is left alone; choose another file with --out.");
            }

            File.WriteAllText(partial, text);
            File.Move(partial, path, overwrite: exists);
        }
        catch (Exception e) when (e is (IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException) and not ResultFolderException)
        {
            File.Delete(partial);
            throw new ResultFolderException($"Cannot write '{path}': {e.Message}", e);
        }
    }
}
