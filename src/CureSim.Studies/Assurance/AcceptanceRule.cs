using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Assurance;

/// <summary>What a qualification plan accepts, and what the textbook says of it, which assumes that parts are independent.</summary>
/// <remarks>
/// Measured plans judge every limited response at every position of a part by itself: mean − k·s not below the lower, mean + k·s not above the upper limit.
/// Tolerance interval: k exact, one-sided or two-sided (ISO 16269-6). Ppk: k = 3 × the smallest index whose lower confidence limit reaches the required one,
/// exact (noncentral t) with one limit, after Bissell with two.
/// </remarks>
public sealed class AcceptanceRule
{
    private readonly SpecificationLimits[] limits;
    private readonly double[] factors;

    /// <summary>The rule of a plan for a window.</summary>
    public AcceptanceRule(QualificationPlan plan, Window window)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(window);
        Plan = plan;
        limits = [.. window.Limits];
        factors = plan.Accept == Acceptance.Attribute ? [] : [.. limits.Select(l => FactorOf(plan, l.Lower is not null && l.Upper is not null))];
    }

    /// <summary>The plan.</summary>
    public QualificationPlan Plan { get; }

    /// <summary>The k of each limited response; empty for an attribute plan.</summary>
    public IReadOnlyList<double> Factors => factors;

    /// <summary>Fraction nonconforming that a good cell may have: 1 − reliability.</summary>
    public double Claimed => 1.0 - Plan.Reliability;

    /// <summary>The textbook's chance, at most, that a cell with just the claimed fraction nonconforming passes: 1 − confidence, for an attribute plan that of its whole n.</summary>
    public double TextbookRisk => Plan.Accept == Acceptance.Attribute ? 1.0 - SamplePlan.Confidence(Plan.Parts, Plan.Allowed, Plan.Reliability) : 1.0 - Plan.Confidence;

    /// <summary>Textbook chance to pass at a fraction nonconforming p, 0 &lt; p &lt; 1: binomial, or one normal value with all of p beyond one limit.</summary>
    public double Textbook(double nonconforming) => Plan.Accept == Acceptance.Attribute
        ? OperatingCharacteristic.Attribute(Plan.Parts, Plan.Allowed, nonconforming)
        : OperatingCharacteristic.Measured(Plan.Parts, factors.Max(), nonconforming);

    /// <summary>Whether the parts taken are accepted.</summary>
    public bool Accepts(TakenSample sample)
    {
        ArgumentNullException.ThrowIfNull(sample);
        bool read = Plan.Reading == PartReading.Radiometer;
        if (Plan.Accept == Acceptance.Attribute)
        {
            return (read ? sample.NonconformingRead : sample.Nonconforming) <= Plan.Allowed;
        }

        var values = read ? sample.Read : sample.True;
        for (int r = 0; r < limits.Length; r++)
        {
            for (int position = 0; position < sample.Positions; position++)
            {
                ref readonly var x = ref values[(r * sample.Positions) + position];
                double reach = factors[r] * x.StandardDeviation;
                if (x.Mean - reach < limits[r].Lower || x.Mean + reach > limits[r].Upper)
                {
                    return false;
                }
            }
        }

        return true;
    }

    private static double FactorOf(QualificationPlan plan, bool twoLimits) => plan.Accept switch
    {
        Acceptance.ToleranceInterval when twoLimits => NormalToleranceFactor.TwoSided(plan.Parts, plan.Reliability, plan.Confidence),
        Acceptance.ToleranceInterval => NormalToleranceFactor.OneSided(plan.Parts, plan.Reliability, plan.Confidence),
        _ when twoLimits => 3.0 * LeastByBissell(plan),
        _ => 3.0 * CapabilityInterval.LeastObserved(plan.RequiredPpk, plan.Parts, plan.Confidence),
    };

    // The lower limit rises with the index from there on; below a confidence of a half it may lie above the index itself.
    private static double LeastByBissell(QualificationPlan plan)
    {
        double low = 0.0, high = plan.RequiredPpk + 1.0;
        bool Reaches(double index) => CapabilityInterval.CpkLower(index, plan.Parts, plan.Confidence).Lower >= plan.RequiredPpk;
        while (!Reaches(high))
        {
            high *= 2.0;
            if (high > 1e6)
            {
                throw new ArgumentException($"With {plan.Parts} parts no index shows a Ppk at this confidence: take more parts.");
            }
        }

        for (int i = 0; i < 100; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Reaches(middle) ? (low, middle) : (middle, high);
        }

        return high;
    }
}
