namespace CureSim.Core.Summaries;

/// <summary>The rows of the variance decomposition of ln dose.</summary>
public enum VarianceSource
{
    /// <summary>Emitter, drive and loop together: the source as held (with the radiometer's errors, by which it is set).</summary>
    SourceAsHeld,

    /// <summary>Guide transmission, loss and legs.</summary>
    Guide,

    /// <summary>Set-up of distance and aim, re-seating.</summary>
    Setup,

    /// <summary>Fouling of the tip since cleaning.</summary>
    Fouling,

    /// <summary>Disturbances not yet put right.</summary>
    Disturbances,

    /// <summary>Absorption of the substrate lot.</summary>
    SubstrateLot,

    /// <summary>Everything drawn anew for each part.</summary>
    Part,
}

/// <summary>
/// Sums from which the proportion of each source follows: share of L = Cov(ln f_L, ln H)/Var(ln H), where ∏ f_L = H up to a constant.
/// </summary>
/// <remarks>The shares sum to one because the logarithms sum to ln H; a negative share means that the source offsets another.</remarks>
public sealed class LevelShares : IMergeable<LevelShares>
{
    /// <summary>Number of sources.</summary>
    public static readonly int SourceCount = Enum.GetValues<VarianceSource>().Length;

    private readonly double[] mean = new double[SourceCount];
    private readonly double[] cross = new double[SourceCount];
    private double meanH;
    private double squareH;

    /// <summary>Values seen.</summary>
    public double Count { get; private set; }

    /// <summary>Var(ln H), population form.</summary>
    public double Variance => Count > 0.0 ? squareH / Count : 0.0;

    /// <summary>Cov(ln f_L, ln H), population form.</summary>
    public double Covariance(VarianceSource source) => Count > 0.0 ? cross[(int)source] / Count : 0.0;

    /// <summary>Adds plain sums of n values: Σ f_L, Σ f_L·h, Σ h, Σ h² of logarithms taken relative to a common centre.</summary>
    public void AddSums(double n, ReadOnlySpan<double> sums, ReadOnlySpan<double> products, double sumH, double sumH2)
    {
        if (n <= 0.0)
        {
            return;
        }

        var piece = new LevelShares { Count = n, meanH = sumH / n, squareH = Math.Max(0.0, sumH2 - (sumH * sumH / n)) };
        for (int i = 0; i < SourceCount; i++)
        {
            piece.mean[i] = sums[i] / n;
            piece.cross[i] = products[i] - (sums[i] * piece.meanH);
        }

        Merge(piece);
    }

    /// <inheritdoc/>
    public void Merge(LevelShares later)
    {
        if (later.Count == 0.0)
        {
            return;
        }

        if (Count == 0.0)
        {
            // As it is, without rounding: how often pieces are copied on the way must not show.
            later.mean.CopyTo(mean, 0);
            later.cross.CopyTo(cross, 0);
            (meanH, squareH, Count) = (later.meanH, later.squareH, later.Count);
            return;
        }

        double n = Count + later.Count, weight = Count * later.Count / n;
        double deltaH = later.meanH - meanH;
        for (int i = 0; i < SourceCount; i++)
        {
            double delta = later.mean[i] - mean[i];
            cross[i] += later.cross[i] + (delta * deltaH * weight);
            mean[i] += delta * later.Count / n;
        }

        squareH += later.squareH + (deltaH * deltaH * weight);
        meanH += deltaH * later.Count / n;
        Count = n;
    }
}
