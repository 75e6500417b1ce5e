using CureSim.Checks.Comparing;
using CureSim.Core.Distributions;
using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;

namespace CureSim.Checks.Published;

/// <summary>
/// The examples of JCGM 101 clause 9 by the program's own parts: addressed uniforms in blocks, quantiles of the distributions, merged moments, coverage intervals.
/// </summary>
/// <remarks>
/// 10⁶ trials in twenty batches; standard errors from the scatter of the batches. End points of a shortest interval are flat at its minimum, so its width
/// is compared closely and its lower end with 4 % of the width allowed.
/// </remarks>
internal static class GumExamples
{
    private const int Batches = 20;
    private const int Trials = 50_000;
    private static readonly double Root3 = Math.Sqrt(3.0);

    /// <summary>True for rows that are simulated here.</summary>
    public static bool Simulates(string id) => id.StartsWith("GUM-9.", StringComparison.Ordinal);

    public static IEnumerable<SampledCheck> All()
    {
        var normal = new NormalDistribution(0, 1);
        var flat = new UniformDistribution(-Root3, Root3);
        yield return Sum("GUM-9.2.2", 901, "95 % interval exact +/-", "u", "the interval of four rectangular inputs", 2 * Root3 * (2 - Math.Pow(0.6, 0.25)), normal, normal, normal, normal);
        yield return Sum("GUM-9.2.3", 902, "inclusion-exclusion check", "u", "a normal interval", 2 * NormalLaw.Quantile(0.975), flat, flat, flat, flat);
        yield return Sum(
            "GUM-9.2.4", 903, "exact shortest(=symmetric) 95 % +/-", "u=sqrt(103)", "a normal interval", NormalLaw.Quantile(0.975) * Math.Sqrt(103), flat, flat, flat,
            new UniformDistribution(-10 * Root3, 10 * Root3));
        yield return Mass("GUM-9.3", 905);
        foreach (string id in PublishedData.Rows.Keys.Where(k => k.StartsWith("GUM-9.4", StringComparison.Ordinal)))
        {
            yield return Squares(id, 910);
        }

        yield return EndGauge("GUM-9.5", 920);
    }

    private static SampledCheck Of(string id, ulong seed, string planted, Func<PublishedRow, ulong, IEnumerable<SampledFigure>> figures, string? allowed = null)
    {
        var row = PublishedData.Rows[id];
        return new SampledCheck(id, row.Topic, row.Inputs, row.Source, seed, planted, s => figures(row, s), allowed) { Provenance = row.Provenance, ThroughEngine = false };
    }

    private static SampledCheck Sum(string id, ulong seed, string interval, string deviation, string planted, double wrong, params IDistribution[] inputs) => Of(
        id, seed, planted,
        (row, s) =>
        {
            var y = new Simulation(s, inputs, x => x.Sum());
            double half = row.Expected(interval), u = row.Expected(deviation);
            return
            [
                y.Mean("y", row.Expected("y"), scale: u), y.Deviation("u", u),
                y.Of("lower end of 95 %", -half, v => CoverageInterval.Symmetric(v, 0.95).Lower!.Value, -wrong),
                y.Of("upper end of 95 %", half, v => CoverageInterval.Symmetric(v, 0.95).Upper!.Value, wrong),
                y.Of("width of the shortest", 2 * half, v => CoverageInterval.Shortest(v, 0.95).Width!.Value),
            ];
        });

    // Masses in mg, densities in kg/m³. Recomputed by tests/data/reference/gum_mass_calibration.py.
    private static SampledCheck Mass(string id, ulong seed) => Of(
        id, seed, "u and interval by propagation of uncertainty of the first order, which sees no buoyancy",
        (row, s) =>
        {
            var y = new Simulation(
                s,
                [
                    new NormalDistribution(100000, 0.05), new NormalDistribution(1.234, 0.02), new UniformDistribution(1.1, 1.3), new UniformDistribution(7000, 9000),
                    new UniformDistribution(7950, 8050),
                ],
                x => ((x[0] + x[1]) * (1 + ((x[2] - 1.2) * ((1 / x[3]) - (1 / x[4]))))) - 100000);
            double mean = row.Expected("y"), half = row.Expected("exact 95 % +/-"), u = row.Expected("u"), first = Math.Sqrt((0.05 * 0.05) + (0.02 * 0.02));
            double wrong = NormalLaw.Quantile(0.975) * first;
            return
            [
                y.Mean("y, mg", mean, scale: u), y.Deviation("u, mg", u, planted: first),
                y.Of("lower end of 95 %, mg", mean - half, v => CoverageInterval.Symmetric(v, 0.95).Lower!.Value, mean - wrong, scale: u),
                y.Of("upper end of 95 %, mg", mean + half, v => CoverageInterval.Symmetric(v, 0.95).Upper!.Value, mean + wrong, scale: u),
                y.Of("width of the shortest, mg", 2 * half, v => CoverageInterval.Shortest(v, 0.95).Width!.Value),
            ];
        });

    private static SampledCheck Squares(string id, ulong seed) => Of(
        id, seed, "an interval of ±1.96 u",
        (row, s) =>
        {
            double x1 = row.Input("x1"), r = row.Input("r"), rest = Math.Sqrt(1 - (r * r));
            var y = new Simulation(s, [new NormalDistribution(0, 0.005), new NormalDistribution(0, 0.005)], x =>
            {
                double a = x1 + x[0], b = (r * x[0]) + (rest * x[1]);
                return (a * a) + (b * b);
            });
            double[] ends = [.. row.Tokens("shortest 95 %").Select(t => 1e-6 * PublishedRow.Parse(t))];
            double width = ends[1] - ends[0], u = row.Expected("u");
            return
            [
                y.Mean("y", row.Expected("exact y")), y.Deviation("u", u),
                y.Of("width of the shortest 95 %", width, v => CoverageInterval.Shortest(v, 0.95).Width!.Value, 2 * 1.96 * u),
                y.Of("its lower end", ends[0], v => CoverageInterval.Shortest(v, 0.95).Lower!.Value, allowance: 0.04 * width, scale: width),
            ];
        },
        "4 % of the width for the lower end, because the shortest interval is flat at its minimum");

    private static SampledCheck EndGauge(string id, ulong seed) => Of(
        id, seed, "u and interval by propagation of uncertainty, 32 and ±93",
        (row, s) =>
        {
            const double Nominal = 50e6;
            IDistribution T(double degrees, double x, double u) => new ScaledDistribution(new StudentTDistribution(degrees), u, x);
            var unit = new UniformDistribution(0, 1);
            var y = new Simulation(
                s,
                [
                    T(18, 50000623, 25), T(24, 215, 6), T(5, 0, 4), T(8, 0, 7), new UniformDistribution(9.5e-6, 13.5e-6), new NormalDistribution(-0.1, 0.2),
                    new BetaDistribution(0.5, 0.5, -0.5, 0.5), // the arc sine law of a sinusoidal swing
                    unit, unit, unit, unit,
                ],
                x => x[0] + x[1] + x[2] + x[3]
                    - (x[0] * ((Curved(x[7], x[8], 1e-6, 0.1e-6) * (x[5] + x[6])) + (x[4] * Curved(x[9], x[10], 0.05, 0.025)))) - Nominal);
            string[] ends = row.Tokens("symmetric 99 %");
            return
            [
                y.Mean("y, nm", row.Expected("analytic y")), y.Deviation("u, nm", row.Expected("u"), planted: 32),
                y.Of("lower end of 99 %, nm", PublishedRow.Parse(ends[0]), v => CoverageInterval.Symmetric(v, 0.99).Lower!.Value, allowance: 0.1),
                y.Of("upper end of 99 %, nm", PublishedRow.Parse(ends[1]), v => CoverageInterval.Symmetric(v, 0.99).Upper!.Value, allowance: 0.1),
                y.Of("width of the shortest, nm, as printed", 187, v => CoverageInterval.Shortest(v, 0.99).Width!.Value, allowance: 1),
            ];
        },
        "0.1 nm, the error of the recomputed ends, and 1 nm for a width of two ends printed to whole nanometres");

    // A rectangular law on −a … a whose ends are known to ± d: both move together so that the middle stays (6.4.3).
    private static double Curved(double first, double second, double a, double d)
    {
        double lower = -a - d + (2 * d * first);
        return lower * (1 - (2 * second));
    }

    /// <summary>A measurement model, simulated.</summary>
    private sealed class Simulation
    {
        private readonly double[][] batches = new double[Batches][];
        private readonly double[] all = new double[Batches * Trials];
        private readonly Moments[] moments = new Moments[Batches];
        private readonly Moments total;

        public Simulation(ulong seed, IDistribution[] inputs, Func<double[], double> model)
        {
            double[][] x = [.. inputs.Select(_ => new double[Trials])];
            double[] point = new double[inputs.Length];
            for (int b = 0; b < Batches; b++)
            {
                for (int i = 0; i < inputs.Length; i++)
                {
                    UniformBlock.Fill(seed, 0, (uint)(b * Trials), StreamKey.Of(DrawDomain.Reserved, "check.gum", i), 0, x[i]);
                    inputs[i].Quantiles(x[i], x[i]);
                }

                double[] y = batches[b] = new double[Trials];
                for (int k = 0; k < Trials; k++)
                {
                    for (int i = 0; i < inputs.Length; i++)
                    {
                        point[i] = x[i][k];
                    }

                    y[k] = model(point);
                }

                double centre = y[0], s1 = 0, s2 = 0;
                foreach (double v in y)
                {
                    s1 += v - centre;
                    s2 += (v - centre) * (v - centre);
                }

                moments[b] = Moments.FromPowerSums(centre, Trials, s1, s2, 0, 0);
                total.Merge(moments[b]);
                Array.Sort(y);
                y.CopyTo(all, b * Trials);
            }

            Array.Sort(all);
        }

        public SampledFigure Mean(string name, double expected, double? scale = null) =>
            Figure(name, expected, total.Mean, moments.Select(m => m.Mean), null, 0, scale);

        public SampledFigure Deviation(string name, double expected, double? planted = null) =>
            Figure(name, expected, total.StandardDeviation, moments.Select(m => m.StandardDeviation), planted, 0, null);

        public SampledFigure Of(string name, double expected, Func<double[], double> value, double? planted = null, double allowance = 0, double? scale = null) =>
            Figure(name, expected, value(all), batches.Select(value), planted, allowance, scale);

        private static SampledFigure Figure(
            string name, double expected, double found, IEnumerable<double> batches, double? planted, double allowance, double? scale) =>
            new(name, expected, found, BatchEstimate.Of([.. batches]).StandardError!.Value, planted, allowance, scale);
    }
}
