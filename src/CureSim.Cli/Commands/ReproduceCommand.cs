using CureSim.Reports.Folders;
using CureSim.Reports.Reproduce;
using CureSim.Reports.Tables;

namespace CureSim.Cli;

/// <summary>Runs a record again and compares every file byte by byte.</summary>
internal static class ReproduceCommand
{
    // A resolved scenario is at most 1 MiB; its reader says so in its own words.
    private const long InputLimit = 2L << 20;

    private static readonly OptionInfo DataOfRecord = new("--data", "FILE", "The user's file of the record (log, measured parts), where it was too large to be copied into the folder. Its SHA-256 must be that of the record.");

    private static readonly OptionInfo All = new("--all", null, "List every file, not only those that differ.");

    private static readonly OptionInfo Keep = new("--out", "FOLDER", "Keep the results made again, in this folder. Left out: they are compared and deleted.");

    public static CommandInfo Info { get; } = new(
        "reproduce",
        "Run a folder of results again and compare every file, byte by byte.",
        [new("FOLDER", "Folder of results, with its record.json; it is only read.")],
        [All, Keep, DataOfRecord, Options.Threads, Options.Json, Options.Quiet],
        [
            new("curesim reproduce output/quick/run", "Exit code 0 when every byte comes out again, 1 when something differs."),
            new("curesim reproduce archive/cell-7 --out again --all", "Keep what is made now, and list every file."),
        ],
        Run)
    {
        More = "Tells what differs (file, line, column, both values) and what explains it: another version, runtime or machine, a scenario or table that was changed since.",
    };

    private static int Run(Call call)
    {
        string folder = Path.GetFullPath(call.Argument(0)!);
        int threads = Simulation.Threads(call);
        var inspection = Inspect(folder, call.Argument(0)!);
        var record = inspection.Record!;
        var rerun = Rerun.Of(record);
        string work = Directory.CreateTempSubdirectory("curesim-reproduce-").FullName;
        try
        {
            string again = Place(call, folder) ?? Path.Combine(work, "again");
            var names = rerun.InputsIn(record.Files.ContainsKey);
            string[] inputs = [.. names.Select(name => Copy(folder, name, Path.Combine(work, name), inspection, InputLimit))], data = [.. Data(call, rerun, folder, work, inspection)];
            string? optionInput = rerun.DataOption is not null ? data.FirstOrDefault()
                : rerun.OptionInput is { } named && record.Options.Contains(named.Option.Name) ? Copy(folder, named.File, Path.Combine(work, named.File), inspection, InputLimit) : null;
            inputs = rerun.DataOption is null ? [.. inputs, .. data] : inputs;
            names = [.. names, .. record.Data.Where(d => d.Copied).Select(d => d.Name), .. optionInput is not null && rerun.OptionInput is { } used ? [used.File] : (string[])[]];
            using (var progress = new ProgressBar(call.Terminal, $"running {record.Command} again (it took {Math.Ceiling(record.DurationSeconds):0} s)", call.Quiet))
            {
                Again(call, rerun.Arguments(record, inputs, again, threads, optionInput));
            }

            var report = new ReproduceReport(folder, inspection, again, names, rerun.Dated);
            Say(call, report);
            return report.IsSame ? ExitCode.Done : ExitCode.DoesNotHold;
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
    }

    private static FolderInspection Inspect(string folder, string shown)
    {
        if (!Directory.Exists(folder))
        {
            throw new InputException($"{shown}: found no such folder; accepted: a folder of results with its record.json");
        }

        FolderInspection inspection;
        try
        {
            inspection = FolderInspection.Of(folder);
        }
        catch (ResultFolderException e)
        {
            throw new InputException(e.Message);
        }

        if (inspection.Record is not { } record)
        {
            throw new InputException(inspection.Unlisted.Contains(ResultName.Record)
                ? $"{shown}: its record.json is not one of CureSim, or was changed after it was written"
                : $"{shown}: found no record.json; accepted: a folder of results with its record.json");
        }

        return record.Files.Keys.FirstOrDefault(name => ResultName.Fault(name) is not null) is { } bad
            ? throw new InputException($"{shown}: its record names \"{bad}\", which is no file of a result folder ({ResultName.Fault(bad)})")
            : inspection;
    }

    // The user's data files, each under its own name in a folder of its own: results show the name.
    private static IEnumerable<string> Data(Call call, Rerun rerun, string folder, string work, FolderInspection inspection)
    {
        var record = inspection.Record!;
        string? given = call.Text(DataOfRecord);
        if (!rerun.TakesData || record.Data.Length != 1)
        {
            return given is not null ? throw new InputException($"--data: the record of \"{record.Command}\" names no data file") : rerun.TakesData ? throw new InputException("the record names no data file; it was made by a version that did not keep it") : [];
        }

        var file = record.Data[0];
        string to = Path.Combine(Directory.CreateDirectory(Path.Combine(work, "data")).FullName, file.Placed);
        if (given is null)
        {
            return file.Copied ? [Copy(folder, file.Name, to, inspection, DataFile.MostCopied)]
                : throw new InputException(FormattableString.Invariant($"the data file of the record ({file.As}, {file.Bytes} bytes, SHA-256 {file.Sha256}) is not in the folder, for it is larger than {DataFile.MostCopied >> 20} MB; give it with --data FILE"));
        }

        try
        {
            string found;
            using (var stream = new FileStream(given, FileMode.Open, FileAccess.Read, FileShare.Read))
            {
                found = stream.Length == file.Bytes ? Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(stream)) : FormattableString.Invariant($"not asked for, it has {stream.Length} bytes");
            }

            if (found != file.Sha256)
            {
                throw new InputException(FormattableString.Invariant($"--data: {given} is not the file of the record; SHA-256: {found}; accepted: {file.Sha256}, of {file.Bytes} bytes"));
            }

            File.Copy(given, to);
            return [to];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new InputException($"--data: {given} cannot be read ({e.Message.TrimEnd('.')})");
        }
    }

    // Run from a copy: a scenario that was tampered with finds no other file beside it.
    private static string Copy(string folder, string name, string to, FolderInspection inspection, long limit)
    {
        string from = Path.Combine(folder, name);
        if (!inspection.Record!.Files.ContainsKey(name) || inspection.Missing.Contains(name) || inspection.Unlisted.Contains(name))
        {
            throw new InputException($"{name} is not there as a file of the record; without it nothing can be run again");
        }

        // What is no regular file has length 0; a pipe would be waited for.
        if (new FileInfo(from).Length is var length && (length == 0 || length > limit))
        {
            throw new InputException($"{name} is empty, or larger than any that is written");
        }

        try
        {
            File.Copy(from, to);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException($"cannot read {name}: {e.Message}");
        }

        return to;
    }

    private static string? Place(Call call, string folder)
    {
        if (call.Text(Keep) is not { } given)
        {
            return null;
        }

        string full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(given)), inspected = Path.TrimEndingDirectorySeparator(folder) + Path.DirectorySeparatorChar;
        return (full + Path.DirectorySeparatorChar).StartsWith(inspected, StringComparison.Ordinal)
            ? throw new InputException($"--out: \"{given}\" is in the folder that is only to be read")
            : full;
    }

    private static void Again(Call call, IEnumerable<string> arguments)
    {
        try
        {
            new CommandTree(CommandList.All, call.Terminal, call.Interruption).Run([.. arguments]);
        }
        catch (InputException e)
        {
            throw new InputException(["the record cannot be run again by this version:", .. e.Problems]) { IsLocated = true };
        }
    }

    private static void Say(Call call, ReproduceReport report)
    {
        if (call.Json)
        {
            call.Terminal.Say(report.Document().ToBytes());
        }
        else if (!call.Quiet)
        {
            call.Terminal.Say(report.Answer());
            if (call.Has(All) || report.Files.Any(f => !f.IsGood))
            {
                call.Terminal.SayLine();
                call.Terminal.Say(AlignedText.Of(report.Table(call.Has(All)), call.Terminal.Letters.Of));
            }
        }
    }
}
