using System.Collections.Immutable;
using CureSim.Core.Logs;
using CureSim.Core.Random;
using CureSim.Core.Numerics;
using CureSim.Studies.Fit;

namespace CureSim.Tests.Studies.Fit;

/// <summary>Logs made by hand, of which every truth is known.</summary>
public class LogFitTests
{
    private const double Noise = 0.004;

    [Fact]
    public void APlannedReplacement_IsNoFailure()
    {
        var fit = LogFit.Of(Log(Emitter(0, 2000.0, "new lamp"), Emitter(2000, 1400.0, "lamp replaced"), Emitter(3400, 700.0, "lamp failed")), new());
        Assert.Equal([EmitterEnd.Replaced, EmitterEnd.Failed, EmitterEnd.StillRunning], fit.Runs.Select(r => r.End));
        Assert.Equal(1, fit.Failures);
        Assert.NotNull(fit.Life.Withheld);
        Assert.Equal(4100.0, fit.Hours, 40.0 * 1.01);
    }

    [Fact]
    public void ALogThatBeginsMidLife_IsLeftTruncated()
    {
        var rows = Emitter(0, 1600.0, "", first: 600.0);
        var unknown = LogFit.Of(Log(rows), new());
        Assert.Empty(Assert.Single(unknown.Runs).Observations);
        Assert.Contains(unknown.Notes, n => n.Contains("left-truncated", StringComparison.Ordinal));
        Assert.True(unknown.Chosen.IsEmpty);
        var said = LogFit.Of(Log(rows), new(StartHours: 600.0));
        Assert.Equal(600.0, said.Runs[0].FirstHours);
        Near(4000.0, said.Forms.Single(f => f.Form == AgeingForm.Exponential).Median(0).Get(), 0.05);
    }

    [Fact]
    public void TheFormThatMadeTheLog_IsChosenOrCannotBeToldApart()
    {
        var fit = LogFit.Of(Log(Emitter(0, 2000.0, "new lamp", form: AgeingForm.TwoStage, logs: [Math.Log(0.2), Math.Log(120.0), Math.Log(6000.0)])), new());
        Assert.Equal("two_stage", fit.Chosen[0].Form.Name);
        Near(0.2, fit.Chosen[0].Median(0).Get(), 0.1);
        Near(120.0, fit.Chosen[0].Median(1).Get(), 0.2);
        Near(6000.0, fit.Chosen[0].Median(2).Get(), 0.1);
        var plain = LogFit.Of(Log(Emitter(0, 2000.0, "new lamp")), new());
        Assert.Contains(plain.Chosen, f => f.Form.Name == "exponential");
    }

    [Fact]
    public void UnderALoop_TheDriveTells()
    {
        // Reading flat, drive rising as 1/output.
        LogRow[] rows = [.. Enumerable.Range(0, 60).Select(i => Row(i * 30.0, 3.2 * (1.0 + (Noise * Normal(i))), Math.Round(50.0 * Math.Exp(i * 30.0 / 4000.0)) / 100.0, i == 0 ? "commissioned" : ""))];
        var fit = LogFit.Of(Log(rows), new());
        Assert.Equal(FittedQuantity.Drive, fit.Quantity);
        Near(4000.0, fit.Forms.Single(f => f.Form == AgeingForm.Exponential).Median(0).Get(), 0.03);
    }

    [Fact]
    public void ASetting_IsTakenOutOfTheDrive()
    {
        // Half way the set-point is raised by a tenth: as left the drive is higher, the emitter is the same.
        var rows = new List<LogRow>();
        for (int i = 0; i < 60; i++)
        {
            double h = i * 30.0, drive = 0.5 * Math.Exp(h / 4000.0) * (i > 30 ? 1.1 : 1.0);
            rows.Add(Row(h, i > 30 ? 3.52 : 3.2, drive, i == 0 ? "commissioned" : "") with { Moment = ReadingMoment.AsFound });
            if (i == 30)
            {
                rows.Add(Row(h, 3.52, drive * 1.1, "set") with { Moment = ReadingMoment.AsLeft });
            }
        }

        var fit = LogFit.Of(Log([.. rows]), new(FittedQuantity.Drive));
        Near(4000.0, fit.Forms.Single(f => f.Form == AgeingForm.Exponential).Emitters[0] is { } e ? Math.Exp(e.Log(0)) : double.NaN, 1e-3);
    }

    [Fact]
    public void AnotherRadiometer_IsALevelAndNoAgeing()
    {
        var rows = Emitter(0, 1800.0, "new lamp").Select((r, i) => i < 45 ? r with { Meter = "A" } : r with { Meter = "B", Reading = r.Reading * 0.93 }).ToArray();
        var fit = LogFit.Of(Log(rows), new());
        Near(4000.0, fit.Forms.Single(f => f.Form == AgeingForm.Exponential).Median(0).Get(), 0.05);
        Assert.Empty(fit.Steps);
    }

    [Fact]
    public void ColdReadings_AreLeftOutAndTold()
    {
        var rows = Emitter(0, 1800.0, "new lamp").Select((r, i) => i % 10 == 5 ? r with { Cold = true, Reading = r.Reading * 0.8 } : r).ToArray();
        var fit = LogFit.Of(Log(rows), new());
        Near(4000.0, fit.Forms.Single(f => f.Form == AgeingForm.Exponential).Median(0).Get(), 0.05);
        Assert.Contains(fit.Screening, s => s.Contains("cold", StringComparison.Ordinal));
    }

    [Fact]
    public void AStepThatNothingExplains_IsFound_AndAnEventExplainsIt()
    {
        LogRow[] Stepped(string words) => [.. Emitter(0, 1800.0, "new lamp").Select((r, i) => i < 50 ? r : r with { Reading = r.Reading * 0.88, Events = i == 50 && words.Length > 0 ? [new(LogEventKind.Other, words)] : r.Events })];
        var step = Assert.Single(LogFit.Of(Log(Stepped("")), new()).Steps);
        Near(0.88, step.Factor, 0.02);
        Assert.Equal(50 * 20.0, step.Hours);
        Assert.Empty(LogFit.Of(Log(Stepped("bracket bent")), new()).Steps);
        Assert.Empty(LogFit.Of(Log(Emitter(0, 1800.0, "new lamp")), new()).Steps);
    }

    [Fact]
    public void AnOddReading_IsLeftOutAndTold()
    {
        // A slip near the end, where it is no step, and one in the middle.
        var rows = Emitter(0, 1800.0, "new lamp").Select((r, i) => i is 40 or 88 ? r with { Reading = r.Reading * 0.85 } : r).ToArray();
        var fit = LogFit.Of(Log(rows), new());
        Assert.Empty(fit.Steps);
        Assert.Contains(fit.Notes, n => n.Contains("2 odd readings", StringComparison.Ordinal) && n.Contains("42, 90", StringComparison.Ordinal));
        Near(4000.0, fit.Forms.Single(f => f.Form == AgeingForm.Exponential).Median(0).Get(), 0.03);
    }

    [Fact]
    public void RepeatedReadings_GiveTheRepeatability()
    {
        LogRow[] rows = [.. Emitter(0, 1800.0, "new lamp").SelectMany((r, i) => new[] { r with { Reading = r.Reading * Math.Exp(0.01 * Normal((3 * i) + 1000)) }, r with { Reading = r.Reading * Math.Exp(0.01 * Normal((3 * i) + 1001)), Events = [] } })];
        var fit = LogFit.Of(Log(rows), new());

        // 90 degrees of freedom: a standard error of 7.5 %; three of them.
        Near(0.01, fit.Repeatability.Get(), 0.225);
        Assert.True(fit.Repeatability.Lower95 < 0.01 && fit.Repeatability.Upper95 > 0.01);
    }

    [Fact]
    public void Screening_SeesRoundingCopiesAndGaps()
    {
        var rounded = LogFit.Of(Log([.. Emitter(0, 1800.0, "new lamp").Select(r => r with { Reading = Math.Round(r.Reading, 1) })]), new());
        Assert.Contains(rounded.Screening, s => s.Contains("rounding", StringComparison.Ordinal));
        var copied = LogFit.Of(Log([.. Emitter(0, 1800.0, "new lamp").Select((r, i) => i is > 40 and < 60 ? r with { Reading = 4.0 } : r)]), new());
        Assert.Contains(copied.Screening, s => s.Contains("in a row", StringComparison.Ordinal));
        var gap = LogFit.Of(Log([.. Emitter(0, 1800.0, "new lamp").Where(r => r.Hours is < 600.0 or > 1100.0)]), new());
        Assert.Contains(gap.Screening, s => s.Contains("no reading for", StringComparison.Ordinal));
        Assert.Empty(LogFit.Of(Log(Emitter(0, 1800.0, "new lamp")), new()).Screening);
    }

    [Fact]
    public void HoursThatStartAgain_AreAnotherEmitter()
    {
        LogRow[] rows = [.. Emitter(0, 1000.0, "").Concat(Emitter(1000, 1000.0, "")).Select((r, i) => r with { EmitterHours = i % 50 * 20.0 })];
        var fit = LogFit.Of(Log(rows), new());
        Assert.Equal(2, fit.Runs.Length);
        Assert.Contains(fit.Notes, n => n.Contains("start again", StringComparison.Ordinal));
    }

    // Readings every 20 h of an emitter whose output falls with a time constant of 4000 h, or as told.
    private static LogRow[] Emitter(int clock, double life, string words, double first = 0.0, AgeingForm? form = null, double[]? logs = null)
    {
        var slopes = new double[3];
        return [.. Enumerable.Range(0, (int)(life / 20.0)).Select(i => Row(
            clock + (20.0 * i), 5.0 * Math.Exp((form ?? AgeingForm.Exponential).LogOutput(first + (20.0 * i), logs ?? [Math.Log(4000.0)], slopes) + (Noise * Normal(clock + i))), double.NaN, i == 0 ? words : ""))];
    }

    private static LogRow Row(double hours, double reading, double drive, string words)
    {
        ImmutableArray<LogEvent> events = words.Length == 0 ? [] : [new(words switch
        {
            "new lamp" or "lamp replaced" => LogEventKind.EmitterReplaced, "lamp failed" => LogEventKind.EmitterFailed, "commissioned" => LogEventKind.Requalified, "set" => LogEventKind.Set, _ => LogEventKind.Other,
        }, words)];
        return new(2 + (int)hours, hours, double.NaN, "", "", ReadingMoment.Unsaid, reading, drive, false, "", events);
    }

    private static ReadingLog Log(params LogRow[][] emitters)
    {
        LogRow[] rows = [.. emitters.SelectMany(e => e).Select((r, i) => r with { Line = i + 2 })];
        return new("W/cm²", 1e4, [.. rows], rows[0].Events.Any(e => e.Kind is LogEventKind.EmitterReplaced or LogEventKind.Requalified));
    }

    private static ReadingLog Log(LogRow[] rows) => Log([rows]);

    private static double Normal(int i) => BlockMath.NormalQuantile(Draw.Uniform(20271, 0, 0, StreamKey.Of(DrawDomain.Cell, "test.fit"), i));

    private static void Near(double expected, double actual, double relative) => Assert.InRange(actual, expected * (1.0 - relative), expected * (1.0 + relative));
}
