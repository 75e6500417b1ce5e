using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Studies.ProcessWindow;

/// <summary>How much a map keeps and judges.</summary>
/// <param name="States">States of the horizon kept for a lifetime, about.</param>
/// <param name="Checks">Checks before which the state is kept, at most.</param>
public sealed record MapSize(int States, int Checks)
{
    private const double StatesOfWorlds = 6144.0;
    private const double ChecksOfWorlds = 3072.0;

    /// <summary>States of neighbouring weeks are much alike, so a few of each lifetime say nearly all that all of them say: more lifetimes, fewer of each.</summary>
    public static MapSize For(RunSettings run)
    {
        ArgumentNullException.ThrowIfNull(run);
        double lifetimes = (double)run.Worlds * run.LifetimesPerWorld;
        return new((int)Math.Clamp(Math.Round(StatesOfWorlds / lifetimes), 4.0, 24.0), (int)Math.Clamp(Math.Round(ChecksOfWorlds / lifetimes), 2.0, 6.0));
    }
}

/// <summary>A point of the contour at which the requirement is just met.</summary>
/// <param name="X">Setting along the map.</param>
/// <param name="Y">Setting up the map.</param>
/// <param name="Rising">True at a lower edge: the requirement holds above it.</param>
/// <param name="Lower95">Lower end of the Monte-Carlo interval of Y.</param>
/// <param name="Upper95">Upper end.</param>
/// <param name="Band">Band over worlds of Y, in its unit; null with one world.</param>
/// <param name="Binding">Limit that binds there, by number.</param>
/// <param name="FractionBinds">True when the conforming fraction, false when the state index is what is just met.</param>
public sealed record Crossing(double X, double Y, bool Rising, double Lower95, double Upper95, WorldBand? Band, int Binding, bool FractionBinds)
{
    internal static Crossing Of(NodeFigures at, IReadOnlyList<NodeFigures> nodes, IEnumerable<NodeFigures> known, bool rising)
    {
        // Slope from the two judged points about it: a line's over one node, which the error of a margin is carried by to Y.
        var about = nodes.Where(n => !n.Interpolated).Concat(known).DistinctBy(n => n.Y).OrderBy(n => n.Y).ToArray();
        var low = about.Where(n => n.Y < at.Y * 0.985).LastOrDefault() ?? about[0];
        var high = about.Where(n => n.Y > at.Y * 1.015).FirstOrDefault() ?? about[^1];
        double Margin(NodeFigures n) => at.FractionIsNearer ? n.Conforming.Mean : n.State.Mean;
        double slope = (Margin(high) - Margin(low)) / Math.Log(high.Y / low.Y);
        double half = 1.96 * at.Error / Math.Abs(slope);
        half = double.IsNaN(half) ? double.PositiveInfinity : half;
        return new(at.X, at.Y, rising, at.Y * Math.Exp(-half), at.Y * Math.Exp(half), Over(at, about, rising, slope), at.Binding, at.FractionIsNearer);
    }

    private static WorldBand? Over(NodeFigures at, NodeFigures[] about, bool rising, double slope)
    {
        int worlds = at.Conforming.Value.Length;
        if (worlds < 2)
        {
            return null;
        }

        var place = new double[worlds];
        var variance = new double[worlds];
        for (int w = 0; w < worlds; w++)
        {
            double? found = null;
            for (int i = 1; i < about.Length; i++)
            {
                double a = about[i - 1].SmallestIn(w), b = about[i].SmallestIn(w);
                if ((a < 0.0) == rising && (b < 0.0) != rising)
                {
                    double here = Math.Log(about[i - 1].Y) + (a / (a - b) * Math.Log(about[i].Y / about[i - 1].Y));
                    found = found is { } f && Math.Abs(f - Math.Log(at.Y)) < Math.Abs(here - Math.Log(at.Y)) ? f : here;
                }
            }

            if (found is not { } y)
            {
                return new(null, null, null, null, worlds, "in some worlds the edge is not within the map");
            }

            place[w] = y;
            double error = at.FractionIsNearer ? at.Conforming.Error[w] : at.State.Error[w];
            variance[w] = slope != 0.0 ? error * error / (slope * slope) : 0.0;
            if (!double.IsFinite(place[w]) || !double.IsFinite(variance[w]))
            {
                // Few lifetimes: every state of one may be so bad or so good that its index has no number.
                return new(null, null, null, null, worlds, "in some worlds the margin beside the edge is off its scale; more lifetimes are needed");
            }
        }

        var band = WorldBand.Of(place, variance);
        return band with { Mean = Math.Exp(band.Mean!.Value), Lower05 = Math.Exp(band.Lower05!.Value), Upper95 = Math.Exp(band.Upper95!.Value) };
    }
}
