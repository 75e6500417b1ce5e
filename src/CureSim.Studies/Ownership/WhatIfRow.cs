using CureSim.Core.Statistics;

namespace CureSim.Studies.Ownership;

/// <summary>What becomes of a decision at other values of one input.</summary>
public enum Outcome
{
    /// <summary>The same option is cheaper.</summary>
    Same,

    /// <summary>Which is cheaper cannot be told.</summary>
    Open,

    /// <summary>The other option is cheaper.</summary>
    Other,
}

/// <summary>One input moved alone, everything else as it is.</summary>
/// <param name="Path">The input.</param>
/// <param name="Options">Labels of the options whose input it is.</param>
/// <param name="Physical">True for a quantity of the cell, for which lifetimes were simulated again; false for a price, which was changed in the same lifetimes.</param>
/// <param name="Low">Its 10th percentile (of a factor: that of the factor); null for a fixed price.</param>
/// <param name="High">Its 90th percentile.</param>
/// <param name="Mean">Its mean, or its value.</param>
/// <param name="AtLow">Mean difference of discounted cost, challenger less reference, at the 10th percentile.</param>
/// <param name="AtHigh">… at the 90th.</param>
/// <param name="BreakEven">The value at which the mean difference is zero; null where there is none from 0 up, or the cost is not linear in it.</param>
public sealed record WhatIfRow(string Path, string Options, bool Physical, double? Low, double? High, double Mean, Estimate? AtLow, Estimate? AtHigh, double? BreakEven)
{
    /// <summary>How far it moves the difference.</summary>
    public double Swing => AtLow?.Value is { } a && AtHigh?.Value is { } b ? Math.Abs(b - a) : 0.0;

    /// <summary>Whether a difference says the same as another.</summary>
    public static Outcome Against(Estimate decision, Estimate? there)
    {
        ArgumentNullException.ThrowIfNull(decision);
        if (decision.Value is not { } now || there is not { Value: not null, Lower95: { } low, Upper95: { } high })
        {
            return Outcome.Open;
        }

        return low > 0.0 ? now > 0.0 ? Outcome.Same : Outcome.Other : high < 0.0 ? now < 0.0 ? Outcome.Same : Outcome.Other : Outcome.Open;
    }

    /// <summary>The worse of both ends.</summary>
    public Outcome Worst(Estimate decision)
    {
        if (AtLow is null || AtHigh is null)
        {
            return Outcome.Same;
        }

        var (a, b) = (Against(decision, AtLow), Against(decision, AtHigh));
        return a > b ? a : b;
    }
}
