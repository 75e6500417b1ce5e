using System.Collections.Immutable;
using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Drivers;

/// <summary>How much worse the model predicts when an input's draws are dealt out anew among the lifetimes held out.</summary>
/// <param name="Input">The input.</param>
/// <param name="Drop">Mean drop of R² over the deals; its interval is 1.96 standard deviations of one deal to either side, which is the spread of permutations, not the error of the mean.</param>
public sealed record InputImportance(string Input, Estimate Drop);

/// <summary>What the model says of one number of the draws: the mean answer over the lifetimes held out, with that number at stated quantiles.</summary>
/// <param name="Column">The number.</param>
/// <param name="X">Its values, SI.</param>
/// <param name="Mean">Mean answer.</param>
/// <param name="Low">The answer that 10 % of lifetimes are below.</param>
/// <param name="High">The answer that 10 % are above.</param>
public sealed record EffectCurve(DrawColumn Column, ImmutableArray<double> X, ImmutableArray<double> Mean, ImmutableArray<double> Low, ImmutableArray<double> High);

/// <summary>Importance of the lifetimes' own draws for one answer.</summary>
/// <param name="Id">Name in tables.</param>
/// <param name="Answer">What is predicted, in words with its unit.</param>
/// <param name="Lifetimes">Lifetimes used.</param>
/// <param name="HeldOut">… of them held out.</param>
/// <param name="RSquared">R² on those held out, with a bootstrap interval; withheld when there is nothing to predict.</param>
/// <param name="Withheld">Why no ranking is given; null when it is.</param>
/// <param name="Note">What was done with values that are not known or not finite; null for nothing.</param>
/// <param name="Inputs">Inputs, most important first; empty when withheld.</param>
/// <param name="Effects">Effect curves of the most important ones.</param>
public sealed record Importance(
    string Id, string Answer, int Lifetimes, int HeldOut, Estimate RSquared, string? Withheld, string? Note, ImmutableArray<InputImportance> Inputs, ImmutableArray<EffectCurve> Effects)
{
    /// <summary>R² below which no ranking is given: then more is unexplained than explained.</summary>
    public const double LeastRSquared = 0.5;

    private const int Deals = 20;
    private const int Curves = 3;
    private const int LeastRows = 128;
    private const double SmallestFraction = 1e-9;
    private static readonly StreamKey DealStream = StreamKey.Of(DrawDomain.Reserved, "drivers.permutation");
    private static readonly StreamKey PickStream = StreamKey.Of(DrawDomain.Reserved, "drivers.r2-bootstrap");

    /// <summary>Importance for time to requalify and for the fraction nonconforming, from a run that is already made.</summary>
    public static ImmutableArray<Importance> Of(RunResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var records = result.Records.ToArray();
        var draws = LifetimeDraws.Of(result.Plan, records);
        var scenario = result.Plan.Scenario;
        double horizon = scenario.Production.HorizonSeconds;
        bool byWorld = scenario.Run.Worlds > 1;
        bool Held(LifetimeRecord r) => (byWorld ? r.World : r.Batch) % 4 == 3;
        var found = ImmutableArray.CreateBuilder<Importance>();
        if (!scenario.Requalification.On.IsEmpty)
        {
            int[] used = [.. Enumerable.Range(0, records.Length).Where(i => !records[i].NeverQualified)];
            int censored = used.Count(i => double.IsNaN(records[i].RequalifySeconds)), never = records.Length - used.Length;
            string note = FormattableString.Invariant($"time held at the horizon: {censored} of {used.Length} lifetimes had not to requalify within it") + (never > 0 ? $"; {never} never qualified are left out" : "");
            found.Add(One("time_to_requalify", "time without requalification up to the horizon, h", draws, used, i => (double.IsNaN(records[i].RequalifySeconds) ? horizon : records[i].RequalifySeconds) / 3600.0,
                i => Held(records[i]), note, scenario.Run.Seed));
        }

        int[] judged = [.. Enumerable.Range(0, records.Length).Where(i => records[i].ConditionalStates > 0.0)];
        double Fraction(int i) => records[i].ConditionalParts / records[i].ConditionalStates;
        int small = judged.Count(i => Fraction(i) < SmallestFraction);
        found.Add(One("fraction_nonconforming", "log10 of the odds of a nonconforming part", draws, judged, i => Odds(Fraction(i)), i => Held(records[i]),
            small > 0 ? FormattableString.Invariant($"fractions below {SmallestFraction:0e+0} are held there ({small} of {judged.Length} lifetimes)") : null, scenario.Run.Seed));
        return found.ToImmutable();
    }

    private static double Odds(double p)
    {
        double held = Math.Clamp(p, SmallestFraction, 1.0 - SmallestFraction);
        return Math.Log10(held / (1.0 - held));
    }

    private static Importance One(string id, string answer, LifetimeDraws draws, int[] used, Func<int, double> value, Func<int, bool> held, string? note, ulong seed)
    {
        int[] test = [.. used.Where(held)], train = [.. used.Where(i => !held(i))];
        Importance Refuse(string reason, Estimate? r2 = null) => new(id, answer, used.Length, test.Length, r2 ?? Estimate.Withhold(reason), reason, note, [], []);
        if (used.Length < LeastRows || test.Length < LeastRows / 8 || draws.Columns.IsEmpty)
        {
            return Refuse($"{used.Length} lifetimes are too few to train on and to hold out; at least {LeastRows} are needed (--lifetimes)");
        }

        double[] y = [.. test.Select(value)];
        if (y.Max() - y.Min() <= 0.0 || train.Select(value).Distinct().Take(2).Count() < 2)
        {
            return Refuse("the answer is the same in all lifetimes, so there is nothing to explain");
        }

        using var model = BoostedTrees.Train([.. train.Select(i => draws.Rows[i])], [.. train.Select(i => (float)value(i))]);
        float[][] rows = [.. test.Select(i => draws.Rows[i])];
        double[] predicted = [.. rows.Select(model.Predict)];
        double r2 = Explained(y, predicted);
        var estimate = Bootstrap(y, predicted, r2, seed);
        if (!(r2 >= LeastRSquared))
        {
            return Refuse(FormattableString.Invariant($"the model explains too little of lifetimes that it has not seen: R² {r2:0.00}, at least {LeastRSquared:0.0} is asked for; what decides is not in the first draws (parts, readings, wander, later events), or more lifetimes are needed"), estimate);
        }

        var inputs = draws.Columns.Select(c => c.Input).Distinct().Select(input => Deal(input, draws.Columns, rows, y, r2, model, seed)).OrderByDescending(x => x.Drop.Value).ToImmutableArray();
        var effects = inputs.Where(i => i.Drop.Value > 0.0).Take(Curves).Select(i => Effect(i.Input, draws.Columns, rows, model)).ToImmutableArray();
        return new(id, answer, used.Length, test.Length, estimate, null, note, inputs, effects);
    }

    private static InputImportance Deal(string input, ImmutableArray<DrawColumn> columns, float[][] rows, double[] y, double r2, BoostedTrees model, ulong seed)
    {
        int[] own = [.. Enumerable.Range(0, columns.Length).Where(c => columns[c].Input == input)];
        var drops = new double[Deals];
        for (int deal = 0; deal < Deals; deal++)
        {
            // All numbers of the input go together, from one lifetime to another.
            int[] from = [.. Enumerable.Range(0, rows.Length).OrderBy(i => Draw.Uniform(seed, 0, (uint)deal, DealStream, i))];
            double[] predicted = [.. rows.Select((row, i) =>
            {
                float[] mixed = [.. row];
                foreach (int c in own)
                {
                    mixed[c] = rows[from[i]][c];
                }

                return model.Predict(mixed);
            })];
            drops[deal] = r2 - Explained(y, predicted);
        }

        double mean = drops.Average(), sd = Math.Sqrt(drops.Sum(d => (d - mean) * (d - mean)) / (Deals - 1.0));
        return new(input, Estimate.Of(mean, sd, Deals));
    }

    private static EffectCurve Effect(string input, ImmutableArray<DrawColumn> columns, float[][] rows, BoostedTrees model)
    {
        const int Points = 25;
        double[][] Along(int c, out double[] x)
        {
            double[] sorted = [.. rows.Select(r => (double)r[c]).Order()];
            x = [.. Enumerable.Range(0, Points).Select(k => SampleQuantile.OfSorted(sorted, 0.02 + (0.96 * k / (Points - 1.0)))).Distinct()];
            return [.. x.Select(v => rows.Select(row =>
            {
                float[] set = [.. row];
                set[c] = (float)v;
                return model.Predict(set);
            }).Order().ToArray())];
        }

        // Of the input's numbers the one whose mean answer moves most.
        var best = Enumerable.Range(0, columns.Length).Where(c => columns[c].Input == input)
            .Select(c => (Column: columns[c], Answers: Along(c, out double[] x), X: x)).MaxBy(e => e.Answers.Max(a => a.Average()) - e.Answers.Min(a => a.Average()));
        return new(best.Column, [.. best.X], [.. best.Answers.Select(a => a.Average())],
            [.. best.Answers.Select(a => SampleQuantile.OfSorted(a, 0.1))], [.. best.Answers.Select(a => SampleQuantile.OfSorted(a, 0.9))]);
    }

    private static double Explained(double[] y, double[] predicted)
    {
        double mean = y.Average(), total = y.Sum(v => (v - mean) * (v - mean)), left = 0.0;
        for (int i = 0; i < y.Length; i++)
        {
            left += (y[i] - predicted[i]) * (y[i] - predicted[i]);
        }

        return 1.0 - (left / total);
    }

    private static Estimate Bootstrap(double[] y, double[] predicted, double r2, ulong seed)
    {
        const int Resamples = 1000;
        int n = y.Length;
        var drawn = new List<double>(Resamples);
        var (a, b) = (new double[n], new double[n]);
        for (int s = 0; s < Resamples; s++)
        {
            for (int i = 0; i < n; i++)
            {
                int k = Math.Min(n - 1, (int)(n * Draw.Uniform(seed, 0, (uint)s, PickStream, i)));
                (a[i], b[i]) = (y[k], predicted[k]);
            }

            double found = Explained(a, b);
            if (double.IsFinite(found))
            {
                drawn.Add(found);
            }
        }

        double[] sorted = [.. drawn.Order()];
        return Estimate.Bounded(r2, null, Math.Min(r2, SampleQuantile.OfSorted(sorted, 0.025)), Math.Max(r2, SampleQuantile.OfSorted(sorted, 0.975)), n);
    }
}
