using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using CureSim.Reports.Pages;

namespace CureSim.Tests.Reports.Pages;

/// <summary>What can be said of a page without a browser: structure, policy, escaping, order. A browser and two validators look at it in tests/pages/check.sh.</summary>
public sealed partial class ReportPageTests
{
    private static readonly ReportPart Part = new(ReportExamples.Content, ReportExamples.Record);
    private static readonly string Page = ReportPage.Of([Part]);
    private static readonly string Two = ReportPage.Of([Part with { Folder = "a/run" }, Part with { Folder = "b/run" }], "Two <b>studies</b>");

    public static TheoryData<bool> Both => [false, true];

    [Theory]
    [MemberData(nameof(Both))]
    public void Page_HostileTexts_StandAsText(bool dossier)
    {
        string page = dossier ? Two : Page;
        Assert.Equal(1, Regex.Count(page, "<script"));
        Assert.DoesNotContain("<img", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>", page, StringComparison.Ordinal);
        Assert.DoesNotContain(ReportExamples.Hostile, page, StringComparison.Ordinal);
        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt; &quot;quoted&quot; &amp; &#x27;single&#x27;", page, StringComparison.Ordinal);
        Assert.Contains("測試 Ωμέγα Кириллица עברית", page, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public void Page_Identifiers_AreUniqueAndTargetsExist(bool dossier)
    {
        string page = dossier ? Two : Page;
        string[] ids = [.. Ids().Matches(page).Select(m => m.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.All(Targets().Matches(page), m => Assert.Contains(m.Groups[1].Value, ids));
        Assert.All(Labelled().Matches(page).SelectMany(m => m.Groups[1].Value.Split(' ')), id => Assert.Contains(id, ids));
    }

    // W3C WCAG 2.2: 1.1.1 (alternatives), 1.3.1 (headings, header cells), 2.4.2 (title), 3.1.1 (language).
    [Theory]
    [MemberData(nameof(Both))]
    public void Page_Accessible_InWhatMarkupCanSay(bool dossier)
    {
        string page = dossier ? Two : Page;
        Assert.Contains("<html lang=\"en\">", page, StringComparison.Ordinal);
        Assert.Equal(1, Regex.Count(page, "<h1"));
        int[] levels = [.. Headings().Matches(page).Select(m => int.Parse(m.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture))];
        Assert.All(levels.Zip(levels.Skip(1)), pair => Assert.True(pair.Second <= pair.First + 1, $"a heading of level {pair.Second} after one of level {pair.First}"));
        Assert.Equal(Regex.Count(page, "<svg"), Regex.Count(page, "<svg[^>]*role=\"img\"[^>]*aria-labelledby=\"[^\"]+\""));
        Assert.Equal(Regex.Count(page, "<table"), Regex.Count(page, "<caption>"));
        Assert.DoesNotMatch("<th(?![^>]*scope=\"col\")[ >]", page);
        Assert.DoesNotContain("tabindex=\"1", page, StringComparison.Ordinal);
    }

    // W3C Content Security Policy Level 3: an inline block runs only when the policy names its SHA-256.
    [Fact]
    public void Page_Policy_NamesStyleAndScriptAndNothingFromElsewhere()
    {
        string policy = Regex.Match(Page, "http-equiv=\"Content-Security-Policy\" content=\"([^\"]*)\"").Groups[1].Value.Replace("&#x27;", "'", StringComparison.Ordinal).Replace("&#x2B;", "+", StringComparison.Ordinal);
        string Hash(string element) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Regex.Match(Page, $"<{element}>(.*?)</{element}>", RegexOptions.Singleline).Groups[1].Value)));
        Assert.Contains($"style-src '{Hash("style")}'", policy, StringComparison.Ordinal);
        Assert.Contains($"script-src '{Hash("script")}'", policy, StringComparison.Ordinal);
        Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.DoesNotMatch(" (style|on[a-z]+)=\"", Page);
        Assert.All(Addresses().Matches(Page), m => Assert.StartsWith("http://www.w3.org/", m.Value, StringComparison.Ordinal));
    }

    [Fact]
    public void Page_Order_QuestionAnswerPictureEvidenceAssumptionsMethodChecksCautionsRecord()
    {
        string[] inOrder = ["class=\"question\"", "class=\"word\"", "class=\"sentence\"", "Largest assumption", "id=\"picture\"", "id=\"evidence-1\"", "id=\"assumptions\"", "id=\"method\"", "id=\"not-modelled\"", "id=\"checks\"", "id=\"cautions\"", "id=\"record\"", "curesim reproduce FOLDER"];
        int[] places = [.. inOrder.Select(t => Page.IndexOf(t, StringComparison.Ordinal))];
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
    }

    [Fact]
    public void Page_TypicalInputs_AreMarked_AndLongTablesShortenedWithTheWayToTheRest()
    {
        Assert.Contains("<tr class=\"typical\">", Page, StringComparison.Ordinal);
        Assert.Equal(1, Regex.Count(Page, "<tr class=\"typical\">"));
        Assert.Contains("The first 30 of 45 rows; all in tables/x.csv.", Page, StringComparison.Ordinal);
        Assert.Contains("<th scope=\"col\" class=\"n\">Value, ppm</th>", Page, StringComparison.Ordinal);
    }

    [Fact]
    public void Page_TwoRecords_DifferInNothingButTheRecord()
    {
        string other = ReportPage.Of([Part with { Record = ReportExamples.Record with { Started = DateTimeOffset.UnixEpoch, DurationSeconds = 9, Threads = 7, Machine = "other", Runtime = "other", Version = "9" } }]);
        Assert.NotEqual(Page, other);
        Assert.Equal(ReportPage.WithoutRecord(Page), ReportPage.WithoutRecord(other));
        string seed = ReportPage.Of([Part with { Record = ReportExamples.Record with { Seed = 1 } }]);
        Assert.NotEqual(ReportPage.WithoutRecord(Page), ReportPage.WithoutRecord(seed));
    }

    [Fact]
    public void Page_RecordMarkersInAText_CutNothingOut()
    {
        string forged = ReportPage.Of([Part with { Content = ReportExamples.Content with { Answer = "<!-- record of this run -->", HowSure = "42 <!-- end of record -->" } }]);
        Assert.Contains("42 ", ReportPage.WithoutRecord(forged), StringComparison.Ordinal);
    }

    [Fact]
    public void Dossier_FiguresAndTables_AreNumberedThrough()
    {
        int Largest(string page, string what) => Regex.Matches(page, $"<strong>{what} ([0-9]+)\\.").Select(m => int.Parse(m.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture)).Max();
        Assert.Equal(2 * Largest(Page, "Figure"), Largest(Two, "Figure"));
        Assert.Equal(2 * Largest(Page, "Table"), Largest(Two, "Table"));
    }

    [Fact]
    public void Pdf_SameReport_SameBytes_WithFontAndTitle()
    {
        byte[] one = ReportPdf.Of([Part]), two = ReportPdf.Of([Part]);
        Assert.Equal(one, two);
        string text = Encoding.Latin1.GetString(one);
        Assert.StartsWith("%PDF-", text, StringComparison.Ordinal);
        Assert.Contains("Inter-Regular", text, StringComparison.Ordinal);
        Assert.Contains("/FontFile2", text, StringComparison.Ordinal);
        Assert.True(Regex.Count(text, "/Type /Page\\b") > 3);
        Assert.NotEmpty(ReportPdf.Of([Part with { Folder = "a" }, Part with { Folder = "b" }], "Two"));
    }

    [Fact]
    public void Pdf_WordsWithoutASpace_AreCutAndNotMeasuredForEver()
    {
        // Pairs of surrogates may be cut when a word is measured, and a word may be longer than a page.
        string pairs = string.Concat(Enumerable.Repeat("\U0001F600", 300)), letters = new('x', 20_000);
        Assert.NotEmpty(ReportPdf.Of([Part with { Content = ReportExamples.Content with { Question = $"{pairs} {letters}" } }]));
    }

    // Every figure is there twice, for a wide and for a narrow screen; the style shows one of them at a time.
    [Fact]
    public void Page_Figures_HaveANarrowForm()
    {
        Assert.Equal(Regex.Count(Page, "<figure"), Regex.Count(Page, "<div class=\"pan narrow\">"));
        Assert.Contains(".pan { display: none; } .narrow { display: block; }", Page, StringComparison.Ordinal);
        Assert.Contains("th button { display: contents; }", Page, StringComparison.Ordinal);
    }

    // The words of a page are those of docs/glossary.md, which the assembly carries.
    [Fact]
    public void Page_Words_AreExplainedOnceTheyAreUsed()
    {
        Assert.True(GlossaryWords.All.Length >= 25);
        Assert.All(GlossaryWords.All, row => Assert.False(row.Meaning.Contains("](", StringComparison.Ordinal) || row.Meaning.Length == 0, row.Word));
        string[] words = [.. GlossaryWords.In(ReportExamples.Content with { Answer = "The state index in 19 of 20 worlds.", Decision = "Provisional" }).Select(w => w.Word)];
        Assert.Equal(["provisional", "state index", "world"], words.Where(w => w is "provisional" or "state index" or "world" or "guard band"));
        Assert.Contains("href=\"#words\"", Page, StringComparison.Ordinal);
    }

    [GeneratedRegex(" id=\"([^\"]+)\"")]
    private static partial Regex Ids();

    [GeneratedRegex("href=\"#([^\"]+)\"")]
    private static partial Regex Targets();

    [GeneratedRegex("aria-labelledby=\"([^\"]+)\"")]
    private static partial Regex Labelled();

    [GeneratedRegex("<h([1-6])[ >]")]
    private static partial Regex Headings();

    [GeneratedRegex("https?://[^\" <)']+")]
    private static partial Regex Addresses();
}
