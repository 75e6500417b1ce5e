namespace CureSim.Studies.ProcessWindow;

/// <summary>A margin in state index by world, with its sampling error.</summary>
/// <param name="Value">Margin, by world.</param>
/// <param name="Error">Standard error, by world.</param>
public sealed record Margins(double[] Value, double[] Error)
{
    /// <summary>Mean over worlds.</summary>
    public double Mean => Value.Average();

    internal Margins Blend(Margins other, double share) =>
        new([.. Value.Zip(other.Value, (a, b) => ((1.0 - share) * a) + (share * b))], [.. Error.Zip(other.Error, (a, b) => ((1.0 - share) * a) + (share * b))]);
}

/// <summary>What is known at one pair of settings. Margins are in state index: 0 is the requirement, 1/3 is one standard normal score more than it.</summary>
/// <param name="X">Setting along the map.</param>
/// <param name="Y">Setting up the map.</param>
/// <param name="Nonconforming">Nonconforming fraction of parts over the horizon, by world.</param>
/// <param name="Conforming">Margin of the conforming fraction: (Φ⁻¹(1 − fraction) − Φ⁻¹(1 − limit))/3.</param>
/// <param name="State">Margin of the 5th percentile over cells of the state index just before a check, less the required index.</param>
/// <param name="Own">The same with one limit alone, in the order of the limits; capped at <see cref="Cap"/>.</param>
/// <param name="ConformingBatch">With one world: what each batch adds to the error of <paramref name="Conforming"/>; squares sum to the variance.</param>
/// <param name="StateBatch">The same for <paramref name="State"/>.</param>
/// <param name="Interpolated">True when it lies between settings that were judged, away from any contour.</param>
public sealed record NodeFigures(
    double X, double Y, double[] Nonconforming, Margins Conforming, Margins State, Margins[] Own, double[] ConformingBatch, double[] StateBatch, bool Interpolated)
{
    /// <summary>Indices beyond this are all the same: one part in 10³³ is nonconforming.</summary>
    public const double Cap = 4.0;

    /// <summary>Indices below this are all the same: every part is nonconforming, as far as a double tells.</summary>
    public const double Floor = -2.5;

    /// <summary>Smallest margin of the requirement: mean over worlds of each, then the smaller.</summary>
    public double Smallest => Math.Min(Conforming.Mean, State.Mean);

    /// <summary>True when the conforming fraction is nearer to its requirement than the state index.</summary>
    public bool FractionIsNearer => Conforming.Mean < State.Mean;

    /// <summary>Limit with the smallest margin of its own.</summary>
    public int Binding
    {
        get
        {
            int least = 0;
            for (int r = 1; r < Own.Length; r++)
            {
                least = Own[r].Mean < Own[least].Mean ? r : least;
            }

            return least;
        }
    }

    /// <summary>Smallest margin in one world.</summary>
    public double SmallestIn(int world) => Math.Min(Conforming.Value[world], State.Value[world]);

    /// <summary>Standard error of the smallest margin: that of the requirement that is nearer; over worlds the scatter of their means.</summary>
    public double Error
    {
        get
        {
            var m = FractionIsNearer ? Conforming : State;
            if (m.Value.Length == 1)
            {
                return m.Error[0];
            }

            double mean = m.Mean, sum = m.Value.Sum(v => (v - mean) * (v - mean));
            return Math.Sqrt(sum / (m.Value.Length - 1) / m.Value.Length);
        }
    }

    internal static NodeFigures Blend(NodeFigures a, NodeFigures b, double y, double share, bool interpolated) => new(
        a.X, y,
        [.. a.Nonconforming.Zip(b.Nonconforming, (p, q) => interpolated ? Math.Exp(((1.0 - share) * Math.Log(Math.Max(1e-300, p))) + (share * Math.Log(Math.Max(1e-300, q)))) : ((1.0 - share) * p) + (share * q))],
        a.Conforming.Blend(b.Conforming, share), a.State.Blend(b.State, share), [.. a.Own.Zip(b.Own, (p, q) => p.Blend(q, share))],
        [.. a.ConformingBatch.Zip(b.ConformingBatch, (p, q) => ((1.0 - share) * p) + (share * q))],
        [.. a.StateBatch.Zip(b.StateBatch, (p, q) => ((1.0 - share) * p) + (share * q))], interpolated);
}
