using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Data files come from the scenario's own folder and from nowhere else.</summary>
public sealed class DataFolderTests : IDisposable
{
    private readonly DirectoryInfo outside = Directory.CreateTempSubdirectory("curesim");
    private readonly string folder;

    public DataFolderTests()
    {
        folder = Path.Combine(outside.FullName, "cell");
        Directory.CreateDirectory(Path.Combine(folder, "data"));
        File.WriteAllText(Path.Combine(outside.FullName, "secret.csv"), "a_mm\n1\n2\n");
        File.WriteAllText(Path.Combine(folder, "data", "good.csv"), "a_mm\n1\n2\n");
        File.WriteAllText(Path.Combine(folder, "large.csv"), "a_mm\n" + new string('1', DataFolder.SizeLimit));
        File.WriteAllText(Path.Combine(folder, "many.csv"), "a_mm\n" + string.Concat(Enumerable.Repeat("1\n", CsvColumns.RowLimit + 1)));
        File.CreateSymbolicLink(Path.Combine(folder, "link.csv"), Path.Combine(outside.FullName, "secret.csv"));
        Directory.CreateSymbolicLink(Path.Combine(folder, "up"), outside.FullName);
    }

    public void Dispose() => outside.Delete(true);

    private ScenarioReading Read(string csv) => ScenarioReader.ReadText(
        ScenarioFiles.Smallest, "test.yaml", [$"substrate={{ thickness: {{ empirical: {{ csv: {csv}, column: a_mm }} }}, absorption: 0.1 /mm }}"], folder);

    [Fact]
    public void File_InsideTheFolder_IsRead() => ScenarioFiles.Good(Read("data/good.csv"));

    [Theory]
    [InlineData("../secret.csv", "a path that is not plainly inside the folder")]
    [InlineData("data/../../secret.csv", "a path that is not plainly inside the folder")]
    [InlineData("/etc/hostname", "a path that is not plainly inside the folder")]
    [InlineData("'C:\\secret.csv'", "a path that is not plainly inside the folder")]
    [InlineData("link.csv", "a link")]
    [InlineData("up/secret.csv", "a link")]
    [InlineData("data", "a folder")]
    [InlineData("none.csv", "no such file")]
    [InlineData("large.csv", "1048581 bytes")]
    public void File_OutsideOrTooLarge_IsRefused(string csv, string why) =>
        Assert.EndsWith(why, Assert.Single(Read(csv).Problems).Found, StringComparison.Ordinal);

    [Fact]
    public void Rows_BeyondTheLimit_AreRefused() => Assert.Equal(
        "many.csv:10002:1: substrate.thickness.empirical: found more than 10000 rows; accepted: at most 10000 rows", Assert.Single(Read("many.csv").Problems).ToString());

    [Fact]
    public void Text_WithoutAFolder_ReadsNoFile()
    {
        ScenarioReading reading = ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml", ["substrate={ thickness: { empirical: { csv: a.csv, column: a_mm } }, absorption: 0.1 /mm }"]);
        Assert.EndsWith("a scenario that is not read from a folder", Assert.Single(reading.Problems).Found, StringComparison.Ordinal);
    }
}
