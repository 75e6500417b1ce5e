namespace CureSim.Scenarios;

/// <summary>Reads files of limited size. A device or pipe has no length to ask for beforehand, so that reading itself must end.</summary>
internal static class BoundedFile
{
    /// <summary>All bytes of a file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="most">Bytes that are read at most.</param>
    /// <exception cref="IOException">It holds more, or cannot be read.</exception>
    public static byte[] Read(string path, long most)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
        using var bytes = new MemoryStream((int)Math.Min(file.CanSeek ? file.Length : 0, most));
        var piece = new byte[1 << 16];
        for (int n = file.Read(piece); n > 0; n = file.Read(piece))
        {
            bytes.Write(piece, 0, n);
            if (bytes.Length > most)
            {
                throw new IOException(FormattableString.Invariant($"more than {most} bytes"));
            }
        }

        return bytes.Length == bytes.Capacity ? bytes.GetBuffer() : bytes.ToArray();
    }
}
