namespace CureSim.Engine.State;

/// <summary>Evenly spaced nodes of one axis of a state table; one node when the axis does not matter.</summary>
public sealed record TableAxis(double From, double To, int Nodes)
{
    /// <summary>An axis with a single node.</summary>
    public static TableAxis Single(double at) => new(at, at, 1);

    /// <summary>Distance of nodes.</summary>
    public double Step => Nodes > 1 ? (To - From) / (Nodes - 1) : 0.0;

    /// <summary>Position of node i.</summary>
    public double At(int i) => From + (i * Step);

    /// <summary>True when a value can be interpolated.</summary>
    public bool Covers(double x) => Nodes == 1 || (x >= From && x <= To);

    /// <summary>Lagrange weights of the (up to) four nodes about x; returns the first node.</summary>
    public int Weights(double x, Span<double> w)
    {
        w.Clear();
        if (Nodes == 1)
        {
            w[0] = 1.0;
            return 0;
        }

        double t = (x - From) / Step;
        int first = Math.Clamp((int)Math.Floor(t) - 1, 0, Math.Max(0, Nodes - 4));
        int count = Math.Min(4, Nodes);
        for (int i = 0; i < count; i++)
        {
            double product = 1.0;
            for (int j = 0; j < count; j++)
            {
                if (j != i)
                {
                    product *= (t - first - j) / (i - j);
                }
            }

            w[i] = product;
        }

        return first;
    }
}
