using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Values with units. The factors are those of the SI Brochure (BIPM, 9th ed. 2019); percent is 1/100.</summary>
public class UnitTests
{
    // 8-hour shifts, 16-hour days, 5-day weeks, 50-week years: a week is 80 h, a year 4000 h, a month 4000/12 h.
    private static readonly WorkCalendar Clock = new(28800, 28800, 16 * 3600, 80 * 3600, 4000 * 3600, true);

    // Two roundings at most separate a conversion from the exact quotient: 4 ulp is generous.
    private const double Relative = 1e-15;

    [Theory]
    [InlineData("length", "12 mm", 0.012)]
    [InlineData("length", "300 um", 3e-4)]
    [InlineData("length", "300 µm", 3e-4)]
    [InlineData("length", "1.5cm", 0.015)]
    [InlineData("length", "-0.2 mm", -0.0002)]
    [InlineData("length", "1e-3 m", 0.001)]
    [InlineData("irradiance", "6.5 W/cm2", 65000)]
    [InlineData("irradiance", "6.5 W/cm²", 65000)]
    [InlineData("irradiance", "6.5 W/cm^2", 65000)]
    [InlineData("irradiance", "250 mW/cm2", 2500)]
    [InlineData("irradiance", "1000 W/m2", 1000)]
    [InlineData("dose", "7 J/cm2", 70000)]
    [InlineData("dose", "700 mJ/cm2", 7000)]
    [InlineData("dose", "7 J/m2", 7)]
    [InlineData("angle", "180 deg", Math.PI)]
    [InlineData("angle", "90°", Math.PI / 2)]
    [InlineData("angle", "20 mrad", 0.02)]
    [InlineData("attenuation", "0.25 /mm", 250)]
    [InlineData("attenuation", "2.5/cm", 250)]
    [InlineData("ratio", "4 %", 0.04)]
    [InlineData("ratio", "±4 %", 0.04)]
    [InlineData("ratio", "+/- 4 %", 0.04)]
    [InlineData("time", "8 ms", 0.008)]
    [InlineData("time", "2.3 s", 2.3)]
    [InlineData("time", "20 min", 1200)]
    [InlineData("lit_time", "2400 h", 8640000)]
    [InlineData("part_rate", "240 /h", 240.0 / 3600)]
    [InlineData("part_rate", "4 /min", 4.0 / 60)]
    [InlineData("cure_rate", "0.9 /s", 0.9)]
    [InlineData("event_rate", "1 /1000 h", 1 / 3.6e6)]
    [InlineData("event_rate", "2 /yr", 2 / (4000 * 3600.0))]
    [InlineData("drift", "0.3 %/1000 h", 0.003 / 3.6e6)]
    [InlineData("drift", "-1 %/yr", -0.01 / (4000 * 3600.0))]
    [InlineData("drift", "0.1%/month", 0.001 / (4000 * 3600.0 / 12))]
    [InlineData("lit_loss", "2 %/1000 h", 0.02 / 3.6e6)]
    [InlineData("fouling", "1.2 %/10000", 1.2e-6)]
    [InlineData("fouling", "0.12 %/1000 exposures", 1.2e-6)]
    [InlineData("fouling", "0.001 %/exposure", 1e-5)]
    [InlineData("number", "1.33", 1.33)]
    [InlineData("production_time", "6000 h", 2.16e7)]
    [InlineData("interval", "1 week", 80 * 3600)]
    [InlineData("interval", "2 weeks", 160 * 3600)]
    [InlineData("interval", "1 shift", 28800)]
    [InlineData("interval", "quarter", 1000 * 3600)]
    [InlineData("interval", "1 half year", 2000 * 3600)]
    [InlineData("interval", "1 month", 4000 * 3600 / 12.0)]
    [InlineData("interval", "5 yr", 20000 * 3600.0)]
    public void Value_WithUnit_IsRead(string dimension, string text, double si)
    {
        Assert.True(ValueText.TryRead(text, Named(dimension), Clock, out ReadValue value, out _));
        Assert.InRange(value.Si, si - (Relative * Math.Abs(si)), si + (Relative * Math.Abs(si)));
        Assert.Equal(text.StartsWith('±') || text.StartsWith("+/-", StringComparison.Ordinal), value.PlusMinus);
    }

    [Theory]
    [InlineData("length", "12", "did you mean \"12 mm\"?")]
    [InlineData("length", "12 mn", "did you mean \"12 mm\"?")]
    [InlineData("length", "3,5 mm", "did you mean \"3.5 mm\"?")]
    [InlineData("lit_time", "2,400 h", "did you mean \"2400 h\"?")]
    [InlineData("lit_time", "1 week", null)]
    [InlineData("lit_time", "1e999 h", null)]
    [InlineData("irradiance", "ten W", null)]
    [InlineData("irradiance", "6.5 w/cm2", "did you mean \"6.5 W/cm2\"?")]
    [InlineData("interval", "weak", "did you mean \"week\"?")]
    [InlineData("ratio", "0.04", "did you mean \"0.04 %\"?")]
    [InlineData("number", "4 %", null)]
    [InlineData("drift", "2 %", null)]
    [InlineData("event_rate", "1 /0 h", null)]
    [InlineData("fouling", "1 %/h", null)]
    [InlineData("length", "", null)]
    [InlineData("length", "mm", null)]
    public void Value_ThatIsNone_IsRefusedWithWhatWasProbablyMeant(string dimension, string text, string? suggestion)
    {
        Assert.False(ValueText.TryRead(text, Named(dimension), Clock, out _, out string? found));
        Assert.Equal(suggestion, found);
    }

    [Fact]
    public void Every_Example_IsAcceptedByItsOwnDimensionAndItsPattern()
    {
        foreach (Dimension dimension in Dimension.All)
        {
            Assert.True(ValueText.TryRead(dimension.Example, dimension, Clock, out _, out _), dimension.Key);
            Assert.Matches(dimension.Pattern, dimension.Example);
        }
    }

    private static Dimension Named(string key) => Dimension.All.Single(d => d.Key == key);
}
