using System.Collections.Immutable;
using System.Text;

namespace CureSim.Reports.Folders;

/// <summary>Results on their way into a folder: written beside it, moved into place in one step when complete.</summary>
/// <remarks>
/// Until <see cref="Complete"/> the target is untouched, and disposing leaves nothing behind. An existing target is replaced only when it is
/// empty, or is a result of this tool in which every file is as it was written; anything else is refused, both when the folder is begun
/// (so that no long run is made in vain) and when it is completed. Use from one thread.
/// </remarks>
public sealed class ResultFolder : IDisposable
{
    private static int _serial;

    private readonly SortedDictionary<string, FileEntry> _files = new(StringComparer.Ordinal);
    private readonly HashSet<string> _taken = new(StringComparer.OrdinalIgnoreCase);
    private readonly string _work;
    private readonly List<string> _parentsMade;
    private bool _finished;

    private ResultFolder(string target, string work, List<string> parentsMade)
    {
        Target = target;
        _work = work;
        _parentsMade = parentsMade;
    }

    /// <summary>Full path the results will have.</summary>
    public string Target { get; }

    /// <summary>Files added so far, by name.</summary>
    public IReadOnlyDictionary<string, FileEntry> Files => _files;

    /// <summary>After <see cref="Complete"/>: the former result, moved aside, when it could not be deleted; else null.</summary>
    public string? LeftBehind { get; private set; }

    /// <summary>Begins a result.</summary>
    /// <param name="target">Folder to write; its parents are made.</param>
    /// <exception cref="ResultFolderException">The target may not be replaced, or nothing can be written beside it.</exception>
    public static ResultFolder Begin(string target)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(target);
        string full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(target));
        string? parent = Path.GetDirectoryName(full);
        if (parent is null)
        {
            throw new ResultFolderException($"'{full}' is the top of a disk; choose a folder with --out.");
        }

        Replacing.RequireReplaceable(full, full);
        return Guard($"Cannot write beside '{full}'", () =>
        {
            List<string> made = MissingParents(parent);
            Directory.CreateDirectory(parent);
            try
            {
                string work = Sibling(full, "partial");
                Directory.CreateDirectory(work);
                return new ResultFolder(full, work, made);
            }
            catch
            {
                Replacing.RemoveEmpty(made);
                throw;
            }
        });
    }

    /// <summary>Adds a file of bytes.</summary>
    /// <param name="name">Relative, forward slashes, such as <c>tables/capability.csv</c>; see <see cref="ResultName"/>.</param>
    /// <param name="bytes">Its content.</param>
    /// <exception cref="ArgumentException">The name is not allowed or is taken.</exception>
    /// <exception cref="ResultFolderException">It cannot be written.</exception>
    public void Add(string name, ReadOnlySpan<byte> bytes)
    {
        ArgumentNullException.ThrowIfNull(name);
        ObjectDisposedException.ThrowIf(_finished, this);
        Reserve(name);
        string path = Path.Combine(_work, name.Replace('/', Path.DirectorySeparatorChar));
        byte[] content = bytes.ToArray();
        Guard($"Cannot write '{name}' for '{Target}'", () =>
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllBytes(path, content);
            return true;
        });
        _files.Add(name, new FileEntry(RunRecord.Hash(content), content.Length));
    }

    /// <summary>Adds a text file: UTF-8 without byte order mark, line breaks as given.</summary>
    /// <inheritdoc cref="Add(string, ReadOnlySpan{byte})" path="/exception"/>
    public void Add(string name, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        Add(name, Encoding.UTF8.GetBytes(text));
    }

    /// <summary>Writes record.json with the hash of every file and moves the folder into place, replacing a former result.</summary>
    /// <param name="record">How the result came about; its list of files is filled in here.</param>
    /// <exception cref="ResultFolderException">The target may not be replaced or cannot be written; the former result is still there.</exception>
    public void Complete(RunRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        ObjectDisposedException.ThrowIf(_finished, this);
        byte[] bytes = (record with { Files = _files.ToImmutableSortedDictionary(StringComparer.Ordinal) }).ToBytes();
        Guard($"Cannot write the record for '{Target}'", () =>
        {
            File.WriteAllBytes(Path.Combine(_work, ResultName.Record), bytes);
            return true;
        });
        LeftBehind = Guard($"Cannot move the results to '{Target}'", () => Replacing.MoveIntoPlace(_work, Target, Sibling(Target, "former")));
        _finished = true;
    }

    /// <summary>Removes what was written, unless it was completed. Never throws.</summary>
    public void Dispose()
    {
        if (_finished)
        {
            return;
        }

        _finished = true;
        if (Replacing.TryDelete(_work))
        {
            Replacing.RemoveEmpty(_parentsMade);
        }
    }

    private static List<string> MissingParents(string parent)
    {
        List<string> missing = [];
        for (string? folder = parent; folder is not null && !Directory.Exists(folder); folder = Path.GetDirectoryName(folder))
        {
            missing.Add(folder);
        }

        return missing;
    }

    private void Reserve(string name)
    {
        if (ResultName.Fault(name) is { } fault)
        {
            throw new ArgumentException($"'{name}' cannot name a result file: {fault}.", nameof(name));
        }

        // "a" and "a/b" cannot both be files, nor "a" and "A" on a system that ignores case.
        bool clash = _taken.Contains(name) || _taken.Any(t => t.StartsWith(name + "/", StringComparison.OrdinalIgnoreCase)
            || name.StartsWith(t + "/", StringComparison.OrdinalIgnoreCase));
        if (clash)
        {
            throw new ArgumentException($"'{name}' clashes with a file that was added before.", nameof(name));
        }

        _taken.Add(name);
    }

    /// <summary>A hidden name beside the target, different in each process and for each folder of a process.</summary>
    private static string Sibling(string target, string purpose)
    {
        while (true)
        {
            string tag = string.Create(System.Globalization.CultureInfo.InvariantCulture,
                $"{purpose}-{Environment.ProcessId}-{Interlocked.Increment(ref _serial)}");
            string path = Path.Combine(Path.GetDirectoryName(target)!, $".{Path.GetFileName(target)}.{tag}");
            if (!Path.Exists(path))
            {
                return path;
            }
        }
    }

    private static T Guard<T>(string failing, Func<T> work)
    {
        try
        {
            return work();
        }
        catch (Exception e) when (e is (IOException or UnauthorizedAccessException) and not ResultFolderException)
        {
            throw new ResultFolderException($"{failing}: {e.Message}", e);
        }
    }
}
