using System.Collections.Immutable;
using CureSim.Reports.Figures;

namespace CureSim.Tests.Reports;

/// <summary>One figure of each kind, over invented data, for the tests of the renderer and for looking at.</summary>
internal static class FigureExamples
{
    public static IReadOnlyDictionary<string, Figure> All { get; } = new SortedDictionary<string, Figure>(StringComparer.Ordinal)
    {
        ["dose-spread"] = DoseSpread(),
        ["two-histograms"] = TwoHistograms(),
        ["irradiance-over-time"] = IrradianceOverTime(),
        ["ownership"] = Ownership(),
        ["survival"] = Survival(),
        ["ppm-by-interval"] = PpmByInterval(),
        ["spread-shares"] = SpreadShares(),
        ["light-budget"] = LightBudget(),
        ["cost-by-year"] = CostByYear(),
        ["process-window"] = ProcessWindow(),
        ["log-log-scatter"] = LogLogScatter(),
        ["trace"] = Trace(),
        ["crowded-limits"] = CrowdedLimits(),
        ["crowded-lines"] = CrowdedLines(),
        ["many-bars"] = ManyBars(),
        ["many-decades"] = ManyDecades(),
        ["no-spread"] = NoSpread(),
        ["long-names"] = LongNames(),
        ["map-with-gaps"] = MapWithGaps(),
    };

    private static ImmutableArray<double> Grid(double from, double to, int count) =>
        [.. Enumerable.Range(0, count).Select(i => from + ((to - from) * i / (count - 1)))];

    private static ImmutableArray<double> Map(ImmutableArray<double> x, Func<double, double> f) => [.. x.Select(f)];

    /// <summary>A repeatable ripple between −1 and 1, in place of noise.</summary>
    private static double Ripple(int i) => Math.Sin(12.9898 * i) * Math.Cos((78.233 * i) + 1);

    private static double Bell(double x, double mean, double sd) => Math.Exp(-0.5 * Math.Pow((x - mean) / sd, 2));

    private static Figure DoseSpread()
    {
        var edges = Grid(4, 12, 81);
        return new Figure
        {
            Title = "Is the dose inside the window over five years?",
            Subtitle = "20 worlds of 250 lifetimes, 4 parts a step; 182 ppm below the lower limit (150 to 221)",
            X = new Axis("Dose", "J/cm²"),
            Y = new Axis("Share of bonds", "% per 0.1 J/cm²"),
            Layers =
            [
                new Histogram(edges, [.. edges.Take(80).Select(e => 5 * Bell(e + 0.05, 7.2 + (0.02 * e), 0.8))]),
                new Percentiles([new("0.135 %", 5.1), new("50 %", 7.32), new("99.865 %", 9.9)]),
                new Target(Along.X, 7, "target 7"),
                new Limit(Along.X, 5, "lower limit 5"),
                new Limit(Along.X, 11, "upper limit 11"),
            ],
            Note = "Bonds counted, not fitted. Invented cell.",
        };
    }

    private static Figure TwoHistograms()
    {
        var edges = Grid(0.7, 1, 61);
        return new Figure
        {
            Title = "How much tighter does the degree of cure become with the LED source?",
            X = new Axis("Degree of cure"),
            Y = new Axis("Bonds", "% per bin"),
            Layers =
            [
                new Histogram(edges, [.. edges.Take(60).Select(e => 6 * Bell(e, 0.88, 0.028))], "Arc lamp"),
                new Histogram(edges, [.. edges.Take(60).Select(e => 9 * Bell(e, 0.93, 0.016))], "LED", Tone.Second, OutlineOnly: true),
                new Limit(Along.X, 0.85, "lower limit 0.85"),
            ],
        };
    }

    private static Figure IrradianceOverTime()
    {
        var x = Grid(0, 18750, 240);
        static double Saw(double t) => t % 2400 / 2400;
        return new Figure
        {
            Title = "How far does the irradiance fall between checks?",
            Subtitle = "Median of 5 000 lifetimes; bands hold 50 % and 90 % of them",
            X = new Axis("Production time", "h"),
            Y = new Axis("Irradiance at the bond", "W/cm²"),
            Layers =
            [
                new Band(x, Map(x, t => 3.5 - (0.35 * Saw(t)) - (t * 1e-5)), Map(x, t => 3.85 - (0.1 * Saw(t)) - (t * 3e-6)), "90 % of lifetimes"),
                new Band(x, Map(x, t => 3.6 - (0.25 * Saw(t)) - (t * 8e-6)), Map(x, t => 3.76 - (0.15 * Saw(t)) - (t * 5e-6)), "50 %"),
                new Line(x, Map(x, t => 3.68 - (0.2 * Saw(t)) - (t * 6e-6)), "Median"),
                new Limit(Along.Y, 3.24, "action limit −10 %"),
                new Target(Along.Y, 3.6, "target"),
                new Events([.. Enumerable.Range(1, 7).Select(i => 2400.0 * i)], "emitter replaced"),
                new Events([.. Enumerable.Range(1, 40).Select(i => 450.0 * i)], "fixture check", Tone.Quiet),
            ],
        };
    }

    private static Figure Ownership()
    {
        var x = Grid(0, 5, 61);
        return new Figure
        {
            Title = "When does the LED source pay for the change?",
            Subtitle = "Cumulative cost, discounted to the first year; bands from the 5th to the 95th percentile",
            X = new Axis("Year") { WholeNumbers = true },
            Y = new Axis("Cumulative cost", "EUR") { FromZero = true },
            Layers =
            [
                new Band(x, Map(x, t => 26000 * t * 0.85), Map(x, t => 26000 * t * 1.2), null),
                new Band(x, Map(x, t => 41000 + (11000 * t * 0.85)), Map(x, t => 41000 + (11000 * t * 1.25)), null, Tone.Second),
                new Band(x, Map(x, t => 55000 + (8000 * t * 0.85)), Map(x, t => 55000 + (8000 * t * 1.25)), null, Tone.Third),
                new Line(x, Map(x, t => 26000 * t), "Arc lamp, as now"),
                new Line(x, Map(x, t => 41000 + (11000 * t)), "LED, one head a site", Tone.Second),
                new Line(x, Map(x, t => 55000 + (8000 * t)), "LED, spare heads on the shelf", Tone.Third),
            ],
        };
    }

    private static Figure Survival()
    {
        var x = Grid(0, 18750, 40);
        return new Figure
        {
            Title = "How long until the cell has to be requalified?",
            Subtitle = "Share of cells still in the qualified state; band: 95 % interval of the simulation",
            X = new Axis("Production time", "h"),
            Y = new Axis("Cells not yet requalified", "%") { From = 0, To = 100 },
            Layers =
            [
                new Band(x, Map(x, t => 97 * Math.Exp(-Math.Pow(t / 9000, 2))), Map(x, t => 100 * Math.Exp(-Math.Pow(t / 9900, 2))), null, Stepped: true),
                new Line(x, Map(x, t => 100 * Math.Exp(-Math.Pow(t / 9400, 2))), "Weekly check", Stepped: true),
                new Line(x[..26], Map(x[..26], t => 100 * Math.Exp(-Math.Pow(t / 5200, 2))), "Monthly check", Tone.Second, Stepped: true),
                new Limit(Along.Y, 50, "half of the cells"),
            ],
        };
    }

    private static Figure PpmByInterval() => new()
    {
        Title = "Which inspection interval keeps nonconforming bonds under 100 ppm?",
        Subtitle = "Points: estimate; whiskers: 95 % interval over worlds",
        X = new Axis("Inspection interval") { Names = ["each shift", "day", "week", "2 weeks", "month", "quarter", "half year", "year"] },
        Y = new Axis("Nonconforming bonds", "ppm") { Scale = AxisScale.Logarithmic },
        Layers =
        [
            new Points([0, 1, 2, 3, 4, 5, 6, 7], [2.1, 3.4, 12, 31, 74, 390, 1500, 5200])
            {
                Lower = [1.2, 2.2, 9, 25, 60, 330, 1300, 4700], Upper = [3.6, 5.1, 16, 38, 91, 460, 1720, 5800],
            },
            new Limit(Along.Y, 100, "requirement 100 ppm"),
        ],
    };

    private static Figure SpreadShares() => new()
    {
        Title = "What makes the dose spread?",
        Subtitle = "Share of the variance of ln dose; whiskers: 95 % interval",
        X = new Axis("Share of variance", "%"),
        Y = new Axis(""),
        Layers =
        [
            new Bars(
            [
                new("Source as held by the loop", 41.2, "41.2 %") { Lower = 37, Upper = 45 },
                new("Distance, part to part", 23.9, "23.9 %") { Lower = 21, Upper = 27 },
                new("Guide loss, both legs taken together and reseated at each replacement", 17.5, "17.5 %") { Lower = 12, Upper = 23 },
                new("Aim", 9.1, "9.1 %"),
                new("Substrate thickness", 6.0, "6.0 %"),
                new("Calibration", 4.9, "4.9 %"),
                new("Exposure time", -2.6, "−2.6 %") { Tone = Tone.Second },
            ]),
        ],
    };

    private static Figure LightBudget() => new()
    {
        Title = "Where does the light go between emitter and bond?",
        Subtitle = "Nominal irradiance after each step, new emitter, full drive",
        X = new Axis("Irradiance", "W/cm²"),
        Y = new Axis(""),
        Layers =
        [
            new Bars(
            [
                new("Emitter, full drive", 6.4, "6.40 W/cm²") { Tone = Tone.Ink },
                new("Drive setting 78 %", 4.99, "× 0.780") { From = 6.4, Tone = Tone.Second },
                new("Guide", 4.34, "× 0.870") { From = 4.99, Tone = Tone.Second },
                new("Tip fouling", 4.25, "× 0.979") { From = 4.34, Tone = Tone.Second },
                new("Distance and aim", 4.6, "× 1.082") { From = 4.25 },
                new("Substrate", 3.62, "× 0.787") { From = 4.6, Tone = Tone.Second },
                new("At the bond", 3.62, "3.62 W/cm²") { Tone = Tone.Ink },
            ]),
            new Limit(Along.X, 3.0, "lowest conforming 3.0"),
        ],
    };

    private static Figure CostByYear()
    {
        var x = Grid(1, 8, 8);
        return new Figure
        {
            Title = "What does the arc lamp cost, year by year?",
            X = new Axis("Year") { WholeNumbers = true },
            Y = new Axis("Cost", "EUR/year"),
            Layers =
            [
                new Stack(x,
                [
                    new("Emitters", Map(x, t => 5200 + (300 * t))),
                    new("Energy", Map(x, t => 2100 + (40 * t))),
                    new("Checks", Map(x, _ => 3900)),
                    new("Downtime", Map(x, t => 600 + (250 * t))),
                    new("Scrap of suspect parts", Map(x, t => 300 + (90 * t * t))),
                ]),
            ],
        };
    }

    private static Figure ProcessWindow()
    {
        var x = Grid(1, 6, 26);
        var y = Grid(2, 7, 21);
        return new Figure
        {
            Title = "Which settings keep the capability above 1.33 until the next check?",
            Subtitle = "5th-percentile Cpk over cells at the end of the inspection interval",
            X = new Axis("Exposure time", "s"),
            Y = new Axis("Irradiance setting", "W/cm²"),
            Layers =
            [
                new Map(x, y, [.. x.SelectMany(t => y.Select(e => ((t * e) - 8) / 4.5))],
                    [new("0", 0), new("0.67", 0.67), new("1.00", 1), new("1.33", 1.33), new("1.50", 1.5), new("1.67", 1.67)]) 
                {
                    OtherSide = [.. x.SelectMany(t => y.Select(e => (24 - (t * e)) / 4.5))],
                    Requirement = 1.33,
                },
                new Region(3.0, 3.6, 4.4, 5.2, "recommended"),
                new Points([3.3, 4.4], [4.8, 5.6]) { Names = ["set-point", "highest challenge"], Shape = MarkShape.Cross, Tone = Tone.Ink },
            ],
        };
    }

    private static Figure LogLogScatter()
    {
        ImmutableArray<double> x = [.. Enumerable.Range(0, 150).Select(i => Math.Pow(10, 1 + (i * 0.02)))];
        return new Figure
        {
            Title = "Does the emitter age as the model says?",
            Subtitle = "150 readings of one invented log, and the fitted two-stage model",
            X = new Axis("Burning time", "h") { Scale = AxisScale.Logarithmic },
            Y = new Axis("Relative output") { Scale = AxisScale.Logarithmic },
            Layers =
            [
                new Points(x, [.. x.Select((t, i) => Math.Exp((-0.15 * (1 - Math.Exp(-t / 260))) - (t / 6500) + (0.02 * Ripple(i))))], "Readings", Tone.Quiet),
                new Line(x, Map(x, t => Math.Exp((-0.15 * (1 - Math.Exp(-t / 260))) - (t / 6500))), "Fit"),
            ],
        };
    }

    private static Figure Trace()
    {
        var x = Grid(0, 3000, 200);
        ImmutableArray<double> y = [.. x.Select((t, i) => t is > 1400 and < 1600 ? double.NaN : 7.2 - (0.0006 * (t % 1500)) + (0.06 * Ripple(i)))];
        return new Figure
        {
            Title = "What happened in lifetime 17 & why was it <out of tolerance> at hour 1 400?",
            Subtitle = "One lifetime, all draws as in the run; the gap is a stop of the line",
            X = new Axis("Production time", "h"),
            Y = new Axis("Dose at site 1", "J/cm²"),
            Layers =
            [
                .. Enumerable.Range(1, 12).Select(k => new Line(x, Map(x, t => 7.2 - (0.0001 * k * (t % 1500)) + (0.02 * k)), null, Tone.Quiet)),
                new Line(x, y, "Lifetime 17"),
                new Limit(Along.X, 1400, "out of tolerance found"),
                new Limit(Along.Y, 6.2, "tolerance limit"),
                new Events([.. Enumerable.Range(0, 25).Select(i => 120.0 * i)], "check"),
            ],
        };
    }

    private static Figure CrowdedLimits()
    {
        var edges = Grid(3.2, 4, 41);
        return new Figure
        {
            Title = "Where do readings fall among the adjust, action and tolerance limits of the check, which all stand close together around one target?",
            X = new Axis("Reading", "W/cm²"),
            Y = new Axis("Checks", "%"),
            Layers =
            [
                new Histogram(edges, [.. edges.Take(40).Select(e => 8 * Bell(e, 3.58, 0.07))], "as found"),
                new Target(Along.X, 3.6, "target 3.6"),
                new Limit(Along.X, 3.51, "adjust −2.5 %"),
                new Limit(Along.X, 3.69, "adjust +2.5 %"),
                new Limit(Along.X, 3.42, "action −5 %"),
                new Limit(Along.X, 3.78, "action +5 %"),
                new Limit(Along.X, 3.24, "tolerance −10 %"),
                new Limit(Along.X, 3.96, "tolerance +10 %"),
                new Percentiles([new("5 %", 3.47), new("50 %", 3.58), new("95 %", 3.7)]),
            ],
        };
    }

    private static Figure CrowdedLines()
    {
        var x = Grid(0, 5, 30);
        return new Figure
        {
            Title = "Do five labels at nearly the same height stay readable?",
            X = new Axis("Time", "a") { WholeNumbers = true },
            Y = new Axis("Chance ahead", "%") { From = 0, To = 100 },
            Layers =
            [
                .. Enumerable.Range(0, 5).Select(k => new Line(x, Map(x, t => 96 - (k * 1.5) - (60 * Math.Exp(-t * (1 + (0.3 * k))))), $"Option {(char)('A' + k)}", (Tone)k)),
                new Limit(Along.Y, 95, "requirement 95 %"),
                new Target(Along.Y, 90, "90 %"),
            ],
        };
    }

    private static Figure ManyBars() => new()
    {
        Title = "Which of thirty quantities matter?",
        X = new Axis("Total effect"),
        Y = new Axis(""),
        Height = 700,
        Layers = [new Bars([.. Enumerable.Range(1, 30).Select(i => new Bar($"Quantity {i}", 0.9 / i, (0.9 / i).ToString("0.000", System.Globalization.CultureInfo.InvariantCulture)))])],
    };

    private static Figure ManyDecades()
    {
        ImmutableArray<double> x = [.. Enumerable.Range(0, 50).Select(i => Math.Pow(10, -3 + (i * 0.2)))];
        return new Figure
        {
            Title = "How rare can a nonconforming bond be?",
            X = new Axis("Distance to the limit", "standard deviations") { Scale = AxisScale.Logarithmic },
            Y = new Axis("Fraction nonconforming") { Scale = AxisScale.Logarithmic },
            Layers = [new Line(x, Map(x, t => Math.Pow(t, -1.4) * 1e-6), "tail")],
        };
    }

    private static Figure NoSpread() => new()
    {
        Title = "What if nothing varies?",
        X = new Axis("Time", "h"),
        Y = new Axis("Dose", "J/cm²"),
        Layers = [new Line([0, 1], [7, 7], "dose")],
    };

    private static Figure LongNames() => new()
    {
        Title = "A small figure with long names",
        Width = 480,
        Height = 300,
        X = new Axis("Settings") { Names = ["the present routine", "the cheapest routine", "weekly with fixture check", "monthly"] },
        Y = new Axis("Cost of ownership over the horizon", "EUR per year of production"),
        Layers =
        [
            new Points([0, 1, 2, 3], [120000, 98000, 131000, 101000], "Arc lamp with two-leg guide") { Lower = [110000, 90000, 125000, 96000], Upper = [131000, 108000, 139000, 107000] },
            new Limit(Along.Y, 105000, "budget agreed for this year"),
        ],
    };

    private static Figure MapWithGaps()
    {
        ImmutableArray<double> x = [.. Enumerable.Range(0, 21).Select(i => 0.5 * Math.Pow(20, i / 20.0))];
        var y = Grid(2, 7, 16);
        return new Figure
        {
            Title = "Where is the fraction nonconforming below 100 ppm?",
            Subtitle = "Blank: the loop cannot reach the setting",
            X = new Axis("Exposure time", "s") { Scale = AxisScale.Logarithmic },
            Y = new Axis("Irradiance setting", "W/cm²"),
            Layers =
            [
                new Map(x, y, [.. x.SelectMany(t => y.Select(e => e > 6.3 ? double.NaN : -1 + (4 * Math.Log(t * e / 16))))],
                    [new("1 ppm", 0), new("10 ppm", 1), new("100 ppm", 2), new("1000 ppm", 3)])
                {
                    OtherSide = [.. x.SelectMany(t => y.Select(e => e > 6.3 ? double.NaN : -1 - (4 * Math.Log(t * e / 16))))],
                    Requirement = 2,
                    LowIsGood = true,
                },
            ],
        };
    }
}
