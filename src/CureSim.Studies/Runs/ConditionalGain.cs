using CureSim.Core.Summaries;

namespace CureSim.Studies.Runs;

/// <summary>Counted and conditional estimate of one fraction side by side, and what the second gains.</summary>
/// <param name="Bad">Nonconforming ones counted.</param>
/// <param name="Sampled">Ones sampled.</param>
/// <param name="States">States judged for the conditional estimate.</param>
/// <param name="Counted">Counted fraction.</param>
/// <param name="CountedError">Its standard error, from lifetimes.</param>
/// <param name="Conditional">Mean of p(state).</param>
/// <param name="ConditionalError">Its standard error, from lifetimes.</param>
/// <param name="DifferenceError">Standard error of their difference, formed lifetime by lifetime because both come from the same ones.</param>
/// <remarks>
/// Gain = Var(counted)/Var(conditional): so many times fewer lifetimes give the same error. Its bound, were every state judged, is
/// Var_total/(Var_total − p(1 − p)/n): given the states the count is binomial, and that part alone falls away (law of total variance). For bonds that
/// share a part's exposure the binomial part is an approximation; for parts it holds. Errors are those of lifetimes, also with several worlds.
/// Source: S. Asmussen and P. W. Glynn, Stochastic Simulation (2007), section V.4 (conditional Monte Carlo); the difference of two ratios as in
/// W. G. Cochran, Sampling Techniques, 3rd ed. (1977), section 6.14.
/// </remarks>
public sealed record ConditionalGain(
    double Bad, double Sampled, double States, double Counted, double CountedError, double Conditional, double ConditionalError, double DifferenceError)
{
    /// <summary>Var(counted)/Var(conditional); null when nothing was counted or the conditional estimate does not vary.</summary>
    public double? Gain => Bad > 0.0 && ConditionalError > 0.0 ? CountedError * CountedError / (ConditionalError * ConditionalError) : null;

    /// <summary>What the gain could be at most; null when nothing was counted, or the sample shows no variance beside the binomial (then no bound shows).</summary>
    public double? Bound
    {
        get
        {
            double total = CountedError * CountedError, rest = total - (Counted * (1.0 - Counted) / Sampled);
            return Bad > 0.0 && rest > 0.0 ? total / rest : null;
        }
    }

    /// <summary>Counted − conditional, in standard errors of the difference; null when that is 0.</summary>
    public double? Score => DifferenceError > 0.0 ? (Counted - Conditional) / DifferenceError : null;

    /// <summary>Compares the two estimates of a run.</summary>
    /// <param name="records">Its lifetimes.</param>
    /// <param name="parts">True for parts, false for bonds.</param>
    /// <param name="byBatch">True when lifetimes share out strata: errors then come from batches, which are independent of each other.</param>
    /// <returns>Null when nothing was sampled or judged, or there are fewer than two lifetimes.</returns>
    public static ConditionalGain? Of(ReadOnlySpan<LifetimeRecord> records, bool parts, bool byBatch = false)
    {
        double bad = 0.0, sampled = 0.0, judged = 0.0, states = 0.0;
        foreach (ref readonly var r in records)
        {
            bad += Bads(r, parts);
            sampled += Samples(r, parts);
            judged += parts ? r.ConditionalParts : r.ConditionalBonds;
            states += r.ConditionalStates;
        }

        int n = records.Length;
        if (n < 2 || !(sampled > 0.0) || !(states > 0.0))
        {
            return null;
        }

        double counted = bad / sampled, conditional = judged / states, one = 0.0, two = 0.0, both = 0.0;
        var units = new Dictionary<(int World, int Batch), (double C, double S)>();
        void Add(double c, double s)
        {
            one += c * c;
            two += s * s;
            both += (c - s) * (c - s);
        }

        foreach (ref readonly var r in records)
        {
            double c = (Bads(r, parts) - (counted * Samples(r, parts))) / sampled;
            double s = ((parts ? r.ConditionalParts : r.ConditionalBonds) - (conditional * r.ConditionalStates)) / states;
            if (byBatch)
            {
                var (fromC, fromS) = units.GetValueOrDefault((r.World, r.Batch));
                units[(r.World, r.Batch)] = (fromC + c, fromS + s);
            }
            else
            {
                Add(c, s);
            }
        }

        foreach (var (c, s) in units.Values)
        {
            Add(c, s);
        }

        int used = byBatch ? units.Count : n;
        double k = used / (used - 1.0);
        return new(bad, sampled, states, counted, Math.Sqrt(k * one), conditional, Math.Sqrt(k * two), Math.Sqrt(k * both));
    }

    private static double Bads(in LifetimeRecord r, bool parts) => parts ? r.PartsNonconforming : r.BondsNonconforming;

    private static double Samples(in LifetimeRecord r, bool parts) => parts ? r.PartsSampled : r.BondsSampled;
}
