using CureSim.Reports.Figures;
using CureSim.Reports.Rendering;
using OxyPlot;

namespace CureSim.Tests.Reports;

public class PaletteTests
{
    private static readonly Tone[] Series = [Tone.First, Tone.Second, Tone.Third, Tone.Fourth, Tone.Fifth];

    /// <summary>Published points of the scale. Source: W3C WCAG 2.2, contrast ratio of black on white 21 : 1 (found published); mid grey 119 of
    /// sRGB has L* 50.03 (recomputed).</summary>
    [Fact]
    public void Lightness_KnownColours_KnownValues()
    {
        Assert.Equal(100, Palette.Lightness(OxyColors.White), 1e-9); // the weights sum to one but for rounding
        Assert.Equal(0, Palette.Lightness(OxyColors.Black), 1e-12);
        Assert.Equal(21, Contrast(OxyColors.Black, OxyColors.White), 1e-9);
        Assert.Equal(50.03, Palette.Lightness(OxyColor.FromRgb(119, 119, 119)), 0.01); // two decimals stated
    }

    /// <summary>Source: Okabe and Ito, Color Universal Design (2008): blue 0 114 178, orange 230 159 0, reddish purple 204 121 167,
    /// vermilion 213 94 0 (found published).</summary>
    [Fact]
    public void Hues_TakenUnchanged_AreThePublishedOnes()
    {
        Assert.Equal(OxyColor.FromRgb(0, 114, 178), Palette.Line(Tone.First));
        Assert.Equal(OxyColor.FromRgb(230, 159, 0), Palette.Line(Tone.Second));
        Assert.Equal(OxyColor.FromRgb(204, 121, 167), Palette.Line(Tone.Fourth));
        Assert.Equal(OxyColor.FromRgb(213, 94, 0), Palette.Limit);
    }

    [Fact]
    public void Series_PrintedGrey_StayApart()
    {
        double[] lightness = [.. Series.Select(t => Palette.Lightness(Palette.Line(t))).Order()];
        for (int i = 1; i < lightness.Length; i++)
        {
            Assert.True(lightness[i] - lightness[i - 1] >= 9, $"L* {lightness[i - 1]:F1} and {lightness[i]:F1}"); // 9: about four just noticeable steps
        }
    }

    [Fact]
    public void Series_SecondCue_NoDashTwiceExceptBackground() =>
        Assert.Equal(Series.Length, Series.Select(t => string.Join(',', Palette.Dash(t) ?? [])).Distinct().Count());

    /// <summary>Source: W3C WCAG 2.2, success criterion 1.4.3: text needs a contrast of at least 4.5 (found published).</summary>
    [Fact]
    public void Text_OnPaper_HasContrast()
    {
        IEnumerable<OxyColor> texts = Enum.GetValues<Tone>().Select(Palette.Text).Append(Palette.Ink).Append(Palette.SecondText).Append(Palette.LimitText);
        foreach (OxyColor text in texts)
        {
            Assert.True(Contrast(text, Palette.Paper) >= 4.5, $"{text}: {Contrast(text, Palette.Paper):F2}");
        }
    }

    [Theory]
    [InlineData(2)]
    [InlineData(7)]
    [InlineData(10)]
    public void MapSteps_BetterValues_AreDarker(int steps)
    {
        for (int requirement = 0; requirement <= steps; requirement++)
        {
            double[] lightness = [.. Enumerable.Range(0, steps).Select(s => Palette.Lightness(Palette.MapStep(s, steps, s >= requirement)))];
            Assert.Equal(lightness.OrderDescending(), lightness);
        }
    }

    private static double Contrast(OxyColor a, OxyColor b)
    {
        double[] y = [.. new[] { Palette.Luminance(a), Palette.Luminance(b) }.Order()];
        return (y[1] + 0.05) / (y[0] + 0.05);
    }
}
