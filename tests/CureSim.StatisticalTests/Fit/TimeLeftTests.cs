using System.Collections.Immutable;
using CureSim.Studies.Fit;

namespace CureSim.StatisticalTests.Fit;

/// <summary>Forecasts of 300 held-back lifetimes against 2000 others, after 500 h of readings.</summary>
/// <remarks>Of 300 true 80 % intervals 75 to 85 % hold with probability 0.97 (standard error 2.3 %); the seeds are fixed.</remarks>
public class TimeLeftTests
{
    [Fact]
    public void After500Hours_TheIntervalIsCalibrated_AndSharperThanTheFleets()
    {
        var row = Assert.Single(TimeLeftStudy.Of([500.0]));
        Assert.True(row.Cells > 0.95 * TimeLeftStudy.HeldBack, row.ToString());
        Assert.InRange(100.0 * row.Held / row.Cells, 75.0, 85.0);
        Assert.True(row.Width < 0.85 * row.FleetWidth, row.ToString());

        // A contradiction is called for at most a few in a hundred cells that the scenario itself made.
        Assert.True(row.Contradicted <= 0.03 * row.Cells, row.ToString());
    }

    [Fact]
    public void OriginOfAnExcursion_IsCalibrated()
    {
        // Fewer than in the table of docs/statistics.md, which has all 300: this one is to be quick.
        var cases = TimeLeftStudy.Excursions("running-cell.yaml", [], 1000, 80);
        var calibration = ExcursionCalibration.Of(cases);
        Assert.True(calibration.Cases >= 50, calibration.ToString());
        calibration.AssertCalibrated();
    }

    [Fact]
    public void BandOfTheCurve_IsAsWideAsRepeatedSimulationsScatter()
    {
        // Ten disjoint sets of 200 lifetimes forecast the same six cells at 500 h. A quarter of a 95 % band's length is its standard error; the curves of the sets scatter by as much.
        // Ten sets, six cells, three times: the mean ratio of variances is known to about a fifth (nine degrees of freedom each, cells of one set not independent), so 0.5 to 2 is more than three errors.
        var (cell, reference, held) = TimeLeftStudy.Running;
        const double Now = 500.0 * 3600.0;
        double ratio = 0.0, fleetRatio = 0.0;
        int counted = 0;
        SimulatedCell[] asked = [.. held.Where(h => h.RequalifySeconds > Now + (1000.0 * 3600.0)).Take(6)];
        foreach (var one in asked)
        {
            ImmutableArray<LoggedCheck> checks = [.. one.Trace.Readings.Where(r => r.AsFound && r.Seconds <= Now).Select((r, line) => new LoggedCheck(r.Seconds, r.Site, "1", Math.Log(r.Indication), Math.Log(r.Drive), 1, r.BurnSeconds, line + 2))];
            var curves = Enumerable.Range(0, 10).Select(k => TimeLeft.Of(cell, checks, Now, [.. reference.Skip(200 * k).Take(200)], null, new RemainingCurve(2, CancellationToken.None, 60)).Curve).Where(c => !c.IsEmpty).ToArray();
            foreach (int at in new[] { 15, 25, 35 })
            {
                static double Variance(IEnumerable<double> values) => values.ToArray() is var v && v.Average() is var mean ? v.Sum(x => (x - mean) * (x - mean)) / (v.Length - 1.0) : 0.0;
                static double Square(double x) => x * x;
                if (curves.Length == 10 && curves.Average(c => c[at].Cell) is > 0.1 and < 0.9)
                {
                    ratio += Variance(curves.Select(c => c[at].Cell)) / curves.Average(c => Square((c[at].CellHigh - c[at].CellLow) / 3.92));
                    fleetRatio += Variance(curves.Select(c => c[at].Fleet)) / curves.Average(c => Square((c[at].FleetHigh - c[at].FleetLow) / 3.92));
                    counted++;
                }
            }
        }

        Assert.True(counted >= 4, $"{counted} of {asked.Length} cells and three times");
        Assert.InRange(ratio / counted, 0.4, 2.0);

        // Strata of a leaf take some scatter out of the fleet's: the band may be too wide, not too narrow.
        Assert.InRange(fleetRatio / counted, 0.1, 2.0);
    }

    [Fact]
    public void Excursions_OfLegs_AreToldByTheirOwnAsLeftReadings()
    {
        // Two legs of one lamp; few lifetimes, for each is a year of two sites. The whole table stands in docs/statistics.md.
        var cases = TimeLeftStudy.Excursions("quick.yaml", TimeLeftStudy.BentLegs, reference: 300, heldBack: 60);
        Assert.True(cases.Length >= 20, $"{cases.Length} cases");
        ExcursionCalibration.Of(cases).AssertCalibrated();
    }

    [Fact]
    public void ExcursionTable_IsWrittenWhenAskedFor()
    {
        string F(double v) => v.ToString("0.0", System.Globalization.CultureInfo.InvariantCulture);
        if (Environment.GetEnvironmentVariable("CURESIM_WRITE_GENERATED") != "1")
        {
            return;
        }

        var rows = new List<string[]>();
        var sums = new List<string[]>();
        foreach (var (name, file, sets) in new[] { ("running cell", "running-cell.yaml", (string[])[]), ("bent legs", "quick.yaml", TimeLeftStudy.BentLegs) })
        {
            var c = ExcursionCalibration.Of(TimeLeftStudy.Excursions(file, sets, TimeLeftStudy.Reference, TimeLeftStudy.HeldBack));
            rows.Add([name, $"{c.Cases}", $"{c.Out}", $"{F(100.0 * c.In80 / c.Out)} %", $"{F(100.0 * c.In90 / c.Out)} %", $"{c.Effective:0}"]);
            sums.AddRange(new[] { c.Since, c.Contained }.Concat(c.Causes).Where(s => s.Expected >= 0.05 || s.True > 0).Select(s => new[] { name, s.What, $"{F(s.Expected)} ± {F(s.Error)}", $"{s.True}" }));
        }

        Coverage.GeneratedTable.Write("excursion-start", ["cell", "excursions found", "out of the qualified state", "80 % interval held the start", "90 % interval", "effective lifetimes, mean"], rows);
        Coverage.GeneratedTable.Write("excursion-chances", ["cell", "what", "sum of the chances said ± √Σp(1 − p)", "came true"], sums);
    }

    [Fact]
    public void Calibration_OfCausesThatAreSwapped_IsRefused()
    {
        var cases = TimeLeftStudy.Excursions("running-cell.yaml", [], 500, 60);
        ExcursionCase[] swapped = [.. cases.Select(c => c with { Cause = 5 - c.Cause })], halved = [.. cases.Select(c => c with { BeganHoursAgo = c.BeganHoursAgo * 3.0 })];
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => ExcursionCalibration.Of(swapped).AssertCalibrated());
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => ExcursionCalibration.Of(halved).AssertCalibrated());
    }
}
