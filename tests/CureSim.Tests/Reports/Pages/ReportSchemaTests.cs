using CureSim.Reports.Pages;

namespace CureSim.Tests.Reports.Pages;

/// <summary>docs/report.schema.json is the schema of the file that is written; made anew with CURESIM_WRITE_GENERATED=1.</summary>
public sealed class ReportSchemaTests
{
    [Fact]
    public void Schema_InTheDocs_IsThatOfTheFile()
    {
        string path = Path.Combine(Repository(), "docs", "report.schema.json");
        if (Environment.GetEnvironmentVariable("CURESIM_WRITE_GENERATED") == "1")
        {
            File.WriteAllText(path, ReportFile.Schema());
        }

        Assert.Equal(File.ReadAllText(path).ReplaceLineEndings("\n"), ReportFile.Schema());
    }

    private static string Repository([System.Runtime.CompilerServices.CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", ".."));
}
