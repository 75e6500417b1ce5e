using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>How values, spreads and ignorance become quantities.</summary>
public class QuantityTests
{
    // Means and deviations of textbook distributions, recomputed by hand beside each; 1e-12 covers the roundings of a few operations.
    private const double Relative = 1e-12;

    private static void Near(double expected, double actual) => Assert.InRange(actual, expected - (Relative * Math.Abs(expected)), expected + (Relative * Math.Abs(expected)));

    private static Quantity Thickness(string text) => ScenarioFiles.Cell("substrate={ thickness: " + text + ", absorption: 0.1 /mm }").Substrate!.Thickness;

    [Fact]
    public void Plain_Value_IsFixed()
    {
        Quantity q = Thickness("1.2 mm");
        Assert.Equal("substrate.thickness", q.Path);
        Assert.Equal(Level.Part, q.Level);
        Assert.True(q.IsFixed);
        Near(0.0012, q.Mean);
    }

    [Theory]
    [InlineData("{ normal: { mean: 3 mm, sd: 0.2 mm } }", 0.003, 0.0002)]
    [InlineData("{ normal: { mean: 3 mm, sd: 5 % } }", 0.003, 0.00015)]
    [InlineData("{ lognormal: { mean: 3 mm, sd: 10 % } }", 0.003, 0.0003)]
    [InlineData("{ uniform: { from: 2 mm, to: 4 mm } }", 0.003, 0.00057735026918962576)]            // (b − a)/√12
    [InlineData("{ triangular: { from: 1 mm, peak: 2 mm, to: 6 mm } }", 0.003, 0.0010801234497346434)]  // mean 9/3; variance (1+4+36−2−6−12)/18 = 21/18
    [InlineData("{ beta_pert: { from: 1 mm, peak: 2 mm, to: 6 mm } }", 0.0025, 0.00086602540378443865)] // mean (1+8+6)/6; variance (μ−a)(b−μ)/7 = 1.5·3.5/7
    [InlineData("{ gamma: { shape: 4, scale: 0.5 mm } }", 0.002, 0.001)]                               // kθ, θ√k
    [InlineData("{ gamma: { mean: 3 mm, sd: 20 % } }", 0.003, 0.0006)]
    [InlineData("{ exponential: { mean: 2 mm } }", 0.002, 0.002)]
    [InlineData("{ weibull: { shape: 1, scale: 2 mm } }", 0.002, 0.002)]                               // shape 1 is exponential
    [InlineData("{ beta: { a: 2, b: 2, from: 1 mm, to: 3 mm } }", 0.002, 0.00044721359549995796)]      // width·√(1/20)
    [InlineData("{ discrete: [ { value: 1 mm, weight: 3 }, { value: 5 mm, weight: 1 } ] }", 0.002, 0.0017320508075688772)]
    public void Distribution_HasItsMeanAndDeviation(string text, double mean, double sd)
    {
        Quantity q = Thickness(text);
        Assert.True(q.IsVarying);
        Near(mean, q.Varies.Mean);
        Near(sd, q.Varies.StandardDeviation);
    }

    [Fact]
    public void Lognormal_ByMedianAndGsd_HasThemAsQuantiles()
    {
        IDistribution d = Thickness("{ lognormal: { median: 2 mm, gsd: 1.5 } }").Varies;
        Near(0.002, d.Quantile(0.5));

        // One standard deviation of the logarithm: Φ(1) = 0.8413447460685429 (recalled from memory, standard normal table). 1e-9: the table's digits in the argument.
        Assert.InRange(d.Quantile(0.8413447460685429) / 0.003, 1 - 1e-9, 1 + 1e-9);
    }

    [Fact]
    public void SpreadOfNothing_IsFixed()
    {
        Assert.True(Thickness("{ normal: { mean: 3 mm, sd: 0 mm } }").IsFixed);
        Assert.True(Thickness("{ lognormal: { median: 3 mm, gsd: 1 } }").IsFixed);
    }

    [Fact]
    public void Limits_Truncate()
    {
        IDistribution d = Thickness("{ normal: { mean: 1 mm, sd: 0.5 mm }, at_least: 0.2 mm, at_most: 1.5 mm }").Varies;
        Assert.Equal(0.0002, d.Minimum);
        Assert.Equal(0.0015, d.Maximum);
        Assert.InRange(d.Quantile(0.001), 0.0002, 0.0003);
    }

    [Fact]
    public void Unknown_AloneIsDrawnOnceAWorld()
    {
        Quantity q = ScenarioFiles.Cell("cure={ rate: { lot: 0.9 /s }, exponent: { unknown: { uniform: { from: 0.5, to: 0.8 } } } }").Cure!.Exponent;
        Assert.Equal(Level.World, q.Level);
        Assert.Equal(new FixedValue(1), q.Varies);
        Near(0.65, q.Unknown!.Mean);
    }

    [Fact]
    public void Unknown_Factor_MultipliesWhatVaries()
    {
        Quantity q = ScenarioFiles.Cell("tip={ fouling: { lognormal: { mean: 1 %/10000, sd: 40 % }, unknown_factor: { uniform: { from: 1, to: 3 } } } }").Tip.Fouling;
        Assert.Equal(Level.Cleaning, q.Level);
        Near(1e-6, q.Varies.Mean);
        Near(2, q.Unknown!.Mean);
        Near(2e-6, q.Mean);
    }

    [Fact]
    public void Events_InATime_GiveAGammaRate()
    {
        Quantity q = ScenarioFiles.Cell("disturbances=[ { name: slip, rate: { events: 2, in: 6000 h }, factor: 90 %, cleared_by: nothing } ]").Disturbances[0].Rate;

        // Posterior of a Poisson rate with prior ∝ rate^(−1/2) (Jeffreys): Gamma(2.5, 1/T): mean 2.5/T, sd √2.5/T.
        Near(2.5 / 2.16e7, q.Unknown!.Mean);
        Near(Math.Sqrt(2.5) / 2.16e7, q.Unknown!.StandardDeviation);
        Assert.Equal("disturbances.slip.rate", q.Path);
    }

    [Theory]
    [InlineData("4 %", 0.04)]
    [InlineData("{ normal: { sd: 4 % } }", 0.04)]
    [InlineData("{ U: 5 %, k: 2 }", 0.025)]
    [InlineData("{ U: 6 % }", 0.03)]
    [InlineData("{ U: 6 %, k: 3 }", 0.02)]
    [InlineData("{ mpe: ±4 % }", 0.023094010767585030)]   // 0.04/√3 (JCGM 100:2008, 4.3.7)
    [InlineData("0 %", 0)]
    public void RelativeError_IsTheLogarithmOfAFactor(string text, double sd)
    {
        Quantity q = ScenarioFiles.Cell("radiometer={ calibration: " + text + " }").Radiometer.Calibration;
        Assert.Equal(0, q.Mean);
        Near(sd, q.Varies.StandardDeviation);
        Assert.Equal(Level.Calibration, q.Level);
    }

    [Fact]
    public void RelativeError_MayBeUnknown()
    {
        Quantity q = ScenarioFiles.Cell("radiometer={ meter: { unknown: 4 % } }").Radiometer.Meter;
        Assert.Equal(new FixedValue(1), q.Varies);
        Near(0.04, q.Unknown!.StandardDeviation);
    }

    [Fact]
    public void Deviation_IsAboutZero()
    {
        Fixture f = ScenarioFiles.Cell("fixture={ distance: { nominal: 10 mm, setup: 0 mm, part: { normal: { sd: 0.2 mm } } }, spread: none }").Fixture;
        Assert.True(f.DistanceSetup.IsFixed);
        Assert.Equal(0, f.DistancePart.Mean);
        Near(0.0002, f.DistancePart.Varies.StandardDeviation);
        Assert.Equal(0.01, f.ReferenceDistanceMetres);
    }

    [Fact]
    public void Empirical_TakesAColumnWithTheUnitOfItsHeader()
    {
        ScenarioReading reading = ScenarioFiles.Good(ScenarioReader.ReadText(
            ScenarioFiles.Smallest, "test.yaml", ["substrate={ thickness: { empirical: { csv: thickness.csv, column: thickness_mm } }, absorption: 0.1 /mm }"], ScenarioFiles.Data));

        // Values of the file: 1.10, 1.20, 1.30, 1.25, 1.15 mm.
        Near(0.0012, reading.Cell!.Substrate!.Thickness.Mean);
        Assert.Contains("1.25 mm", reading.ResolvedYaml, StringComparison.Ordinal);
    }

    [Fact]
    public void Empirical_TakesAUnitOfItsOwn()
    {
        ScenarioReading reading = ScenarioFiles.Good(ScenarioReader.ReadText(
            ScenarioFiles.Smallest, "test.yaml", ["substrate={ thickness: { empirical: { csv: thickness.csv, column: thickness_mm, unit: um } }, absorption: 0.1 /mm }"], ScenarioFiles.Data));
        Near(1.2e-6, reading.Cell!.Substrate!.Thickness.Mean);
    }

    [Fact]
    public void ExponentialAgeing_ByOutput_ScalesTheHours()
    {
        Scenario cell = ScenarioFiles.Cell("source.ageing={ exponential: { output: 70 %, at: { lognormal: { median: 20000 h, gsd: 1.2 } } } }");
        var law = Assert.IsType<ExponentialAgeing>(cell.Source.Ageing[0].Law);

        // τ = at/(−ln 0.7): 20000 h / 0.35667494393873245 (ln 0.7, recomputed).
        Near(20000 * 3600 / 0.35667494393873245, law.TimeConstant.Varies.Quantile(0.5));
        Assert.Equal("source.ageing.exponential.at", law.TimeConstant.Path);
    }

    [Fact]
    public void StretchedAgeing_ThroughTwoPoints_HasThatShapeAndTime()
    {
        Scenario cell = ScenarioFiles.Cell("source.ageing={ stretched: { points: [ { at: 500 h, output: 80 % }, { at: 3000 h, output: 50 % } ] } }");
        var law = Assert.IsType<StretchedAgeing>(cell.Source.Ageing[0].Law);

        // β = 0.632578, τ = 5354.879 h (recomputed from β = ln(ln r1/ln r2)/ln(h1/h2)); given to their last printed digit.
        Assert.Equal(0.632578, law.Shape.Mean, 5e-7);
        Assert.Equal(5354.879, law.TimeConstant.Mean / 3600, 5e-4);
    }

    [Fact]
    public void AgeingTable_ComesFromCsv()
    {
        ScenarioReading reading = ScenarioFiles.Good(ScenarioReader.ReadText(
            ScenarioFiles.Smallest, "test.yaml",
            ["source.ageing={ table: { csv: lamp-output.csv, hours_column: burn_h, output_column: output_percent, hours_scale: { lognormal: { median: 1, gsd: 1.2 } } } }"],
            ScenarioFiles.Data));
        var law = Assert.IsType<TableAgeing>(reading.Cell!.Source.Ageing[0].Law);
        Assert.Equal([0.0, 500 * 3600, 1500 * 3600, 3000 * 3600], law.BurnSeconds.ToArray());
        Assert.Equal([1.0, 0.8, 0.66, 0.5], law.Output.ToArray());
        Assert.True(law.HoursScale.IsVarying);
    }

    [Fact]
    public void Candidates_KeepTheirWeights()
    {
        Scenario cell = ScenarioFiles.Cell(
            "source.ageing={ candidates: [ { weight: 2, exponential: { time: 5000 h } }, { exponential: { time: 4000 h } } ] }");
        Assert.Equal([2.0, 1.0], cell.Source.Ageing.Select(a => a.Weight));
        Assert.Equal("source.ageing.candidates.2.exponential.time", ((ExponentialAgeing)cell.Source.Ageing[1].Law).TimeConstant.Path);
        Assert.Equal(20, cell.Run.Worlds);
    }
}
