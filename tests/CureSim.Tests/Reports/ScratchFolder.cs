namespace CureSim.Tests.Reports;

/// <summary>An empty folder of the test's own, removed afterwards.</summary>
internal sealed class ScratchFolder : IDisposable
{
    public ScratchFolder() => Path = Directory.CreateTempSubdirectory("curesim-").FullName;

    public string Path { get; }

    public string In(params string[] parts) => System.IO.Path.Combine([Path, .. parts]);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
