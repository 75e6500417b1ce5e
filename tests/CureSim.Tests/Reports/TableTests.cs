using System.Globalization;
using System.Text;
using CsvHelper;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;

namespace CureSim.Tests.Reports;

public class TableTests
{
    private static Table Example() => new Table(
            "capability",
            new Column("response", ColumnKind.Text, "Response"),
            new Column("bonds", ColumnKind.Whole, "Bonds"),
            new Column("mean_j_per_cm2", ColumnKind.Number, "Mean, J/cm²", decimals: 2))
        .Add("dose", 1250000, 7.123456789012345)
        .Add("degree of cure", Cell.Missing, -0.1);

    [Fact]
    public void Csv_Example_ExactText() => Assert.Equal(
        "response,bonds,mean_j_per_cm2\ndose,1250000,7.123456789012345\ndegree of cure,,-0.1\n", CsvText.Of(Example()));

    [Fact]
    public void Csv_Doubles_ReadBackToTheSameBits()
    {
        double[] values = [0.1, 1.0 / 3, 1e-300, 1.7976931348623157e308, -2.5e-7, 123456789.123, 5e-324];
        var table = new Table("t", new Column("x", ColumnKind.Number));
        foreach (double value in values)
        {
            table.Add(value);
        }

        string[] lines = CsvText.Of(table).TrimEnd('\n').Split('\n');
        Assert.Equal(values, lines.Skip(1).Select(l => double.Parse(l, CultureInfo.InvariantCulture)));
    }

    [Fact]
    public void Csv_MinusZero_IsZero() => Assert.Equal("x\n0\n", CsvText.Of(new Table("t", new Column("x", ColumnKind.Number)).Add(-0.0)));

    /// <summary>A spreadsheet runs a cell that begins with one of these; with an apostrophe in front it shows it. Common practice, no source.</summary>
    [Theory]
    [InlineData("=cmd|' /C calc'!A0")]
    [InlineData("+1+1")]
    [InlineData("-2+3")]
    [InlineData("@SUM(1)")]
    [InlineData("\t=1")]
    [InlineData("\r=1")]
    [InlineData("＝1")]
    public void Csv_TextThatWouldRun_GetsAnApostrophe(string text)
    {
        string csv = CsvText.Of(new Table("t", new Column("a", ColumnKind.Text), new Column("b", ColumnKind.Number)).Add(text, -5.0));
        using var reader = new CsvReader(new StringReader(csv), CultureInfo.InvariantCulture);
        reader.Read();
        reader.Read();
        Assert.Equal("'" + text, reader.GetField(0));
        Assert.Equal("-5", reader.GetField(1)); // a negative number is no formula
        Assert.EndsWith(",-5\n", csv, StringComparison.Ordinal); // and is not quoted
    }

    [Fact]
    public void Csv_CommasQuotesAndLineBreaks_ReadBack()
    {
        const string text = "a, \"b\"\nc";
        string csv = CsvText.Of(new Table("t", new Column("a", ColumnKind.Text)).Add(text));
        Assert.Equal("a\n\"a, \"\"b\"\"\nc\"\n", csv); // RFC 4180, section 2, rules 6 and 7
    }

    [Fact]
    public void Csv_ByteOrderMark_OnlyWhereLettersNeedIt()
    {
        byte[] plain = CsvText.Bytes(Example());
        Assert.Equal((byte)'r', plain[0]);
        byte[] accented = CsvText.Bytes(new Table("t", new Column("a", ColumnKind.Text)).Add("Härtung"));
        Assert.Equal([0xEF, 0xBB, 0xBF], accented[..3]);
        Assert.Equal("a\nHärtung\n", Encoding.UTF8.GetString(accented[3..]));
    }

    [Fact]
    public void Table_WrongCells_Refused()
    {
        Table table = Example();
        Assert.Throws<ArgumentException>(() => table.Add("dose", 1));
        Assert.Throws<ArgumentException>(() => table.Add("dose", 1.5, 2.0));
        Assert.Throws<ArgumentException>(() => table.Add("dose", "many", 2.0));
        Assert.Throws<ArgumentOutOfRangeException>(() => table.Add("dose", 1, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => (Cell)double.PositiveInfinity);
        Assert.Equal(2, table.Rows.Count);
    }

    [Theory]
    [InlineData("Dose")]
    [InlineData("dose J/cm2")]
    [InlineData("")]
    [InlineData("2nd")]
    public void Column_HeaderNotForMachines_Refused(string header) =>
        Assert.Throws<ArgumentException>(() => new Column(header, ColumnKind.Number));

    [Fact]
    public void Table_SameColumnTwiceOrBadName_Refused()
    {
        Assert.Throws<ArgumentException>(() => new Table("t", new Column("a", ColumnKind.Text), new Column("a", ColumnKind.Text)));
        Assert.Throws<ArgumentException>(() => new Table("../t", new Column("a", ColumnKind.Text)));
        Assert.Throws<ArgumentException>(() => new Table("t", []));
    }

    [Fact]
    public void Aligned_Example_NumbersToTheRight()
    {
        string text = AlignedText.Of(Example(), TerminalText.For(Encoding.UTF8).Of);
        Assert.Equal(
            "Response            Bonds  Mean, J/cm²\n" +
            "dose            1 250 000         7.12\n" +
            "degree of cure          –        −0.10\n", text);
        string ascii = AlignedText.Of(Example(), TerminalText.For(Encoding.ASCII).Of);
        Assert.Equal(
            "Response            Bonds  Mean, J/cm2\n" +
            "dose            1 250 000         7.12\n" +
            "degree of cure          -        -0.10\n", ascii);
    }
}
