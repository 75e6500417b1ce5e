namespace CureSim.Engine.State;

/// <summary>Masses of a grid summed from below and from above, with room on both sides in which the sums stay as they are.</summary>
internal sealed class RunningSums
{
    /// <summary>Sums the masses of <paramref name="a"/>, with <paramref name="margin"/> points of room on each side.</summary>
    public RunningSums(GridMasses a, int margin)
    {
        First = a.First;
        Margin = margin;
        int n = a.Mass.Length;
        Count = n;
        Below = new double[n + 1 + (2 * margin)];
        Above = new double[Below.Length];
        for (int i = margin + 1; i < Below.Length; i++)
        {
            int at = i - margin - 1;
            Below[i] = Below[i - 1] + (at < n ? a.Mass[at] : 0.0);
        }

        for (int i = Below.Length - 2; i >= 0; i--)
        {
            int at = i - margin;
            Above[i] = Above[i + 1] + (at >= 0 && at < n ? a.Mass[at] : 0.0);
        }
    }

    /// <summary>Grid point of the first mass, in steps.</summary>
    public long First { get; }

    /// <summary>Points of room on each side.</summary>
    public int Margin { get; }

    /// <summary>Masses.</summary>
    public int Count { get; }

    /// <summary>Mass below a point.</summary>
    public double[] Below { get; }

    /// <summary>Mass at a point and above it.</summary>
    public double[] Above { get; }
}
