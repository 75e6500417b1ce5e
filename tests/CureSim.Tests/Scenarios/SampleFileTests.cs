using System.Text;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Measured values from CSV files of many hands.</summary>
public class SampleFileTests
{
    [Theory]
    [InlineData("dose [J/cm2]", "dose", "J/cm²", "j_per_cm2")]
    [InlineData("dose (mJ/cm²)", "dose", "mJ/cm²", "mj_per_cm2")]
    [InlineData("dose_j_per_cm2", "dose", "J/cm²", "j_per_cm2")]
    [InlineData("dose_mJ_per_cm2", "dose", "mJ/cm²", "mj_per_cm2")]
    [InlineData("peel_force_N", "peel force", "N", "n")]
    [InlineData("bond line [µm]", "bond line", "µm", "um")]
    [InlineData("strength [N/mm²]", "strength", "MPa", "mpa")]
    [InlineData("degree_of_cure_percent", "degree of cure", "%", "percent")]
    [InlineData("reading", "reading", null, "")]
    public void Header_Unit_IsFound(string header, string name, string? unit, string suffix)
    {
        var sample = Good($"{header}\n7\n8\n");
        Assert.Equal((name, unit, suffix), (sample.Name, sample.Unit.Shown, sample.Unit.Suffix));
    }

    [Theory]
    [InlineData("\uFEFFlot;dose [J/cm2]\nA;7.1\nB;7.2\n")]
    [InlineData("lot\tdose [J/cm2]\nA\t7.1\nB\t7.2\n")]
    [InlineData("# invented\n\nlot,dose [J/cm2]\r\n# more\r\nA,7.1\r\n\r\n\"B\", 7.2 \r\n")]
    [InlineData("dose [J/cm2],lot\n7.1,A\n7.2,B")]
    public void Text_SeparatorsCommentsAndByteOrderMark_AreRead(string text)
    {
        var sample = Good(text, new(Group: "lot"));
        Assert.Equal([7.1, 7.2], sample.Values.ToArray());
        Assert.Equal(["A", "B"], sample.Groups.ToArray());
    }

    [Fact]
    public void Lines_AreThoseOfTheFile() => Assert.Equal([3, 5], Good("# a\ndose\n1\n\n2\n").Lines.ToArray());

    [Fact]
    public void Problems_OfAFile_AreAllToldWithTheirPlaces()
    {
        var problems = Bad("lot,dose [J/cm2]\nA,7.1\nB,\nC,NaN\nD,-3\nE,abc\u001B[31m\nF,1e999\nG,7,5\n,7.2\n", new(Group: "lot")).Select(p => p.ToString()).ToArray();
        Assert.Equal(
            [
                "f.csv:3:2: dose [J/cm2]: found an empty cell; accepted: a number (decimal point, no unit); take the row out if nothing was measured",
                "f.csv:4:2: dose [J/cm2]: found \"NaN\"; accepted: a number (decimal point, no unit)",
                "f.csv:5:2: dose [J/cm2]: found \"-3\"; accepted: a dose of zero or more",
                "f.csv:6:2: dose [J/cm2]: found \"abc [31m\"; accepted: a number (decimal point, no unit)",
                "f.csv:7:2: dose [J/cm2]: found \"1e999\"; accepted: a number (decimal point, no unit)",
                "f.csv:8:1: found 3 cells; accepted: 2 cells, one under each header; numbers have a decimal point; a comma separates cells",
                "f.csv:9:1: lot: found an empty cell; accepted: the group of the value",
            ],
            problems);
    }

    [Theory]
    [InlineData("dose [J/cm2];lot\n7,25;A\n", "did you mean \"7.25\"?")]
    [InlineData("dose [J/cm2];lot\n7,25;A\n7,5;A\n8,1;B\n", "found \"7,25\", and 2 more with a decimal comma in this column; accepted: a number (decimal point, no unit); did you mean \"7.25\"? Save the file")]
    [InlineData("", "an empty file")]
    [InlineData("dose\n", "a header without rows")]
    [InlineData("dose\n7\n", "at least two values")]
    [InlineData("dose\n7\n7.0\n", "2 values that are all 7")]
    [InlineData("lot\nA\nB\n", "no column of numbers")]
    [InlineData("a,b\n1,2\n3,4\n", "2 columns of numbers: a, b; accepted: one of them, chosen with --column")]
    [InlineData("dose\n1e300\n2\n", "between 1e-60 and 1e60")]
    [InlineData("dose\n1e-300\n2\n", "between 1e-60 and 1e60")]
    [InlineData("dose\n7\n7.000000001\n", "less than 1e-9 of their size")]
    [InlineData("dose [furlong]\n1\n2\n", "the unit \"furlong\"")]
    [InlineData("dose [J/cm3]\n1\n2\n", "did you mean \"J/cm2\"?")]
    public void Text_ThatCannotBeUsed_SaysWhy(string text, string expected) =>
        Assert.Contains(expected, string.Join("\n", Bad(text).Select(p => p.ToString())), StringComparison.Ordinal);

    [Theory]
    [InlineData("dos", null, null, "did you mean \"dose\"?")]
    [InlineData("dose", "dose", null, "which is the column of values")]
    [InlineData("dose", null, "MPa", "for a column whose header says J/cm²")]
    [InlineData("dose", null, "xyz", "--unit: found \"xyz\"")]
    public void Choice_ThatDoesNotFit_SaysWhy(string column, string? group, string? unit, string expected) => Assert.Contains(
        expected, string.Join("\n", Bad("dose [J/cm2],dose_b\n1,2\n3,4\n".Replace("dose_b", "b", StringComparison.Ordinal), new(column, group, unit)).Select(p => p.ToString())), StringComparison.Ordinal);

    [Fact]
    public void Problems_InEveryRow_AreCountedBeyondAHundred()
    {
        var problems = Bad("dose\n1\n" + string.Concat(Enumerable.Repeat("x\n", 250)));
        Assert.Equal(101, problems.Length);
        Assert.Contains("150 more problems", problems[^1].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Quote_ThatIsNotClosed_EndsAtTheLongestCell() => Assert.Contains(
        "quotation mark", Bad("dose\n1\n\"" + new string('7', 20_000)).Single().ToString(), StringComparison.Ordinal);

    [Fact]
    public void Rows_BeyondTheLimit_AreRefused()
    {
        string text = "d\n" + string.Concat(Enumerable.Repeat("1\n", SampleFile.RowLimit)) + "2\n";
        Assert.Contains("more than 1000000 rows", Bad(text).Single().ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Unit_Option_GivesAHeaderWithoutUnitOne()
    {
        var sample = Good("dose\n7\n8\n", new(Unit: "J/cm2"));
        Assert.True(sample.Unit.TryRead("5000 mJ/cm2", out double value, out _));
        Assert.Equal(5.0, value);
    }

    [Theory]
    [InlineData("dose [J/cm2]", "7.1 J/cm2", 7.1)]
    [InlineData("dose [J/cm2]", "7100 mJ/cm²", 7.1)]
    [InlineData("dose [mJ/cm2]", "0.3 J/cm2", 300.0)]
    [InlineData("gap [mm]", "350 um", 0.35)]
    [InlineData("strength [MPa]", "12.5 N/mm2", 12.5)]
    [InlineData("reading", "1.5", 1.5)]
    public void Value_OfTheSameKind_IsConvertedToItsLastDigit(string header, string text, double expected)
    {
        Assert.True(Good($"{header}\n1\n2\n").Unit.TryRead(text, out double value, out string? problem), problem);
        Assert.Equal(expected, value);
    }

    [Theory]
    [InlineData("dose [J/cm2]", "7")]
    [InlineData("dose [J/cm2]", "7 W/cm2")]
    [InlineData("dose [J/cm2]", "±7 J/cm2")]
    [InlineData("reading", "7 J/cm2")]
    [InlineData("dose [J/cm2]", "")]
    public void Value_OfAnotherKind_IsRefused(string header, string text)
    {
        Assert.False(Good($"{header}\n1\n2\n").Unit.TryRead(text, out _, out string? problem));
        Assert.Contains("accepted:", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Bytes_ThatAreNotUtf8_AreRefusedByTheFile()
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(path, [0x64, 0x0A, 0xFF, 0xFE, 0x0A]);
            Assert.Contains("not UTF-8", SampleFile.Read(path, new()).Problems.Single().ToString(), StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }

        Assert.Contains("no such file", SampleFile.Read(path, new()).Problems.Single().ToString(), StringComparison.Ordinal);
        Assert.Contains("a folder", SampleFile.Read(Path.GetTempPath(), new()).Problems.Single().ToString(), StringComparison.Ordinal);
    }

    private static MeasuredSample Good(string text, SampleChoice? choice = null)
    {
        var reading = SampleFile.Parse("f.csv", Encoding.UTF8.GetBytes(text), choice ?? new());
        Assert.True(reading.Sample is not null, string.Join("\n", reading.Problems));
        return reading.Sample;
    }

    private static Problem[] Bad(string text, SampleChoice? choice = null)
    {
        var reading = SampleFile.Parse("f.csv", Encoding.UTF8.GetBytes(text), choice ?? new());
        Assert.Null(reading.Sample);
        return [.. reading.Problems];
    }
}
