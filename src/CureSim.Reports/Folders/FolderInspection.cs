using System.Collections.Immutable;
using System.Security.Cryptography;

namespace CureSim.Reports.Folders;

/// <summary>A result folder compared with its record.json.</summary>
/// <param name="Record">The record; null when there is none of this tool, or it was changed after it was written.</param>
/// <param name="Changed">Files whose bytes differ from the record.</param>
/// <param name="Missing">Files of the record that are not there.</param>
/// <param name="Unlisted">Files and links that the record does not list.</param>
public sealed record FolderInspection(
    RunRecord? Record, ImmutableArray<string> Changed, ImmutableArray<string> Missing, ImmutableArray<string> Unlisted)
{
    private const long RecordLimit = 8L << 20; // bytes; a record lists some hundred files of two hundred bytes each
    private const int MostEntries = 20_000;

    /// <summary>True when the folder is exactly what was written.</summary>
    public bool IsIntact => Record is not null && Changed.IsEmpty && Missing.IsEmpty && Unlisted.IsEmpty;

    /// <summary>Compares a folder with its record; names are relative, with forward slashes, in ordinal order.</summary>
    /// <param name="path">An existing folder.</param>
    /// <exception cref="ResultFolderException">The folder cannot be read.</exception>
    public static FolderInspection Of(string path)
    {
        try
        {
            return Compare(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new ResultFolderException($"Cannot read '{path}': {e.Message}", e);
        }
    }

    private static FolderInspection Compare(string path)
    {
        List<string> found = [];
        List<string> links = [];
        Collect(new DirectoryInfo(path), "", found, links);

        string recordPath = Path.Combine(path, ResultName.Record);
        RunRecord? record = found.Contains(ResultName.Record) && new FileInfo(recordPath).Length is > 0 and <= RecordLimit ? RunRecord.Read(File.ReadAllBytes(recordPath)) : null;
        if (record is null)
        {
            return new FolderInspection(null, [], [], [.. found.Concat(links).Order(StringComparer.Ordinal)]);
        }

        found.Remove(ResultName.Record);
        var changed = found.Where(name => record.Files.TryGetValue(name, out FileEntry? entry) && !Same(Path.Combine(path, name), entry));
        return new FolderInspection(
            record,
            [.. changed.Order(StringComparer.Ordinal)],
            [.. record.Files.Keys.Except(found, StringComparer.Ordinal).Order(StringComparer.Ordinal)],
            [.. found.Where(name => !record.Files.ContainsKey(name)).Concat(links).Order(StringComparer.Ordinal)]);
    }

    /// <summary>Links are listed, never followed: what they point to is not part of the folder.</summary>
    private static void Collect(DirectoryInfo folder, string prefix, List<string> files, List<string> links)
    {
        foreach (FileSystemInfo item in folder.EnumerateFileSystemInfos("*", new EnumerationOptions { AttributesToSkip = FileAttributes.None }))
        {
            if (item.LinkTarget is not null || item.Attributes.HasFlag(FileAttributes.ReparsePoint))
            {
                links.Add(prefix + item.Name);
            }
            else if (item is DirectoryInfo inner)
            {
                Collect(inner, prefix + item.Name + "/", files, links);
            }
            else
            {
                files.Add(prefix + item.Name);
            }

            if (files.Count + links.Count > MostEntries)
            {
                throw new IOException($"it holds more than {MostEntries} files");
            }
        }
    }

    // The length comes first: what is no regular file has length 0 and is never opened, and a file of another length is never read.
    private static bool Same(string path, FileEntry entry)
    {
        long length = new FileInfo(path).Length;
        if (length != entry.Bytes || length == 0)
        {
            return length == entry.Bytes && RunRecord.Hash([]) == entry.Sha256;
        }

        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
        return Convert.ToHexStringLower(SHA256.HashData(stream)) == entry.Sha256;
    }
}
