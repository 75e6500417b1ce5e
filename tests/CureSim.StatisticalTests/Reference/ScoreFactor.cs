using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>One part-level quantity of a bond and what it does to ln E, seen as a function of its standard normal score z.</summary>
internal interface ILogFactor
{
    /// <summary>Standard deviation of ln of the factor.</summary>
    double Spread { get; }

    /// <summary>Values of ln of the factor with the weights of a trapezoidal rule of step <paramref name="h"/> in z.</summary>
    IReadOnlyList<(double LogFactor, double Weight)> Nodes(double h);

    /// <summary>P(ln factor &lt; level), accurate when small.</summary>
    double Below(double level);

    /// <summary>P(ln factor &gt; level), accurate when small.</summary>
    double Above(double level);
}

/// <summary>A factor of one quantity: value = quantile at Φ(z), ln factor = any smooth function of the value.</summary>
/// <remarks>
/// The score's range is cut into pieces on which the factor is monotone; P(below) is then a sum of normal probabilities between roots, so that
/// neither a density nor a cumulative distribution of the quantity is used.
/// </remarks>
internal sealed class ScoreFactor : ILogFactor
{
    private const double ScanStep = 0.125;
    private readonly Func<double, double> _logFactor;
    private readonly double[] _z;
    private readonly double[] _g;
    private readonly int[] _ends;

    /// <summary>Builds the table of monotone pieces.</summary>
    /// <param name="logFactor">ln factor at a score.</param>
    public ScoreFactor(Func<double, double> logFactor)
    {
        _logFactor = logFactor;
        var z = Enumerable.Range(0, (int)(2 * ScoreRule.EndScore / ScanStep) + 1).Select(i => -ScoreRule.EndScore + (i * ScanStep)).ToList();
        var g = z.Select(logFactor).ToList();
        for (int i = g.Count - 2; i > 0; i--)
        {
            // A turning point between neighbours becomes a node of its own.
            if ((g[i] - g[i - 1]) * (g[i + 1] - g[i]) < 0)
            {
                double turn = TurningPoint(z[i - 1], z[i + 1], g[i] > g[i - 1]);
                if (turn != z[i])
                {
                    int at = turn < z[i] ? i : i + 1;
                    z.Insert(at, turn);
                    g.Insert(at, logFactor(turn));
                }
            }
        }

        (_z, _g) = ([.. z], [.. g]);
        _ends = [0, .. Enumerable.Range(1, _g.Length - 2).Where(i => (_g[i] - _g[i - 1]) * (_g[i + 1] - _g[i]) < 0), _g.Length - 1];
        var nodes = Nodes(0.25);
        double mean = nodes.Sum(n => n.Weight * n.LogFactor);
        Spread = Math.Sqrt(nodes.Sum(n => n.Weight * (n.LogFactor - mean) * (n.LogFactor - mean)));
    }

    /// <inheritdoc/>
    public double Spread { get; }

    /// <inheritdoc/>
    public IReadOnlyList<(double LogFactor, double Weight)> Nodes(double h) => [.. ScoreRule.Smooth(h).Select(s => (_logFactor(s.Score), s.Weight))];

    /// <inheritdoc/>
    public double Below(double level) => Beyond(level, 1);

    /// <inheritdoc/>
    public double Above(double level) => Beyond(level, -1);

    // Probability of the scores at which sign·(ln factor − level) < 0: piece by piece, each monotone.
    private double Beyond(double level, int sign)
    {
        double sum = 0;
        double from = double.NegativeInfinity;
        bool beyond = sign * (_g[0] - level) < 0;
        for (int piece = 1; piece < _ends.Length; piece++)
        {
            if (sign * (_g[_ends[piece]] - level) < 0 == beyond)
            {
                continue;
            }

            double root = Root(LastBefore(_ends[piece - 1], _ends[piece], level, sign, beyond), level);
            sum += beyond ? Between(from, root) : 0;
            (from, beyond) = (root, !beyond);
        }

        return beyond ? sum + Between(from, double.PositiveInfinity) : sum;
    }

    // The last node of a monotone piece that is on the side where the piece began.
    private int LastBefore(int first, int last, double level, int sign, bool beyond)
    {
        while (last - first > 1)
        {
            int middle = (first + last) / 2;
            (first, last) = sign * (_g[middle] - level) < 0 == beyond ? (middle, last) : (first, middle);
        }

        return first;
    }

    /// <summary>Probability of the scores between two, accurate in both tails.</summary>
    public static double Between(double from, double to) => from > 0
        ? BlockMath.NormalCdf(-from) - BlockMath.NormalCdf(-to)
        : BlockMath.NormalCdf(to) - BlockMath.NormalCdf(from);

    // Bisection with chords (the Illinois rule) between two neighbours of the table.
    private double Root(int i, double level)
    {
        double a = _z[i], b = _z[i + 1], fa = _g[i] - level, fb = _g[i + 1] - level;
        int kept = 0; // which end has stayed, for how it is weighted down when it stays again
        for (int n = 0; n < 200 && b - a > 1e-14 * ScoreRule.EndScore; n++)
        {
            double c = n % 8 == 7 ? 0.5 * (a + b) : ((a * fb) - (b * fa)) / (fb - fa);
            c = c > a && c < b ? c : 0.5 * (a + b);
            double fc = _logFactor(c) - level;
            if (fc == 0)
            {
                return c;
            }

            if ((fc < 0) == (fb < 0))
            {
                (b, fb, fa, kept) = (c, fc, kept < 0 ? 0.5 * fa : fa, -1);
            }
            else
            {
                (a, fa, fb, kept) = (c, fc, kept > 0 ? 0.5 * fb : fb, 1);
            }
        }

        return 0.5 * (a + b);
    }

    // Ternary search: the factor has one turning point between a and b.
    private double TurningPoint(double a, double b, bool isMaximum)
    {
        for (int n = 0; n < 120; n++)
        {
            double c = a + ((b - a) / 3);
            double d = b - ((b - a) / 3);
            bool left = isMaximum ? _logFactor(c) >= _logFactor(d) : _logFactor(c) <= _logFactor(d);
            (a, b) = left ? (a, d) : (c, b);
        }

        return 0.5 * (a + b);
    }
}
