using System.Diagnostics;
using System.Runtime.CompilerServices;

namespace CureSim.Cli.Tests;

/// <summary>What came of running the tool.</summary>
/// <param name="ExitCode">Exit code.</param>
/// <param name="Output">Standard output.</param>
/// <param name="Error">Standard error.</param>
internal sealed record ToolResult(int ExitCode, string Output, string Error)
{
    /// <summary>The same result when the exit code is the expected one; otherwise the test fails and shows what was said.</summary>
    public ToolResult Exits(int code)
    {
        Assert.True(code == ExitCode, $"exit code {ExitCode} instead of {code}\n{Output}\n{Error}");
        return this;
    }
}

/// <summary>Runs the built program as a user would, in a folder of its own that holds a copy of the shipped scenarios.</summary>
internal sealed class Tool : IDisposable
{
    // A run of these tests takes seconds; this only keeps a hanging program from blocking the whole test run.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    public Tool()
    {
        Folder = Directory.CreateTempSubdirectory("curesim-cli-").FullName;
        foreach (string file in Directory.GetFiles(Path.Combine(Repository, "scenarios"), "*", SearchOption.AllDirectories))
        {
            string copy = Path.Combine(Folder, Path.GetRelativePath(Repository, file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(file, copy);
        }
    }

    /// <summary>Working folder.</summary>
    public string Folder { get; }

    /// <summary>Top folder of the repository.</summary>
    public static string Repository { get; } = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "..", ".."));

    /// <summary>The program.</summary>
    public static string Program { get; } = Path.Combine(AppContext.BaseDirectory, "curesim.dll");

    /// <summary>Runs the tool to its end.</summary>
    public ToolResult Run(params string[] arguments)
    {
        using var process = Start(arguments);
        return Finish(process);
    }

    /// <summary>Runs a line of a POSIX shell in which "$curesim" stands for the tool.</summary>
    public ToolResult Shell(string line)
    {
        using var process = StartShell(line);
        return Finish(process);
    }

    /// <summary>Starts the tool.</summary>
    public Process Start(params string[] arguments) => Process.Start(Prepared("dotnet", [Program, .. arguments]))!;

    /// <summary>Starts a line of a POSIX shell.</summary>
    public Process StartShell(string line) => Process.Start(Prepared("bash", ["-c", line]))!;

    /// <summary>Waits for a started tool.</summary>
    public static ToolResult Finish(Process process)
    {
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(Patience))
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail("the tool did not end");
        }

        return new(process.ExitCode, output.Result, error.Result);
    }

    /// <summary>Full path of something in the working folder.</summary>
    public string At(params string[] parts) => Path.Combine([Folder, .. parts]);

    /// <summary>Writes a text file into the working folder.</summary>
    public string Write(string name, string text)
    {
        File.WriteAllText(At(name), text);
        return name;
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private ProcessStartInfo Prepared(string program, IEnumerable<string> arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { WorkingDirectory = Folder, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        start.Environment["curesim"] = $"dotnet {Program}";
        start.Environment["DOTNET_NOLOGO"] = "1";
        start.Environment.Remove("CURESIM_TRACE");
        return start;
    }

    private static string Here([CallerFilePath] string path = "") => path;
}
