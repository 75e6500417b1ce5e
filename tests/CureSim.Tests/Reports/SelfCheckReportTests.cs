using CureSim.Reports.SelfCheck;
using CureSim.Reports.Tables;

namespace CureSim.Tests.Reports;

/// <summary>The record of a self-check: counts, text, page. The items are invented.</summary>
public class SelfCheckReportTests
{
    private static readonly CheckedPlace Place = new("0.1.0", "abc", new DateTimeOffset(2026, 3, 1, 12, 0, 0, TimeSpan.Zero), 9.25, 2, "Some <system>", "X64, 2 processors", "AVX2", ".NET 10");

    private static readonly CheckedItem Good = new(
        "A-1", "tails", "Something & <b>more</b>", "JCGM 101:2008, 9.2.2, table 2", "recomputed + recalled from memory", true, true, null, "x 1", "x 1.01 ± 0.02 (+0.5)",
        "3 standard errors", true, 0.06, 2);

    private static readonly CheckedItem Bad = Good with { Id = "A-2", Passed = false, Found = "DivideByZeroException: " + new string('y', 200), SmallestDetectable = null, IsSampled = false };

    private static CheckedItem Size(string id) => Good with { Id = id, Topic = "sizes", CountedWith = "sample sizes", ThroughEngine = false };

    [Fact]
    public void Count_SampleSizes_CountAsOne()
    {
        var record = new SelfCheckRecord([Good, Size("S-1"), Size("S-2"), Size("S-3")], Place, 4);
        Assert.Equal(2, record.Count);
        Assert.Equal(1, record.ThroughEngine);
        Assert.Equal(8, record.Figures);
        Assert.True(record.AllPassed);
        Assert.False(record.IsSelection);
        Assert.Equal(1L, SelfCheckTables.ByTopic(record).Rows[1][1].Raw);
        Assert.Equal("R M", SelfCheckRecord.Letters(Good.Provenance));
    }

    [Fact]
    public void Record_WithoutChecks_HasNotPassed() => Assert.False(new SelfCheckRecord([], Place, 4).AllPassed);

    [Fact]
    public void Text_Miss_IsInFullAndInTheVerdict()
    {
        var text = new SelfCheckText(new SelfCheckRecord([Good, Bad], Place, 2), 110);
        string misses = text.Misses().Replace("\n", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal);
        Assert.Contains(new string('y', 200), misses, StringComparison.Ordinal);
        Assert.Contains("MISS A-2", text.Misses(), StringComparison.Ordinal);
        Assert.DoesNotContain("A-1", text.Misses(), StringComparison.Ordinal);
        Assert.StartsWith("1 MISSED of 2 checks of 4 figures", text.Verdict(), StringComparison.Ordinal);
        Assert.Contains("A selection of 2 of 9", new SelfCheckText(new SelfCheckRecord([Good, Bad], Place, 9)).Verdict(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(80, null)]
    [InlineData(100, 2)]
    [InlineData(120, 5)]
    public void Text_Table_KeepsItsWidthAndShowsTheSmallestError(int width, int? lines)
    {
        string table = new SelfCheckText(new SelfCheckRecord([Good, Bad], Place, 2), width).Table(lines);
        Assert.All(table.Split('\n'), line => Assert.True(line.Length <= width, line));
        Assert.Contains("would show an", table, StringComparison.Ordinal);
        Assert.Equal(lines is not null, table.Contains('…', StringComparison.Ordinal));
    }

    [Fact]
    public void Page_EscapesEverything_AndNeedsNothingElse()
    {
        string page = SelfCheckPage.Of(new SelfCheckRecord([Good, Bad], Place, 2));
        Assert.DoesNotContain("<b>", page, StringComparison.Ordinal);
        Assert.Contains("Something &amp; &lt;b&gt;more&lt;/b&gt;", page, StringComparison.Ordinal);
        Assert.Contains("Some &lt;system&gt;", page, StringComparison.Ordinal);
        Assert.All(["<script", "http:", "https:", "url(h", "url(/", "url(\"", "<img", "<link"], forbidden => Assert.DoesNotContain(forbidden, page, StringComparison.OrdinalIgnoreCase));
        Assert.All(["Made by", "Reviewed by", "Signature", "Date", "Cautions", "@page wide { size: landscape; }", "<main class=\"form\">"], wanted => Assert.Contains(wanted, page, StringComparison.Ordinal));

        // One rule of security for all pages: style by its hash, nothing else, no attribute that would need more.
        Assert.Contains("default-src &#x27;none&#x27;; style-src &#x27;sha256-", page, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", page, StringComparison.Ordinal);
        Assert.DoesNotMatch(" (style|on[a-z]+)=\"", page);
        Assert.Equal(page.Split("<table").Length, page.Split("<caption>").Length);

        // The miss stands in a part of its own and in its topic.
        Assert.Equal(3, page.Split("<tr class=\"miss\">").Length);
    }

    [Fact]
    public void Tables_HoldNoTimeAndNoMachine()
    {
        byte[] Bytes(CheckedPlace place) => [.. SelfCheckTables.Of(new SelfCheckRecord([Good, Bad], place, 2)).SelectMany(CsvText.Bytes), .. SelfCheckSummary.Of(new SelfCheckRecord([Good, Bad], place, 2)).ToBytes()];
        Assert.Equal(Bytes(Place), Bytes(Place with { Started = Place.Started.AddDays(1), Seconds = 1, Threads = 7, System = "other", Runtime = "other" }));
    }
}
