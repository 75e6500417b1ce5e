namespace CureSim.Reports.Folders;

/// <summary>Names of files inside a result folder: relative, with forward slashes, good on every system.</summary>
public static class ResultName
{
    /// <summary>The file that describes the others; written by the folder itself.</summary>
    public const string Record = "record.json";

    private const int LongestPart = 120;

    private static readonly string[] Devices =
    [
        "CON", "PRN", "AUX", "NUL", "COM0", "COM1", "COM2", "COM3", "COM4", "COM5", "COM6", "COM7", "COM8", "COM9",
        "LPT0", "LPT1", "LPT2", "LPT3", "LPT4", "LPT5", "LPT6", "LPT7", "LPT8", "LPT9", "CONIN$", "CONOUT$",
    ];

    /// <summary>What is wrong with a name, or null. Refused are rooted names, '.' and '..', backslashes, characters and device names that
    /// some system reserves, parts that end in a dot or space, and record.json in the top folder.</summary>
    public static string? Fault(string name)
    {
        if (string.IsNullOrEmpty(name))
        {
            return "it is empty";
        }

        if (string.Equals(name, Record, StringComparison.OrdinalIgnoreCase))
        {
            return "the record is written by the folder itself";
        }

        foreach (string part in name.Split('/'))
        {
            string? fault = PartFault(part);
            if (fault is not null)
            {
                return fault;
            }
        }

        return null;
    }

    private static string? PartFault(string part)
    {
        if (part.Length == 0)
        {
            return "it is rooted or has an empty part";
        }

        if (part is "." or "..")
        {
            return "it leaves its place with '.' or '..'";
        }

        if (part.Any(c => char.IsControl(c) || char.IsSurrogate(c) || "\\:*?\"<>|".Contains(c)))
        {
            return "it has a character that some systems do not allow";
        }

        if (part[^1] is '.' or ' ' || part[0] == ' ')
        {
            return "a part begins or ends with a space, or ends with a dot";
        }

        if (part.Length > LongestPart)
        {
            return "a part is too long";
        }

        string stem = part.Split('.')[0].TrimEnd();
        return Devices.Contains(stem, StringComparer.OrdinalIgnoreCase) ? $"'{stem}' is reserved by some systems" : null;
    }
}
