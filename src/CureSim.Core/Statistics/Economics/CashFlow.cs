namespace CureSim.Core.Statistics;

/// <summary>Net present value and internal rate of return of a series of flows.</summary>
/// <remarks>
/// NPV = Σ c_t (1 + i)^(−t), t = 0, 1, …: the first flow is now. IRR is the rate above −1 at which NPV = 0.
/// A series whose signs change once has one such rate (Descartes); with more changes it is given only when the running total changes sign once and
/// does not end at zero (C. J. Norstrom, J. Financ. Quant. Anal. 7 (1972) 1835), else withheld because several rates may serve.
/// Source: OpenFormula (OASIS ODF 1.2 part 2), NPV, IRR. Checked against: rows ECO-NPV, ECO-IRR.
/// </remarks>
public static class CashFlow
{
    /// <summary>Net present value, in the currency of the flows.</summary>
    public static double NetPresentValue(double rate, ReadOnlySpan<double> flows)
    {
        if (!(rate > -1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(rate), rate, "A rate a period above −1 is needed (0.08 for 8 %).");
        }

        return AtForce(SmallArgument.Log1P(rate), flows);
    }

    /// <summary>Internal rate of return a period (0.08 for 8 %), or why there is none.</summary>
    public static Estimate InternalRate(ReadOnlySpan<double> flows)
    {
        double[] c = flows.ToArray();
        int changes = SignChanges(c);
        if (changes == 0)
        {
            return Estimate.Withhold("the flows never change sign: no rate makes their present value zero");
        }

        double[] running = new double[c.Length];
        double sum = 0.0;
        for (int i = 0; i < c.Length; i++)
        {
            running[i] = sum += c[i];
        }

        if (changes > 1 && !(SignChanges(running) == 1 && running[^1] != 0.0))
        {
            return Estimate.Withhold("the flows change sign more than once: several rates may serve");
        }

        if (sum == 0.0)
        {
            return Estimate.Exact(0.0);
        }

        // In x = ln(1 + i). The first flow's sign rules for large x; the total is the value at x = 0.
        double first = Array.Find(c, v => v != 0.0);
        double direction = Math.Sign(first) != Math.Sign(sum) ? 0.05 : -0.05;
        double force = MonotoneRoot.FindOutward(x => AtForce(x, c), 0.0, direction);
        return Estimate.Exact(SmallArgument.ExpM1(force));
    }

    private static double AtForce(double force, ReadOnlySpan<double> flows)
    {
        double sum = 0.0;
        for (int t = flows.Length - 1; t >= 0; t--)
        {
            sum = (sum * Math.Exp(-force)) + flows[t];
        }

        return sum;
    }

    private static int SignChanges(double[] values)
    {
        int changes = 0;
        int last = 0;
        foreach (double v in values)
        {
            int sign = Math.Sign(v);
            if (sign != 0)
            {
                changes += last != 0 && sign != last ? 1 : 0;
                last = sign;
            }
        }

        return changes;
    }
}
