namespace CureSim.Core.Statistics;

/// <summary>When in a period a flow of money falls.</summary>
public enum FlowTiming
{
    /// <summary>At the end of each period.</summary>
    End,

    /// <summary>In the middle of each period.</summary>
    Middle,

    /// <summary>At the beginning of each period.</summary>
    Begin,

    /// <summary>Evenly over each period.</summary>
    Continuous,
}

/// <summary>Equal flows of money: present value, payment, number of periods.</summary>
/// <remarks>
/// Signs are those of a cash flow: money received is positive, money paid is negative, and all of them balance:
/// pv + payment·a(n) + fv·(1 + i)^(−n) = 0, a(n) the factor of <see cref="PresentValueFactor"/>.
/// End of period: a = (1 − (1 + i)^(−n))/i; middle ×√(1 + i); begin ×(1 + i); continuous ×i/ln(1 + i). At i = 0 all are n.
/// Source: OpenFormula (OASIS ODF 1.2 part 2), PV, PMT, NPER; NIST Handbook 135 (uniform present value). Checked against: rows ECO-PMT, ECO-PV, ECO-NPER, ECO-UPV-*.
/// </remarks>
public static class Annuity
{
    /// <summary>Present value of one unit of money in each of n periods (P/A).</summary>
    public static double PresentValueFactor(double rate, double periods, FlowTiming timing = FlowTiming.End)
    {
        Guard(rate);
        if (!(periods >= 0.0) || double.IsInfinity(periods))
        {
            throw new ArgumentOutOfRangeException(nameof(periods), periods, "A number of periods of zero or above is needed.");
        }

        double log = SmallArgument.Log1P(rate);
        if (rate == 0.0)
        {
            return periods;
        }

        double loss = -SmallArgument.ExpM1(-periods * log);
        return timing switch
        {
            FlowTiming.End => loss / rate,
            FlowTiming.Middle => loss / rate * Math.Exp(0.5 * log),
            FlowTiming.Begin => loss / rate * (1.0 + rate),
            FlowTiming.Continuous => loss / log,
            _ => throw new ArgumentOutOfRangeException(nameof(timing), timing, "Not a known timing."),
        };
    }

    /// <summary>Payment in each period that repays one unit of money now (A/P).</summary>
    public static double RecoveryFactor(double rate, double periods, FlowTiming timing = FlowTiming.End) =>
        periods > 0.0
            ? 1.0 / PresentValueFactor(rate, periods, timing)
            : throw new ArgumentOutOfRangeException(nameof(periods), periods, "A number of periods above zero is needed.");

    /// <summary>Value now of one unit of money after n periods (P/F).</summary>
    public static double SingleFactor(double rate, double periods)
    {
        Guard(rate);
        return Math.Exp(-periods * SmallArgument.Log1P(rate));
    }

    /// <summary>Payment in each period that balances a sum now and a sum at the end.</summary>
    public static double Payment(double rate, double periods, double presentValue, double futureValue = 0.0, FlowTiming timing = FlowTiming.End) =>
        -(presentValue + (futureValue * SingleFactor(rate, periods))) * RecoveryFactor(rate, periods, timing);

    /// <summary>Sum now that balances equal payments and a sum at the end.</summary>
    public static double PresentValue(double rate, double periods, double payment, double futureValue = 0.0, FlowTiming timing = FlowTiming.End) =>
        -((payment * PresentValueFactor(rate, periods, timing)) + (futureValue * SingleFactor(rate, periods)));

    /// <summary>Number of periods after which payments have balanced a sum now; withheld when they never do.</summary>
    public static Estimate PeriodCount(double rate, double payment, double presentValue, double futureValue = 0.0, FlowTiming timing = FlowTiming.End)
    {
        Guard(rate);
        if (rate == 0.0)
        {
            double n = -(presentValue + futureValue) / payment;
            return n >= 0.0 && double.IsFinite(n) ? Estimate.Exact(n) : Estimate.Withhold("the payments never balance the sum");
        }

        // pv + (payment k/i)(1 − v) + fv v = 0, v = (1 + i)^(−n); k·/i is the factor of an endless annuity.
        double endless = payment * PresentValueFactor(rate, 1.0, timing) * (1.0 + rate) / rate;
        double v = (presentValue + endless) / (endless - futureValue);
        double periods = -Math.Log(v) / SmallArgument.Log1P(rate);
        return v > 0.0 && double.IsFinite(periods) && periods >= 0.0
            ? Estimate.Exact(periods)
            : Estimate.Withhold("the payments never balance the sum");
    }

    private static void Guard(double rate)
    {
        if (!(rate > -1.0) || double.IsInfinity(rate))
        {
            throw new ArgumentOutOfRangeException(nameof(rate), rate, "A rate a period above −1 is needed (0.08 for 8 %).");
        }
    }
}
