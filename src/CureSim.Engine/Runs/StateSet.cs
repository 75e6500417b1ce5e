namespace CureSim.Engine.Runs;

/// <summary>States of cells as they were met on their paths: all that judging one of them needs, whatever the exposure time and the limits.</summary>
/// <remarks>In the order in which one thread met them; a lifetime of a block is a number within its world.</remarks>
public sealed class StateSet(int sites)
{
    private readonly List<double> values = [];
    private readonly List<int> lifetimes = [];

    /// <summary>Sites of a state.</summary>
    public int Sites => sites;

    /// <summary>How many states.</summary>
    public int Count => lifetimes.Count;

    private int Width => (4 * sites) + 2;

    /// <summary>Lifetime of a state, within its world.</summary>
    public int Lifetime(int state) => lifetimes[state];

    /// <summary>ln nominal irradiance at a site, ln W/m².</summary>
    public double LogE(int state, int site) => values[(state * Width) + (4 * site)];

    /// <summary>Distance at a site with the mean part deviation, m.</summary>
    public double Distance(int state, int site) => values[(state * Width) + (4 * site) + 1];

    /// <summary>Length of the aim offset at a site, m.</summary>
    public double Offset(int state, int site) => values[(state * Width) + (4 * site) + 2];

    /// <summary>Absorption of the substrate lot, 1/m.</summary>
    public double Absorption(int state, int site) => values[(state * Width) + (4 * site) + 3];

    /// <summary>ln cure rate of the adhesive lot, ln 1/s.</summary>
    public double LogRate(int state) => values[(state * Width) + (4 * sites)];

    /// <summary>What is added to ln of irradiance and dose limits.</summary>
    public double LimitShift(int state) => values[(state * Width) + (4 * sites) + 1];

    internal void Begin(int lifetime) => lifetimes.Add(lifetime);

    internal void AddSite(double logE, double distance, double offset, double absorption)
    {
        values.Add(logE);
        values.Add(distance);
        values.Add(offset);
        values.Add(absorption);
    }

    internal void End(double logRate, double limitShift)
    {
        values.Add(logRate);
        values.Add(limitShift);
    }
}
