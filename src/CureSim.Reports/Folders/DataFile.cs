namespace CureSim.Reports.Folders;

/// <summary>A data file of the user that results were made from, such as a log.</summary>
/// <param name="Name">Its name in the folder of results, where a copy of it lies if <paramref name="Copied"/>.</param>
/// <param name="As">Name that the user gave it, without folders: results show it.</param>
/// <param name="Sha256">Of its bytes.</param>
/// <param name="Bytes">Length.</param>
/// <param name="Copied">False: too large to be copied; it has to be given again.</param>
public sealed record DataFile(string Name, string As, string Sha256, long Bytes, bool Copied)
{
    /// <summary>Largest file that is copied, bytes: 100 000 rows of a log are about this long. Ours, no source.</summary>
    public const long MostCopied = 8L << 20;

    /// <summary>What a report says about making its results again.</summary>
    /// <param name="copied">Whether the file lies in the folder.</param>
    /// <param name="what">What it is: "log", "file".</param>
    /// <param name="sha256">Of its bytes.</param>
    public static string[] Reproduce(bool copied, string what, string sha256) => copied
        ? ["curesim reproduce FOLDER", $"runs the {what} of this folder again (SHA-256 {sha256}) and compares every file, byte by byte; of this page all but the record."]
        : ["curesim reproduce FOLDER --data FILE", $"with the {what} whose SHA-256 is {sha256}: it is larger than 8 MB and was not copied into the folder. Every file is compared, byte by byte; of this page all but the record."];

    /// <summary>Name under which it can be laid into a folder of its own; <see cref="Name"/> where the one of the record would leave that folder.</summary>
    public string Placed => As.Length is > 0 and <= 200 && As is not ("." or "..") && As.AsSpan().IndexOfAny("/\\\0") < 0 ? As : Name;
}
