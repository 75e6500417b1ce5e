using System.Collections.Immutable;
using CureSim.Engine.Block;

namespace CureSim.Studies.Interval;

/// <summary>What can move a reading between two settings, and what moved it most.</summary>
internal static class ReadingCauses
{
    /// <summary>Names of the causes.</summary>
    public static readonly ImmutableArray<string> Names = ["emitter or its drive", "guide loss or leg", "fouling", "a disturbance of the transmission", "fixture (distance, aim)", "the radiometer itself"];

    /// <summary>What moved a reading most in a direction since the site's last as-left reading: a place in <see cref="Names"/>.</summary>
    /// <param name="now">The as-found reading.</param>
    /// <param name="left">The as-left reading before.</param>
    /// <param name="down">True: the reading is low.</param>
    public static int Of(TraceReading now, TraceReading left, bool down)
    {
        double[] moved = [now.Source - left.Source, now.Guide - left.Guide, now.Fouling - left.Fouling, now.Disturbance - left.Disturbance, now.Fixture - left.Fixture, now.Meter - left.Meter];
        return Enumerable.Range(0, moved.Length).MaxBy(c => down ? -moved[c] : moved[c]);
    }
}
