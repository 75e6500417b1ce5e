using CureSim.Checks.Fixtures;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Studies.Runs;

namespace CureSim.Tests.Studies;

/// <summary>A fraction that a few lifetimes hold is withheld, with the number of lifetimes that would be enough; else its interval is formed in logarithms.</summary>
public class SupportTests
{
    private static readonly RunPlan Plan = new(new ScenarioBuilder().Clock(28800, 2).Build());

    private static readonly Measure[] Fractions = [.. RunMeasures.For(Plan).Where(m => m.NeedsSupport)];

    private static Measure Counted => Fractions.Single(m => m.Id == "bonds_nonconforming_counted_ppm");

    private static Measure Conditional => Fractions.Single(m => m.Id == "bonds_nonconforming_conditional_ppm");

    /// <summary>1,000 lifetimes of which some hold the bad bonds, as many each.</summary>
    private static RunPiece Piece(int bad, int from = 0) => new(Plan, new CellSummary(Plan.Layout, withTimeline: false), Enumerable.Range(0, 1000).Select(i => new LifetimeRecord
    {
        BondsSampled = 100, BondsNonconforming = i - from >= 0 && i - from < bad ? 2 : 0, ConditionalStates = 10, ConditionalBonds = i - from >= 0 && i - from < bad ? 0.2 : 0,
    }).ToArray());

    [Theory]
    [InlineData(9, true, true)]
    [InlineData(10, false, true)]
    [InlineData(29, false, true)]
    [InlineData(30, false, false)]
    public void Fraction_IsWithheld_BelowTheSupportThatItNeeds(int bad, bool counted, bool conditional)
    {
        Assert.Equal(counted, MeasureEstimator.OneWorld(Counted, Piece(bad), []).Withheld is not null);
        Assert.Equal(conditional, MeasureEstimator.OneWorld(Conditional, Piece(bad), []).Withheld is not null);
    }

    [Fact]
    public void Withheld_Fraction_SaysWhyAndHowManyWouldBeEnough()
    {
        Estimate estimate = MeasureEstimator.OneWorld(Counted, Piece(4), []);
        Assert.Equal("about 4 of 1000 lifetimes hold most of it, so its interval cannot be honest; about 2500 lifetimes would be enough", estimate.Withheld);
        Assert.Equal(2500, estimate.Enough);
    }

    [Fact]
    public void Fraction_HeldByOneLifetimeOfManyWorlds_IsWithheldToo()
    {
        // The world is the unit of the error, the lifetime that of the support: four lifetimes in four worlds are as few as four in one.
        RunPiece[] worlds = [Piece(1), Piece(1, 3), Piece(1, 5), Piece(1, 9)];
        RunPiece whole = new(Plan, worlds[0].Summary, worlds.SelectMany(w => w.Records.ToArray()).ToArray());
        Assert.Equal(10_000, MeasureEstimator.BetweenWorlds(Counted, whole, worlds).Enough);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(999)]
    public void Share_NearAnEnd_HasAnIntervalInLogits(int never)
    {
        var measure = RunMeasures.For(Plan).Single(m => m.Id == "never_qualified_percent");
        LifetimeRecord[] records = [.. Enumerable.Range(0, 1000).Select(i => new LifetimeRecord { NeverQualified = i < never })];
        Estimate estimate = MeasureEstimator.OneWorld(measure, new(Plan, new CellSummary(Plan.Layout, withTimeline: false), records), []);

        // By hand: se of p is √(p(1 − p)/999), of the logit 1/√(999 p(1 − p)); Student's t of 999 degrees of freedom at 0.975 is 1.962341 (SciPy stats.t.ppf).
        double p = never / 1000.0, logit = Math.Log(p / (1 - p)), half = 1.962341 / Math.Sqrt(999 * p * (1 - p));
        Assert.Equal(100.0 / (1 + Math.Exp(half - logit)), estimate.Lower95!.Value, 1e-4);
        Assert.Equal(100.0 / (1 + Math.Exp(-half - logit)), estimate.Upper95!.Value, 1e-4);
    }

    [Fact]
    public void Interval_IsSymmetricInLogarithms()
    {
        // 50 of 1,000 lifetimes: ratio 0.001; deviations −0.1 (950 times) and 1.9 (50 times) of 100 sampled; the error by hand.
        Estimate estimate = MeasureEstimator.OneWorld(Counted, Piece(50), []);
        double error = Math.Sqrt(((950 * 0.1 * 0.1) + (50 * 1.9 * 1.9)) * 1000 / 999) / 100_000;
        Assert.Equal(1000.0, estimate.Get(), 1e-9);
        Assert.Equal(1e6 * error, estimate.StandardError!.Value, 1e-9);

        // t at 0.975 with 999 degrees of freedom: 1.962341 (Python, scipy.stats.t.ppf; recomputed).
        Assert.Equal(1000.0 * Math.Exp(1.962341 * error / 0.001), estimate.Upper95!.Value, 1e-3);
        Assert.Equal(1000.0, Math.Sqrt(estimate.Lower95!.Value * estimate.Upper95.Value), 1e-9);
    }

    [Fact]
    public void None_Counted_IsAnUpperLimit()
    {
        Estimate estimate = MeasureEstimator.OneWorld(Counted, Piece(0), []);
        Assert.Equal((0.0, 0.0), (estimate.Get(), estimate.Lower95));
        Assert.True(estimate.Upper95 > 0.0);
    }

    [Fact]
    public void Gain_AndItsBound_AreThoseOfTheVariances()
    {
        // As above: Var(counted) = error²; the conditional values are proportional to the counts, so nothing is gained; binomial part 0.001·0.999/100 000.
        ConditionalGain gain = ConditionalGain.Of(Piece(50).Records.Span, parts: false)!;
        double total = gain.CountedError * gain.CountedError;
        Assert.Equal((100.0, 100_000.0, 10_000.0, 0.001, 0.001), (gain.Bad, gain.Sampled, gain.States, gain.Counted, Math.Round(gain.Conditional, 12)));
        Assert.Equal(1.0, gain.Gain!.Value, 1e-9);
        Assert.Equal(total / (total - (0.001 * 0.999 / 100_000)), gain.Bound!.Value, 1e-9);
        Assert.Null(ConditionalGain.Of(Piece(0).Records.Span, parts: false)!.Gain);
    }
}
