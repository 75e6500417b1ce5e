namespace CureSim.Core.Statistics;

/// <summary>Risks of an acceptance rule over the whole production, for a normal process and a normal measurement.</summary>
/// <param name="Conforming">P(the true value is within the specification limits).</param>
/// <param name="Accepted">P(the reading is within the acceptance limits).</param>
/// <param name="ConsumerRisk">R_C = P(accepted and not conforming).</param>
/// <param name="ProducerRisk">R_P = P(rejected and conforming).</param>
/// <remarks>
/// R_C = ∫_{outside T} P(accept | η) g(η) dη, R_P = ∫_{T} P(reject | η) g(η) dη; quadrature to about 1e-12.
/// Source: JCGM 106:2012, 9.5. Checked against: rows CON-GLOB-*, and Conforming − R_P + R_C = Accepted.
/// </remarks>
public sealed record GlobalRisk(double Conforming, double Accepted, double ConsumerRisk, double ProducerRisk)
{
    /// <summary>Where the process density is below 1e-19 of its peak.</summary>
    private const double Reach = 9.5;

    /// <summary>Risks with a process N(mean, deviation²), a measurement of standard uncertainty u, and the two pairs of limits.</summary>
    public static GlobalRisk Normal(double processMean, double processDeviation, double uncertainty, LimitPair specification, LimitPair acceptance)
    {
        if (!(processDeviation > 0.0 && uncertainty > 0.0) || !double.IsFinite(processMean))
        {
            throw new ArgumentOutOfRangeException(nameof(processDeviation), processDeviation, "A process deviation and an uncertainty above zero are needed.");
        }

        if ((specification.Fault ?? acceptance.Fault) is string fault)
        {
            throw new ArgumentException("The limits cannot be used: " + fault + ".", nameof(specification));
        }

        double Density(double eta) => NormalLaw.Density((eta - processMean) / processDeviation) / processDeviation;
        double Reject(double eta) => ConformanceProbability.Outside(eta, uncertainty, acceptance);
        double Accept(double eta) => AcceptProbability(eta, uncertainty, acceptance);
        double left = processMean - (Reach * processDeviation);
        double right = processMean + (Reach * processDeviation);
        double lower = Math.Clamp(specification.Lower ?? left, left, right);
        double upper = Math.Clamp(specification.Upper ?? right, left, right);
        double[] marks = Marks(acceptance, uncertainty, lower, upper, processMean);
        double consumer = Integrate(e => Accept(e) * Density(e), left, lower, marks) + Integrate(e => Accept(e) * Density(e), upper, right, marks);
        double producer = Integrate(e => Reject(e) * Density(e), lower, upper, marks);
        double total = Math.Sqrt((processDeviation * processDeviation) + (uncertainty * uncertainty));
        return new GlobalRisk(
            ConformanceProbability.Of(processMean, processDeviation, specification),
            ConformanceProbability.Of(processMean, total, acceptance),
            consumer,
            producer);
    }

    private static double AcceptProbability(double eta, double u, LimitPair a)
    {
        // Written with the tail that is small, so that an acceptance far outside the limits keeps its digits.
        double toUpper = a.Upper is double up ? (up - eta) / u : double.PositiveInfinity;
        double toLower = a.Lower is double lo ? (lo - eta) / u : double.NegativeInfinity;
        return toLower > 0.0
            ? NormalLaw.Survival(toLower) - NormalLaw.Survival(toUpper)
            : NormalLaw.Cdf(toUpper) - NormalLaw.Cdf(toLower);
    }

    private static double[] Marks(LimitPair acceptance, double u, double lower, double upper, double mean)
    {
        // The acceptance turns over a few u about each of its limits; panels end there so that none straddles the turn blindly.
        var marks = new List<double> { lower, upper, mean };
        foreach (double? limit in new[] { acceptance.Lower, acceptance.Upper })
        {
            if (limit is double a)
            {
                marks.AddRange([a - (8.0 * u), a - (2.0 * u), a, a + (2.0 * u), a + (8.0 * u)]);
            }
        }

        marks.Sort();
        return [.. marks];
    }

    private static double Integrate(Func<double, double> f, double from, double to, double[] marks)
    {
        double sum = 0.0;
        double start = from;
        foreach (double mark in marks)
        {
            if (mark > start && mark < to)
            {
                sum += GaussQuadrature.Integrate(f, start, mark);
                start = mark;
            }
        }

        return sum + GaussQuadrature.Integrate(f, start, to);
    }
}
