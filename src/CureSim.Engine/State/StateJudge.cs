using System.Runtime.CompilerServices;
using CureSim.Core.Cell;
using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;

namespace CureSim.Engine.State;

/// <summary>
/// Judges a frozen state of a cell: the probability that a part made in it is nonconforming, and whether every nominal bond is inside the window.
/// </summary>
/// <remarks>
/// p = mean over groups of Σ_node w·[1 − ∏_bonds (1 − q)], q = Σ_rate w·[P(sum &lt; lower) + P(sum &gt; upper)]; nodes run over what the bonds of a
/// part share (exposure time, ripple of a shared emitter), rates over the cure rate within a lot.
/// Where the bonds of a part draw nothing for themselves, they move together, and 1 − ∏(1 − q) is instead the largest tail below plus the largest above.
/// A verdict stays while no site's ln E falls or rises by as much as the returned <see cref="StateBounds"/>: the score of p moves by at most the steepest slope of the sites' own rows
/// for each unit of ln E of all bonds of a part, since φ∘Φ⁻¹ is concave (mixtures) and rising up to one half (unions).
/// </remarks>
public sealed partial class StateJudge
{
    // A score so far out that Φ is 0 or 1.
    private const double Certain = 40.0;
    private const int LargestBuffer = 2048;

    // Of the p that is allowed, what the upper tails may take beside the lower ones.
    private const double UpperShare = 1.0 / 16.0;
    private readonly SharedNodes shared;
    private readonly RateIntegral? rate;
    private readonly double exponentOfRate;
    private readonly double[] lowerAtNode;
    private readonly double[] upperAtNode;
    private readonly CureThreshold? lowerCure;
    private readonly CureThreshold? upperCure;
    private readonly double nominalTime;
    private readonly double nominalLogTime;
    private readonly double nominalLower;
    private readonly double nominalUpper;
    private readonly double nominalRate;
    private readonly int sitesPerPart;
    private readonly bool together;
    private readonly double requiredScore;
    private readonly double lowerShareScore;
    private readonly double upperShareScore;
    private readonly double withUpperShareScore;
    private readonly bool lowerSlopeHolds;

    /// <summary>Builds the tables for one world.</summary>
    /// <param name="scenario">The cell.</param>
    /// <param name="world">Its world.</param>
    /// <param name="table">Table of another world, when no quantity that a bond draws for itself is unknown; else null.</param>
    public StateJudge(Scenario scenario, WorldValues world, OwnFactorTable? table = null)
    {
        sitesPerPart = scenario.Production.SitesPerPart;
        bool cureLimited = scenario.Window.For(Response.DegreeOfCure) is not null;
        bool irradianceLimited = scenario.Window.For(Response.Irradiance) is not null;
        bool ownRipple = sitesPerPart == 1 || scenario.Source.Arrangement == EmitterArrangement.OnePerSite;
        bool ownTime = sitesPerPart == 1 && !cureLimited && !irradianceLimited;

        // Where bonds draw nothing for themselves, those of a part have one factor: the table holds its distribution, and no node is needed.
        together = sitesPerPart > 1 && !cureLimited && !(irradianceLimited && scenario.Exposure.Error.IsVarying)
            && !new OwnFactors(scenario, world, ownRipple, ownTime: false).AnythingVaries;
        (ownRipple, ownTime) = (ownRipple || together, ownTime || together);
        Table = table ?? StateTableAxes.Build(scenario, world, new OwnFactors(scenario, world, ownRipple, ownTime));
        shared = SharedNodes.For(scenario, world, Table.Spread, ownRipple, ownTime, !cureLimited && !irradianceLimited);

        var irradiance = scenario.Window.For(Response.Irradiance);
        var dose = scenario.Window.For(Response.Dose);
        var cure = scenario.Window.For(Response.DegreeOfCure);
        double lowE = LogOr(irradiance?.Lower, double.NegativeInfinity), highE = LogOr(irradiance?.Upper, double.PositiveInfinity);
        double lowH = LogOr(dose?.Lower, double.NegativeInfinity), highH = LogOr(dose?.Upper, double.PositiveInfinity);
        lowerAtNode = [.. shared.LogTime.Select(t => Math.Max(lowE, lowH - t))];
        upperAtNode = [.. shared.LogTime.Select(t => Math.Min(highE, highH - t))];

        var exposure = scenario.Exposure;
        nominalTime = Math.Max(1e-6, exposure.SettingSeconds + world.Fixed(exposure.Offset) + (exposure.Error.Varies.Mean * world.Factor(exposure.Error)));
        nominalLogTime = BlockMath.Log(nominalTime);
        nominalLower = Math.Max(lowE, lowH - nominalLogTime);
        nominalUpper = Math.Min(highE, highH - nominalLogTime);
        if (cureLimited && scenario.Cure is { } model)
        {
            lowerCure = cure!.Lower is { } lower ? new CureThreshold(lower, model, world, nominalLogTime) : null;
            upperCure = cure.Upper is { } upper ? new CureThreshold(upper, model, world, nominalLogTime) : null;
            double factor = world.Factor(model.RatePart);
            exponentOfRate = world.Fixed(model.Exponent);
            rate = new RateIntegral(model.RatePart.Varies, factor, exponentOfRate);
            nominalRate = model.RatePart.Varies.Mean * factor;
        }

        double? required = scenario.Requalification.RequiredCapability;
        requiredScore = required is { } c ? -3.0 * c : double.NaN;
        double allowed = BlockMath.NormalCdf(requiredScore);
        lowerShareScore = BlockMath.NormalQuantile((1.0 - UpperShare) * allowed);
        withUpperShareScore = BlockMath.NormalQuantile(Math.Min(1.0, (1.0 + UpperShare) * allowed));
        upperShareScore = BlockMath.NormalQuantile(UpperShare * allowed / sitesPerPart);

        // Up to the required score the lower tail of every bond stays below one half, so that only the lower halves of rows matter.
        lowerSlopeHolds = shared.Weight.Length == 1 && allowed * (scenario.Production.SiteCount / sitesPerPart) < 0.5;
    }

    /// <summary>Distribution of a bond's own factors by state.</summary>
    public OwnFactorTable Table { get; }

    /// <summary>True when the lot's cure rate enters the verdict.</summary>
    public bool DependsOnRate => lowerCure is not null || upperCure is not null;

    /// <summary>p of a part and of a bond in a state.</summary>
    /// <param name="logE">ln nominal irradiance at each site, ln W/m².</param>
    /// <param name="rows">Row of each site, one after the other; or a single row for all.</param>
    /// <param name="logRate">ln cure rate of the adhesive lot, ln 1/s.</param>
    /// <param name="limitShift">Added to ln of irradiance and dose limits (study meter), else 0.</param>
    /// <remarks>Scores of all nodes, sites and rates are found first, so that Φ is taken of eight at a time.</remarks>
    [MethodImpl(Kernel.Options)]
    public (double Part, double Bond) Probability(ReadOnlySpan<double> logE, ReadOnlySpan<double> rows, double logRate, double limitShift)
    {
        int nodes = shared.Weight.Length, terms = DependsOnRate ? Math.Max(2 + (2 * RateIntegral.Most), 2 * rate!.Atoms.Count) : 2;
        int chunk = Math.Clamp(LargestBuffer / (terms * logE.Length), 1, nodes);
        Span<double> tails = stackalloc double[Lanes.Padded(chunk * terms * logE.Length)];
        Span<double> weights = stackalloc double[DependsOnRate ? tails.Length : 0];
        Span<int> ends = stackalloc int[chunk * logE.Length];
        double part = 0.0, bond = 0.0;
        for (int from = 0; from < nodes; from += chunk)
        {
            int to = Math.Min(nodes, from + chunk), at = 0, pair = 0;
            for (int node = from; node < to; node++)
            {
                double low = lowerAtNode[node] + limitShift, high = upperAtNode[node] + limitShift;
                for (int i = 0; i < logE.Length; i++)
                {
                    at = DependsOnRate
                        ? AddRateScores(tails, weights, at, node, logE[i] + shared.Shift[node], OwnFactorTable.RowOf(rows, i), logRate, low, high)
                        : AddScores(tails, at, logE[i] + shared.Shift[node], OwnFactorTable.RowOf(rows, i), low, high);
                    ends[pair++] = at;
                }
            }

            // Whole vectors only: a remainder would be done one by one.
            var used = tails[..Lanes.Padded(at)];
            used[at..].Fill(-Certain);
            BlockMath.NormalCdf(used, used);
            at = pair = 0;
            for (int node = from; node < to; node++)
            {
                double parts = 0.0, bonds = 0.0;
                for (int first = 0; first < logE.Length; first += sitesPerPart)
                {
                    double any = 0.0, mostBelow = 0.0, mostAbove = 0.0;
                    for (int i = first; i < first + sitesPerPart; i++)
                    {
                        double q = 0.0;
                        if (together)
                        {
                            (mostBelow, mostAbove) = (Math.Max(mostBelow, used[at]), Math.Max(mostAbove, used[at + 1]));
                        }

                        for (int end = ends[pair++]; at < end; at++)
                        {
                            q += DependsOnRate ? weights[at] * used[at] : used[at];
                        }

                        q = Math.Min(1.0, q);
                        bonds += q;
                        any += q - (any * q);
                    }

                    parts += together ? Math.Min(1.0, mostBelow + mostAbove) : any;
                }

                part += shared.Weight[node] * parts;
                bond += shared.Weight[node] * bonds;
            }
        }

        return (Math.Clamp(part * sitesPerPart / logE.Length, 0.0, 1.0), Math.Clamp(bond / logE.Length, 0.0, 1.0));
    }

    /// <summary>Smallest distance (in ln irradiance) of any nominal bond from a limit; negative outside.</summary>
    public double NominalMargin(ReadOnlySpan<double> logE, double logRate, double limitShift)
    {
        double low = nominalLower + limitShift, high = nominalUpper + limitShift;
        if (lowerCure is not null)
        {
            low = Math.Max(low, lowerCure.At(logRate + nominalRate, nominalLogTime));
        }

        if (upperCure is not null)
        {
            high = Math.Min(high, upperCure.At(logRate + nominalRate, nominalLogTime));
        }

        double margin = double.PositiveInfinity;
        foreach (double e in logE)
        {
            margin = Math.Min(margin, Math.Min(e - low, high - e));
        }

        return margin;
    }

    /// <summary>Whether a state with nonconforming probability <paramref name="part"/> is qualified.</summary>
    /// <param name="part">p of a part.</param>
    /// <param name="nominalMargin">Margin of the nominal bonds.</param>
    public bool Verdict(double part, double nominalMargin) =>
        double.IsNaN(requiredScore) ? nominalMargin >= 0.0 : Score(part) <= requiredScore;

    /// <summary>Whether a state is qualified, and how far ln E of its bonds may fall and rise before that, or the side of the nominal bonds, can change.</summary>
    /// <param name="score">Score of p of a part; not used without a required capability.</param>
    /// <param name="uppermost">Largest score of the upper tail of any bond; +40 where it was not looked at.</param>
    /// <param name="nominalMargin">Margin of the nominal bonds.</param>
    /// <param name="slope">Steepest slope of the rows of the state's sites, and of their lower halves.</param>
    /// <remarks>
    /// p = A + B at most, A that some bond lies below its limit and B that some lies above. Where B takes no more than a small share of what is allowed, a qualified state can only be left by
    /// A growing, as ln E falls, or B growing, as it rises; and one that is not qualified is not mended by ln E falling when A alone is more than is allowed.
    /// </remarks>
    public (bool Qualified, StateBounds Bounds) VerdictOf(double score, double uppermost, double nominalMargin, (double Any, double Lower) slope)
    {
        double margin = Math.Abs(nominalMargin);
        if (double.IsNaN(requiredScore))
        {
            return (nominalMargin >= 0.0, new(margin, margin));
        }

        bool qualified = score <= requiredScore;
        if (!(slope.Any > 0.0) || !double.IsFinite(slope.Any))
        {
            return (qualified, new(0.0, 0.0));
        }

        // Above one half the bound on unions does not hold; below the table's depth slopes are not bounded, so that no way there is counted on, be it the state that lies so deep or what is required.
        double from = Math.Max(score, -OwnFactorTable.SlopeDepth), each = sitesPerPart * slope.Any;
        double fall = score > 0.0 ? 0.0 : Math.Abs(from - Math.Max(requiredScore, -OwnFactorTable.SlopeDepth)) / each, rise = fall;
        if (uppermost <= upperShareScore && qualified)
        {
            fall = Math.Max(fall, (lowerShareScore - from) / (lowerSlopeHolds ? sitesPerPart * slope.Lower : each));
            rise = Math.Max(rise, (upperShareScore - Math.Max(uppermost, -OwnFactorTable.SlopeDepth)) / slope.Any);
        }
        else if (uppermost <= upperShareScore && score > withUpperShareScore)
        {
            fall = double.PositiveInfinity;
        }

        return (qualified, new(Math.Min(margin, fall), Math.Min(margin, rise)));
    }

    /// <summary>State index Φ⁻¹(1 − p)/3; +∞ for p = 0 and −∞ for p = 1.</summary>
    public static double Index(double part) =>
        part <= 0.0 ? double.PositiveInfinity : part >= 1.0 ? double.NegativeInfinity : -BlockMath.NormalQuantile(part) / 3.0;

    private static double Score(double part) =>
        part <= 0.0 ? -40.0 : part >= 1.0 ? 40.0 : BlockMath.NormalQuantile(part);

    private static double LogOr(double? limit, double otherwise) =>
        limit is { } value ? (value > 0.0 ? BlockMath.Log(value) : double.NegativeInfinity) : otherwise;

    /// <summary>Writes the scores of both tails of one bond; returns where the next bond's begin.</summary>
    private int AddScores(Span<double> tails, int at, double logE, ReadOnlySpan<double> row, double low, double high)
    {
        bool none = low > high;
        tails[at] = none ? Certain : LowerScore(row, low - logE);
        tails[at + 1] = none || (high - logE > Table.Last && tails[at] > FullScore) ? -Certain : -UpperScore(row, high - logE);
        return at + 2;
    }

    /// <summary>Φ⁻¹(P(own sum &lt; z)).</summary>
    private double LowerScore(ReadOnlySpan<double> row, double z) =>
        double.IsInfinity(z) ? (z > 0.0 ? Certain : -Certain)
        : Table.Spread <= 0.0 ? (z > 0.0 ? Certain : -Certain)
        : Table.Score(row, z);

    /// <summary>Φ⁻¹(P(own sum ≤ z)), for the tail above z.</summary>
    private double UpperScore(ReadOnlySpan<double> row, double z) =>
        double.IsInfinity(z) ? (z > 0.0 ? Certain : -Certain)
        : Table.Spread <= 0.0 ? (z < 0.0 ? -Certain : Certain)
        : Table.Score(row, z);
}
