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
/// A verdict stays while Σ|Δ ln E| over sites is below the returned radius: the score of p moves by at most MaximumSlope for each unit of ln E of one bond,
/// since φ∘Φ⁻¹ is concave (mixtures) and rising up to one half (unions).
/// </remarks>
public sealed class StateJudge
{
    private readonly Scenario scenario;
    private readonly SharedNodes shared;
    private readonly Quadrature rates;
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
    private readonly double requiredScore;

    /// <summary>Builds the tables for one world.</summary>
    public StateJudge(Scenario scenario, WorldValues world)
    {
        this.scenario = scenario;
        sitesPerPart = scenario.Production.SitesPerPart;
        bool cureLimited = scenario.Window.For(Response.DegreeOfCure) is not null;
        bool irradianceLimited = scenario.Window.For(Response.Irradiance) is not null;
        bool ownRipple = sitesPerPart == 1 || scenario.Source.Arrangement == EmitterArrangement.OnePerSite;
        bool ownTime = sitesPerPart == 1 && !cureLimited && !irradianceLimited;
        Table = StateTableAxes.Build(scenario, world, new OwnFactors(scenario, world, ownRipple, ownTime));
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
            var times = shared.Time.Append(nominalTime);
            lowerCure = cure!.Lower is { } lower ? new CureThreshold(lower, model, world, times) : null;
            upperCure = cure.Upper is { } upper ? new CureThreshold(upper, model, world, times) : null;
            double factor = world.Factor(model.RatePart), exponent = world.Fixed(model.Exponent);
            rates = Quadrature.Of(model.RatePart.Varies, factor, model.RatePart.Varies.StandardDeviation * factor / exponent, Table.Spread);
            nominalRate = model.RatePart.Varies.Mean * factor;
        }
        else
        {
            rates = Quadrature.Point(0.0);
        }

        double? required = scenario.Requalification.RequiredCapability;
        requiredScore = required is { } c ? -3.0 * c : double.NaN;
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
    [MethodImpl(Kernel.Options)]
    public (double Part, double Bond) Probability(ReadOnlySpan<double> logE, ReadOnlySpan<double> rows, double logRate, double limitShift)
    {
        double part = 0.0, bond = 0.0;
        for (int node = 0; node < shared.Weight.Length; node++)
        {
            double low = lowerAtNode[node] + limitShift, high = upperAtNode[node] + limitShift, parts = 0.0, bonds = 0.0;
            for (int first = 0; first < logE.Length; first += sitesPerPart)
            {
                double any = 0.0;
                for (int i = first; i < first + sitesPerPart; i++)
                {
                    double q = Bond(node, logE[i] + shared.Shift[node], RowOf(rows, i), logRate, low, high);
                    bonds += q;
                    any += q - (any * q);
                }

                parts += any;
            }

            part += shared.Weight[node] * parts;
            bond += shared.Weight[node] * bonds;
        }

        return (Math.Clamp(part * sitesPerPart / logE.Length, 0.0, 1.0), Math.Clamp(bond / logE.Length, 0.0, 1.0));
    }

    /// <summary>Smallest distance (in ln irradiance) of any nominal bond from a limit; negative outside.</summary>
    public double NominalMargin(ReadOnlySpan<double> logE, double logRate, double limitShift)
    {
        double low = nominalLower + limitShift, high = nominalUpper + limitShift;
        if (lowerCure is not null)
        {
            low = Math.Max(low, lowerCure.At(logRate + nominalRate, nominalTime, nominalLogTime));
        }

        if (upperCure is not null)
        {
            high = Math.Min(high, upperCure.At(logRate + nominalRate, nominalTime, nominalLogTime));
        }

        double margin = double.PositiveInfinity;
        foreach (double e in logE)
        {
            margin = Math.Min(margin, Math.Min(e - low, high - e));
        }

        return margin;
    }

    /// <summary>Whether a state with nonconforming probability <paramref name="part"/> is qualified, and how far ln E may move before that can change.</summary>
    public (bool Qualified, double Radius) Verdict(double part, double nominalMargin)
    {
        if (double.IsNaN(requiredScore))
        {
            return (nominalMargin >= 0.0, Math.Abs(nominalMargin));
        }

        double score = Score(part);
        bool qualified = score <= requiredScore;
        // Above one half the bound on unions does not hold; below the table's depth only the way from that depth is counted on.
        double reach = score > 0.0 ? 0.0 : Math.Abs(Math.Max(score, -OwnFactorTable.SlopeDepth) - requiredScore);
        return (qualified, double.IsInfinity(Table.MaximumSlope) ? 0.0 : reach / Table.MaximumSlope);
    }

    /// <summary>State index Φ⁻¹(1 − p)/3; +∞ for p = 0 and −∞ for p = 1.</summary>
    public static double Index(double part) =>
        part <= 0.0 ? double.PositiveInfinity : part >= 1.0 ? double.NegativeInfinity : -BlockMath.NormalQuantile(part) / 3.0;

    private static double Score(double part) =>
        part <= 0.0 ? -40.0 : part >= 1.0 ? 40.0 : BlockMath.NormalQuantile(part);

    private static double LogOr(double? limit, double otherwise) =>
        limit is { } value ? (value > 0.0 ? BlockMath.Log(value) : double.NegativeInfinity) : otherwise;

    private static ReadOnlySpan<double> RowOf(ReadOnlySpan<double> rows, int site) =>
        rows.Length <= OwnFactorTable.Points ? rows : rows.Slice(site * OwnFactorTable.Points, OwnFactorTable.Points);

    [MethodImpl(Kernel.Options)]
    private double Bond(int node, double logE, ReadOnlySpan<double> row, double logRate, double low, double high)
    {
        if (!DependsOnRate)
        {
            return Outside(row, low - logE, high - logE);
        }

        double q = 0.0;
        for (int r = 0; r < rates.Weights.Length; r++)
        {
            double rate = logRate + rates.Values[r], l = low, h = high;
            if (lowerCure is not null)
            {
                l = Math.Max(l, lowerCure.At(rate, shared.Time[node], shared.LogTime[node]));
            }

            if (upperCure is not null)
            {
                h = Math.Min(h, upperCure.At(rate, shared.Time[node], shared.LogTime[node]));
            }

            q += rates.Weights[r] * Outside(row, l - logE, h - logE);
        }

        return q;
    }

    /// <summary>P(own sum &lt; low) + P(own sum &gt; high).</summary>
    [MethodImpl(Kernel.Options)]
    private double Outside(ReadOnlySpan<double> row, double low, double high)
    {
        if (low > high)
        {
            return 1.0;
        }

        if (Table.Spread <= 0.0)
        {
            return low > 0.0 || high < 0.0 ? 1.0 : 0.0;
        }

        double below = double.IsNegativeInfinity(low) ? 0.0 : double.IsPositiveInfinity(low) ? 1.0 : BlockMath.NormalCdf(Table.Score(row, low));
        double above = double.IsPositiveInfinity(high) ? 0.0 : double.IsNegativeInfinity(high) ? 1.0 : BlockMath.NormalCdf(-Table.Score(row, high));
        return Math.Min(1.0, below + above);
    }
}
