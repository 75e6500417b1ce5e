namespace CureSim.Reports.Folders;

/// <summary>When a folder may be replaced, and how.</summary>
internal static class Replacing
{
    /// <summary>Refuses whatever holds something that this tool did not write.</summary>
    /// <param name="path">Where the folder stands now.</param>
    /// <param name="shown">The path the user knows it by.</param>
    /// <exception cref="ResultFolderException">It may not be replaced; the message names the first reason.</exception>
    public static void RequireReplaceable(string path, string shown)
    {
        const string advice = "nothing was deleted; choose another folder with --out.";
        var folder = new DirectoryInfo(path);
        if (File.Exists(path))
        {
            throw new ResultFolderException($"'{shown}' is a file, not a folder; {advice}");
        }

        if (!folder.Exists)
        {
            return;
        }

        if (folder.LinkTarget is not null)
        {
            throw new ResultFolderException($"'{shown}' is a link; {advice}");
        }

        FolderInspection inspection = FolderInspection.Of(path);
        if (inspection.Record is null && inspection.Unlisted.IsEmpty)
        {
            return;
        }

        if (inspection.Record is null)
        {
            throw new ResultFolderException(inspection.Unlisted.Contains(ResultName.Record)
                ? $"The record.json in '{shown}' is not one of CureSim, or was changed by hand; {advice}"
                : $"'{shown}' holds '{inspection.Unlisted[0]}' and is not a CureSim result; {advice}");
        }

        if (!inspection.Unlisted.IsEmpty)
        {
            throw new ResultFolderException($"'{shown}' holds '{inspection.Unlisted[0]}', which CureSim did not write; {advice}");
        }

        if (!inspection.Changed.IsEmpty)
        {
            throw new ResultFolderException($"'{inspection.Changed[0]}' in '{shown}' was changed since CureSim wrote it; {advice}");
        }
    }

    /// <summary>Moves a complete folder to its place. Should any step fail, a former folder is put back.</summary>
    /// <param name="complete">The new folder, on the same volume as <paramref name="target"/>.</param>
    /// <param name="target">Its place.</param>
    /// <param name="aside">Free name beside it for the former folder.</param>
    /// <returns>The former folder when it could not be deleted in the end, else null.</returns>
    public static string? MoveIntoPlace(string complete, string target, string aside)
    {
        RequireReplaceable(target, target);
        if (!Directory.Exists(target))
        {
            Directory.Move(complete, target);
            return null;
        }

        Directory.Move(target, aside);
        try
        {
            // Looked at again where nobody else works on it, for a file may have been saved into it a moment ago.
            RequireReplaceable(aside, target);
            Directory.Move(complete, target);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            PutBack(aside, target, e);
            throw;
        }

        return TryDelete(aside) ? null : aside;
    }

    /// <summary>Removes folders that were made for a result and are still empty, innermost first.</summary>
    public static void RemoveEmpty(IEnumerable<string> folders)
    {
        foreach (string folder in folders)
        {
            try
            {
                Directory.Delete(folder);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return;
            }
        }
    }

    private static void PutBack(string aside, string target, Exception cause)
    {
        try
        {
            Directory.Move(aside, target);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new ResultFolderException($"The results could not be moved to '{target}'; the former ones are now in '{aside}'.", cause);
        }
    }

    /// <summary>Deletes a folder made by this tool; false when something of it is still there.</summary>
    public static bool TryDelete(string path)
    {
        try
        {
            if (Directory.Exists(path))
            {
                Directory.Delete(path, recursive: true);
            }

            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}
