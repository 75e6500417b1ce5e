using System.Collections.Immutable;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Plans;

/// <summary>Smallest number of parts of an attribute plan.</summary>
/// <param name="Acceptance">c: nonconforming parts that are still accepted.</param>
/// <param name="Parts">n.</param>
/// <param name="Confidence">Confidence that n and c give.</param>
public sealed record AttributePlan(int Acceptance, long Parts, double Confidence);

/// <summary>Smallest number of parts at which order statistics bound the reliability's proportion.</summary>
/// <param name="TwoSided">True: x(m) and x(n+1−m); false: the m-th value from one end.</param>
/// <param name="Order">m.</param>
/// <param name="Parts">n.</param>
/// <param name="Confidence">Confidence that n and m give.</param>
public sealed record OrderPlan(bool TwoSided, int Order, long Parts, double Confidence);

/// <summary>Factors of statistical tolerance intervals of a normal output from n parts.</summary>
/// <param name="Parts">n.</param>
/// <param name="OneSided">Exact one-sided factor.</param>
/// <param name="Natrella">Natrella's approximation; null where it has no real value.</param>
/// <param name="TwoSided">Exact two-sided factor.</param>
/// <param name="Howe">Howe's approximation.</param>
/// <param name="IsOwn">True for the user's own number of parts.</param>
public sealed record FactorRow(int Parts, double OneSided, double? Natrella, double TwoSided, double Howe, bool IsOwn);

/// <summary>Smallest number of parts at which an observed index at one limit shows the reliability at the confidence, for a normal output.</summary>
/// <param name="ObservedIndex">(limit − mean)/3s as observed.</param>
/// <param name="Parts">n; null when no number is enough: the index itself stands for less than the reliability.</param>
public sealed record IndexPlan(double ObservedIndex, long? Parts);

/// <summary>What the user's own number of parts shows when c of them are nonconforming.</summary>
/// <param name="Acceptance">c.</param>
/// <param name="Reliability">Reliability that is shown at the confidence: one minus the one-sided exact upper bound.</param>
public sealed record ShownReliability(int Acceptance, double Reliability);

/// <summary>A pair of confidence and reliability by risk, with the plans that belong to it.</summary>
/// <param name="Risk">In a word.</param>
/// <param name="Confidence">Confidence.</param>
/// <param name="Reliability">Reliability.</param>
/// <param name="Attribute">c = 0 … 3.</param>
/// <param name="WilksOneSided">First order.</param>
/// <param name="WilksTwoSided">First order.</param>
public sealed record RiskPair(string Risk, double Confidence, double Reliability, ImmutableArray<AttributePlan> Attribute, long WilksOneSided, long WilksTwoSided);

/// <summary>Sample sizes and factors of a pair of confidence and reliability. They assume independent parts.</summary>
/// <param name="Confidence">Confidence, 0 … 1.</param>
/// <param name="Reliability">Proportion that must conform, 0 … 1.</param>
/// <param name="OwnParts">The user's number of parts; null when not given.</param>
/// <param name="SuccessRunExact">ln(1 − C)/ln R, before it is rounded up.</param>
/// <param name="Attribute">c = 0 … 3; c = 0 is the success run.</param>
/// <param name="Orders">Wilks, one- and two-sided, first and second order.</param>
/// <param name="Factors">k by number of parts.</param>
/// <param name="Indices">Smallest n by observed index.</param>
/// <param name="Shown">What the user's parts show; empty when their number was not given.</param>
/// <param name="Risks">The usual pairs; common practice, no source.</param>
public sealed record SamplePlanTables(
    double Confidence, double Reliability, int? OwnParts, double SuccessRunExact, ImmutableArray<AttributePlan> Attribute, ImmutableArray<OrderPlan> Orders,
    ImmutableArray<FactorRow> Factors, ImmutableArray<IndexPlan> Indices, ImmutableArray<ShownReliability> Shown, ImmutableArray<RiskPair> Risks)
{
    /// <summary>Largest number of parts for which factors are worked out.</summary>
    public const int MostParts = 1_000_000;

    private const int MostAccepted = 3;
    private static readonly int[] Counts = [5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 300];
    private static readonly double[] ObservedIndices = [1.0, 1.2, 1.33, 1.5, 1.67, 2.0];
    private static readonly (string Risk, double Confidence, double Reliability)[] Pairs = [("high", 0.95, 0.99), ("medium", 0.95, 0.95), ("low", 0.95, 0.90)];

    /// <summary>Works the tables out.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A probability that is not between 0 and 1, or parts outside 2 … <see cref="MostParts"/>.</exception>
    public static SamplePlanTables Of(double confidence, double reliability, int? ownParts = null)
    {
        if (ownParts is < 2 or > MostParts)
        {
            throw new ArgumentOutOfRangeException(nameof(ownParts), ownParts, "From 2 to 1 000 000 parts.");
        }

        IEnumerable<int> counts = ownParts is { } own ? Counts.Append(own).Distinct().Order() : Counts;
        return new(
            confidence, reliability, ownParts, SamplePlan.SuccessRunExact(confidence, reliability), AttributeOf(confidence, reliability),
            [.. new[] { false, true }.SelectMany(two => new[] { 1, 2 }.Select(m => OrderOf(two, m, confidence, reliability)))],
            [.. counts.Select(n => FactorOf(n, confidence, reliability, n == ownParts))],
            [.. ObservedIndices.Select(i => new IndexPlan(i, LeastParts(i, confidence, reliability)))],
            ownParts is { } parts ? [.. Enumerable.Range(0, MostAccepted + 1).Where(c => c < parts)
                .Select(c => new ShownReliability(c, 1.0 - BinomialInterval.ClopperPearsonUpper(c, parts, confidence).Upper!.Value))] : [],
            [.. Pairs.Select(p => new RiskPair(
                p.Risk, p.Confidence, p.Reliability, AttributeOf(p.Confidence, p.Reliability), SamplePlan.WilksOneSided(1, p.Confidence, p.Reliability),
                SamplePlan.WilksTwoSided(1, p.Confidence, p.Reliability)))]);
    }

    private static ImmutableArray<AttributePlan> AttributeOf(double confidence, double reliability) =>
        [.. Enumerable.Range(0, MostAccepted + 1).Select(c =>
        {
            long n = SamplePlan.Attribute(c, confidence, reliability);
            return new AttributePlan(c, n, SamplePlan.Confidence(n, c, reliability));
        })];

    private static OrderPlan OrderOf(bool two, int order, double confidence, double reliability)
    {
        long n = two ? SamplePlan.WilksTwoSided(order, confidence, reliability) : SamplePlan.WilksOneSided(order, confidence, reliability);
        return new(two, order, n, SamplePlan.Confidence(n, two ? (2 * order) - 1 : order - 1, reliability));
    }

    private static FactorRow FactorOf(int n, double confidence, double reliability, bool own) => new(
        n, NormalToleranceFactor.OneSided(n, reliability, confidence), NormalToleranceFactor.OneSidedNatrella(n, reliability, confidence).Value,
        NormalToleranceFactor.TwoSided(n, reliability, confidence), NormalToleranceFactor.Howe(n, reliability, confidence), own);

    // The factor falls with n towards the normal quantile, so the smallest n with k ≤ 3·index is found by halving.
    private static long? LeastParts(double index, double confidence, double reliability)
    {
        bool Enough(int n) => NormalToleranceFactor.OneSided(n, reliability, confidence) <= 3.0 * index;
        int high = 4;
        while (high < MostParts && !Enough(high))
        {
            high *= 2;
        }

        if (!Enough(high))
        {
            return null;
        }

        int low = 1;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = middle >= 2 && Enough(middle) ? (low, middle) : (middle, high);
        }

        return high;
    }
}
