using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>docs/validation.md: its tables are those of a self-check, of the mutants and of the values left out. CURESIM_WRITE_GENERATED=1 writes them.</summary>
[Collection(SelfCheckCollection.Name)]
public sealed class ValidationDocumentTests(SelfCheckRun run)
{
    private static readonly string Document = Path.Combine(Tool.Repository, "docs", "validation.md");
    private static readonly Lock Gate = new();

    [Fact]
    public void Counts_AreThoseOfASelfCheck()
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"\n{run.Summary["checks"]} checks of {run.Summary["figures"]} figures; {run.Summary["throughEngine"]} checks through the whole engine.\n\n");
        foreach (string name in new[] { "by_topic", "by_source", "by_provenance" })
        {
            string[][] rows = Table(Path.Combine(run.Folder, "tables", name + ".csv"));
            text.Append(CultureInfo.InvariantCulture, $"| {rows[0][0]} | checks | through the engine | sampled | figures |\n|---|--:|--:|--:|--:|\n");
            foreach (var row in rows.Skip(1))
            {
                text.Append("| ").AppendJoin(" | ", row.Take(5)).Append(" |\n");
            }

            text.Append('\n');
        }

        AssertPart("<!-- counts: made from a self-check -->", "<!-- end of counts -->", text.ToString());
    }

    [Fact]
    public void ClosedForms_HaveTwoSetsOfParametersAndTheirSmallestError()
    {
        var checks = run.Checks.Where(c => (string)c["topic"]! == "closed form").ToArray();
        Assert.All(checks, c => Assert.Single(ClosedFormCase.All, f => f.Has((string)c["id"]!)));
        var text = new StringBuilder("\n| case | exact answer | checks | smallest error shown |\n|---|---|---|---|\n");
        foreach (var form in ClosedFormCase.All)
        {
            var own = checks.Where(c => form.Has((string)c["id"]!)).ToArray();
            Assert.True(own.Length >= 2, $"{form.Case}: {own.Length} checks");
            Assert.All(own, c => Assert.True((bool)c["throughEngine"]!));
            double[] errors = [.. own.Where(c => (bool)c["sampled"]!).Select(c => 100.0 * (double)c["smallestDetectableRelativeError"]!)];
            int exact = own.Length - errors.Length;
            string shown = string.Join(
                "; ",
                new[] { errors.Length > 0 ? Range(errors.Min(), errors.Max()) : null, exact > 0 ? string.Create(CultureInfo.InvariantCulture, $"{exact} exact") : null }.OfType<string>());
            text.Append(CultureInfo.InvariantCulture, $"| {form.Case} | {form.Answer} | {own.Length}: `{string.Join("`, `", form.Prefixes.Select(p => p + "*"))}` | {shown} |\n");
        }

        AssertPart("<!-- closed forms: made from a self-check -->", "<!-- end of closed forms -->", text.Append('\n').ToString());
    }

    [Fact]
    public void Mutants_AreAllCaughtByChecksThatExist()
    {
        string[][] rows = [.. Table(Path.Combine(Tool.Repository, "tests", "mutation", "results.csv")).Skip(1)];
        Assert.True(rows.Length >= 8, $"{rows.Length} mutants");
        string[] ids = [.. run.Checks.Select(c => (string)c["id"]!)];
        string script = File.ReadAllText(Path.Combine(Tool.Repository, "tests", "mutation", "run.py"));
        var text = new StringBuilder("\n| mutant | change | checks that missed |\n|---|---|---|\n");
        foreach (string[] row in rows)
        {
            Assert.Contains($"(\"{row[0]}\", \"{row[2]}\"", script, StringComparison.Ordinal);
            string[] caught = row[4].Split(' ', StringSplitOptions.RemoveEmptyEntries);
            Assert.NotEmpty(caught);
            Assert.Equal(int.Parse(row[3], CultureInfo.InvariantCulture), caught.Length);
            Assert.All(caught, id => Assert.Contains(id, ids));
            text.Append(CultureInfo.InvariantCulture, $"| {row[0]} | {row[2].Replace("|", "\\|", StringComparison.Ordinal)} | {caught.Length}: {string.Join(", ", caught.Take(6))}{(caught.Length > 6 ? " …" : "")} |\n");
        }

        AssertPart("<!-- mutants: made from tests/mutation/results.csv -->", "<!-- end of mutants -->", text.Append('\n').ToString());
    }

    [Fact]
    public void LeftOut_RowsAreListedWithTheirReasonAndChecked()
    {
        string[][] rows = [.. Table(Path.Combine(Tool.Repository, "tests", "data", "published", "left-out.csv")).Skip(1)];
        string[] compared = [.. Table(Path.Combine(Tool.Repository, "src", "CureSim.Checks", "Published", "Data", "check-values.csv")).Skip(1).Select(r => r[0])];
        string[] ids = [.. rows.Select(r => r[0])];
        Assert.Empty(ids.Intersect(compared));
        Assert.Equal(ids.Length + compared.Length, ids.Concat(compared).Distinct().Count());
        Assert.All(rows, r => Assert.All(r, field => Assert.False(string.IsNullOrWhiteSpace(field))));

        // 228 values were collected; of a million normals (RNG-TST-N) a sampled check takes the place of its row; the mass calibration and the random effects were added later.
        Assert.Equal(228, compared.Except(["GUM-9.3", "REG-RE-BCG"]).Count() + ids.Length + 1);
        var text = new StringBuilder("\n| rows | what | reason |\n|---|---|---|\n");
        foreach (var group in rows.GroupBy(r => r[3]))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {string.Join(", ", group.Select(r => r[0]))} | {string.Join("; ", group.Select(r => r[1]).Distinct())} | {group.Key} |\n");
        }

        AssertPart("<!-- left out: made from tests/data/published/left-out.csv -->", "<!-- end of left out -->", text.Append('\n').ToString());
    }

    [Fact]
    public void CheckValues_AreAllCompared()
    {
        string[] ids = [.. run.Checks.Select(c => (string)c["id"]!)];
        string[] families = ["TOL-W1-", "TOL-W2-", "TOL-SR-"];
        foreach (string[] row in Table(Path.Combine(Tool.Repository, "src", "CureSim.Checks", "Published", "Data", "check-values.csv")).Skip(1))
        {
            string? family = families.FirstOrDefault(f => row[0].StartsWith(f, StringComparison.Ordinal));
            Assert.Contains(family?.TrimEnd('-') ?? row[0], ids);
        }
    }

    // One digit: the last digits of an estimated standard error may differ between machines.
    private static string Range(double least, double most)
    {
        string a = Digit(least), b = Digit(most);
        return a == b ? $"{a} %" : $"{a} to {b} %";
    }

    private static string Digit(double percent) => percent.ToString("G1", CultureInfo.InvariantCulture) is var text && double.Parse(text, CultureInfo.InvariantCulture) is var rounded
        ? rounded.ToString("0.####", CultureInfo.InvariantCulture) : "";

    private static string[][] Table(string path)
    {
        string[][] fields = [.. CsvFile.Rows(File.ReadAllText(path))];
        return fields;
    }

    private static void AssertPart(string begin, string end, string expected)
    {
        lock (Gate)
        {
            string text = File.ReadAllText(Document);
            int from = text.IndexOf(begin, StringComparison.Ordinal) + begin.Length, to = text.IndexOf(end, StringComparison.Ordinal);
            Assert.True(from >= begin.Length && to > from, $"docs/validation.md has no part between \"{begin}\" and \"{end}\"");
            string wanted = text[..from] + "\n" + expected + text[to..];
            if (Environment.GetEnvironmentVariable("CURESIM_WRITE_GENERATED") == "1")
            {
                File.WriteAllText(Document, wanted);
                text = wanted;
            }

            Assert.True(wanted == text, $"docs/validation.md is out of date after \"{begin}\": run these tests once with CURESIM_WRITE_GENERATED=1 and look at the change");
        }
    }
}
