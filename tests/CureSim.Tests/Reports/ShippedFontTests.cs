using System.Buffers.Binary;
using CureSim.Reports.Rendering;
using CureSim.Reports.Text;

namespace CureSim.Tests.Reports;

/// <summary>Text is measured in the shipped font: checked against the advance widths in the font file itself.</summary>
public class ShippedFontTests
{
    [Theory]
    [InlineData("Inter-Regular.ttf", 400)]
    [InlineData("Inter-SemiBold.ttf", 600)]
    public void MeasureText_Letters_SumOfAdvanceWidthsInTheFontFile(string file, double weight)
    {
        const string text = "Dose in J/cm² 12 345 ± 0.1";
        const double size = 100;
        var font = new TrueTypeFile(file);
        double expected = text.Sum(c => font.AdvanceWidth(c)) * size / font.UnitsPerEm;

        using var context = new FontContext();
        double measured = context.MeasureText(text, "no such font", size, weight).Width;

        // Skia works in 26.6 fixed point from the font's units: 1/64 unit a letter at the most.
        Assert.InRange(measured, expected - (text.Length / 64.0), expected + (text.Length / 64.0));
    }

    [Fact]
    public void Faces_Weights_AreDifferentFiles()
    {
        Assert.Equal("Inter", ShippedFont.Face(400).FamilyName);
        Assert.NotSame(ShippedFont.Face(400), ShippedFont.Face(600));
        Assert.Same(ShippedFont.Face(600), ShippedFont.Face(700));
    }

    [Theory]
    [InlineData("0123456789.\u2212\u202F\u00A0×⁰¹²³⁴⁵⁶⁷⁸⁹⁻()%°/")] // what number formats write
    [InlineData("²³·±µμ°≤≥–—αβγσληΔ≈½→…äöüßéèñçøåłşž€£")] // units, trade signs, names of European languages
    public void Faces_SignsThatFiguresUse_HaveGlyphs(string signs)
    {
        foreach (char sign in signs)
        {
            Assert.True(ShippedFont.Face(400).ContainsGlyph(sign), $"U+{(int)sign:X4}");
            Assert.True(ShippedFont.Face(600).ContainsGlyph(sign), $"U+{(int)sign:X4}");
        }
    }

    [Fact]
    public void Licence_OfTheFont_IsShipped()
    {
        string licence = FigureFont.Licence();
        Assert.Contains("SIL OPEN FONT LICENSE Version 1.1", licence, StringComparison.Ordinal);
        Assert.Contains("Inter Project Authors", licence, StringComparison.Ordinal);
        Assert.DoesNotContain("Reserved Font Name \"Inter\"", licence, StringComparison.Ordinal);
    }

    [Fact]
    public void CssFaces_Data_IsTheFontFile()
    {
        string css = FigureFont.CssFaces();
        string first = css.Split("base64,")[1].Split(')')[0];
        using Stream file = FigureFont.Open("Inter-Regular.ttf");
        using var bytes = new MemoryStream();
        file.CopyTo(bytes);
        Assert.Equal(bytes.ToArray(), Convert.FromBase64String(first));
    }

    /// <summary>Just enough of a TrueType reader (ISO/IEC 14496-22: tables head, hhea, hmtx, cmap format 4) to look widths up.</summary>
    private sealed class TrueTypeFile
    {
        private readonly byte[] _bytes;

        public TrueTypeFile(string name)
        {
            using Stream stream = FigureFont.Open(name);
            using var copy = new MemoryStream();
            stream.CopyTo(copy);
            _bytes = copy.ToArray();
        }

        public int UnitsPerEm => Word(Table("head") + 18);

        public int AdvanceWidth(char c) => Word(Table("hmtx") + (4 * Math.Min(Glyph(c), Word(Table("hhea") + 34) - 1)));

        private int Glyph(char c)
        {
            int cmap = Table("cmap");
            int sub = Enumerable.Range(0, Word(cmap + 2)).Select(i => cmap + (int)Long(cmap + 8 + (8 * i))).First(s => Word(s) == 4);
            int segments = Word(sub + 6) / 2;
            for (int i = 0; i < segments; i++)
            {
                int end = Word(sub + 14 + (2 * i));
                int startAt = sub + 16 + (2 * segments) + (2 * i);
                if (c <= end && c >= Word(startAt))
                {
                    int delta = Word(startAt + (2 * segments));
                    int offsetAt = startAt + (4 * segments);
                    int offset = Word(offsetAt);
                    int glyph = offset == 0 ? c : Word(offsetAt + offset + (2 * (c - Word(startAt))));
                    return (glyph + delta) & 0xFFFF;
                }
            }

            throw new InvalidOperationException($"no glyph for U+{(int)c:X4}");
        }

        private int Table(string tag)
        {
            for (int i = 0; i < Word(4); i++)
            {
                int at = 12 + (16 * i);
                if (System.Text.Encoding.ASCII.GetString(_bytes, at, 4) == tag)
                {
                    return (int)Long(at + 8);
                }
            }

            throw new InvalidOperationException($"no table {tag}");
        }

        private int Word(int at) => BinaryPrimitives.ReadUInt16BigEndian(_bytes.AsSpan(at));

        private uint Long(int at) => BinaryPrimitives.ReadUInt32BigEndian(_bytes.AsSpan(at));
    }
}
