using System.Collections.Immutable;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;

namespace CureSim.Tests.Reports.Pages;

/// <summary>When a requirement that is reached may be called met, and how machine headers are read out.</summary>
public sealed class TypicalBasisTests
{
    // quantities: typical known, typical unknown, own unknown; worlds; may it be called met?
    [Theory]
    [InlineData(0, 0, 0, 1, Judgement.Met)]
    [InlineData(3, 0, 0, 1, Judgement.Provisional)] // nothing shows how far they may be off
    [InlineData(3, 0, 0, 20, Judgement.Provisional)] // worlds, but nothing is unknown in them
    [InlineData(3, 0, 2, 20, Judgement.Met)] // the band rests on own inputs only
    [InlineData(3, 1, 2, 20, Judgement.Provisional)] // not separated
    [InlineData(0, 2, 0, 20, Judgement.Provisional)] // all of it
    public void Judge_ReachedRequirement_IsMetOnOwnBandOnly(int known, int typicalUnknown, int ownUnknown, int worlds, Judgement expected)
    {
        ImmutableArray<InputRow> rows =
        [
            .. Enumerable.Repeat(new InputRow("a", "guide", "3 %", "%", "typical", ""), known),
            .. Enumerable.Repeat(new InputRow("b", "world", "{ unknown: { uniform: … } }", "%", "typical", ""), typicalUnknown),
            .. Enumerable.Repeat(new InputRow("c", "world", "{ unknown: { uniform: … } }", "%", "yours", ""), ownUnknown),
            new InputRow("d", null, "shared", "", "typical", ""),
        ];
        var basis = TypicalBasis.Of(rows, worlds);
        Assert.Equal(expected, basis.Judge(true));
        Assert.Equal(Judgement.Missed, basis.Judge(false));
        Assert.Equal(expected == Judgement.Met && known + typicalUnknown > 0, basis.Words.Contains("is called met", StringComparison.Ordinal));
    }

    // Upper end of the share in per cent; may it be called met? The upper end decides, not the estimate.
    [Theory]
    [InlineData(0.02, 0.19, Judgement.Met)]
    [InlineData(0.02, 0.25, Judgement.Provisional)]
    public void Judge_SeparatedShare_CountsByItsUpperEnd(double share, double upper, Judgement expected)
    {
        var basis = new TypicalBasis(5, 2, 2, 3, 1, true) { Separated = CureSim.Core.Statistics.Estimate.Bounded(share, 0.05, 0.0, upper) };
        Assert.Equal(expected, basis.Judge(true));
        Assert.Contains($"2 (0 to {100 * upper:0}) % of the variance between worlds", basis.Words, StringComparison.Ordinal);
        var withheld = basis with { Separated = CureSim.Core.Statistics.Estimate.Withhold("20 worlds are too few") };
        Assert.Equal(Judgement.Provisional, withheld.Judge(true));
        Assert.Contains("not separated: 20 worlds are too few", withheld.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("irradiance_after_w_per_cm2", "Irradiance after, W/cm²")]
    [InlineData("parts_nonconforming_ppm", "Parts nonconforming, ppm")]
    [InlineData("ppm", "ppm")]
    [InlineData("x0_135_j_per_cm2", "0.135 % quantile, J/cm²")]
    [InlineData("time_s", "Time, s")]
    [InlineData("margin_se", "Margin standard error")]
    [InlineData("cost_p05", "Cost 5 % quantile")]
    [InlineData("target_w_per_cm2_from", "Target from, W/cm²")]
    [InlineData("dose_lower95", "Dose 95 % lower")]
    public void Header_InWords_HasItsUnit(string header, string words) => Assert.Equal(words, HeaderWords.Of(new Column(header, ColumnKind.Number)));

    [Fact]
    public void Table_OnAPage_LeavesOutEmptyColumnsAndRowsBeyondThirty()
    {
        var table = new Table("x", new Column("a_ppm", ColumnKind.Whole), new Column("b", ColumnKind.Text));
        for (int i = 0; i < 31; i++)
        {
            table.Add(i, Cell.Missing);
        }

        var page = PageTable.Of(table);
        Assert.Equal(["a, ppm"], page.Columns.Select(c => c.Heading));
        Assert.Equal((30, 31, "tables/x.csv"), (page.Rows.Length, page.Total, page.File));
    }
}
