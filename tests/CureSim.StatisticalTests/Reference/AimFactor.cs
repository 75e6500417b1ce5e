using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>
/// The aim of one bond in a Gaussian beam, part deviations normal about 0: the deviation has radius s = σ√(−2 ln u) and a uniform direction,
/// the axis is missed by |m + s·(cos θ, sin θ)| with m the offset of set-up and disturbances.
/// </summary>
internal sealed class AimFactor : ILogFactor
{
    // The midpoint rule converges faster than any power for a smooth periodic function; the verdict's own check watches over it.
    private const int Directions = 48;
    private const double DirectionsByStep = 6.0;

    private readonly GaussianBeam _beam;
    private readonly double _bondRadius;
    private readonly double _sigma;
    private readonly double _offset;
    private readonly double[] _cosines;

    /// <summary>Aim with a deviation of σ an axis and an offset m, both in m.</summary>
    public AimFactor(Fixture fixture, double sigma, double offset)
    {
        _beam = (GaussianBeam)fixture.Beam;
        _bondRadius = fixture.JudgeAtWorstPoint ? fixture.BondRadiusMetres : 0;
        (_sigma, _offset) = (sigma, offset);
        _cosines = Cosines(Directions);
        var nodes = Nodes(0.25);
        double mean = nodes.Sum(n => n.Weight * n.LogFactor);
        Spread = Math.Sqrt(nodes.Sum(n => n.Weight * (n.LogFactor - mean) * (n.LogFactor - mean)));
    }

    /// <inheritdoc/>
    public double Spread { get; }

    /// <inheritdoc/>
    public IReadOnlyList<(double LogFactor, double Weight)> Nodes(double h)
    {
        double[] cosines = Cosines((int)Math.Ceiling(DirectionsByStep / h));
        return [.. ScoreRule.Smooth(h).SelectMany(s =>
        {
            double radius = _sigma * Math.Sqrt(-2 * BlockMath.Log(BlockMath.NormalCdf(s.Score)));
            return cosines.Select(c => (LogBeam(radius, c), s.Weight / cosines.Length));
        })];
    }

    /// <inheritdoc/>
    public double Below(double level)
    {
        double reach = Reach(level);
        return reach < 0 ? 1 : _cosines.Average(c => Interval(reach, c) is var (from, to) ? (1 - Survival(from)) + Survival(to) : 1);
    }

    /// <inheritdoc/>
    public double Above(double level)
    {
        double reach = Reach(level);
        return reach < 0 ? 0 : _cosines.Average(c => Interval(reach, c) is var (from, to) ? Survival(from) - Survival(to) : 0);
    }

    // By symmetry half the circle.
    private double[] Cosines(int directions) => _offset == 0
        ? [0.0]
        : [.. Enumerable.Range(0, directions).Select(i => Math.Cos(Math.PI * (i + 0.5) / directions))];

    private double LogBeam(double radius, double cosine)
    {
        double rho = Math.Sqrt(Math.Max(0, (_offset * _offset) + (radius * radius) + (2 * _offset * radius * cosine))) + _bondRadius;
        return rho <= 0 ? 0 : -2 * BlockMath.Pow(rho / _beam.RadiusMetres, _beam.Order);
    }

    // Distance from the axis at which ln of the beam has fallen to the level; negative when even a centred bond is below it.
    private double Reach(double level) => level switch
    {
        > 0 => -1,
        0 => -_bondRadius,
        _ => (_beam.RadiusMetres * BlockMath.Pow(-level / 2, 1 / _beam.Order)) - _bondRadius,
    };

    // Radii s between which the bond lies nearer to the axis than reach, in one direction: roots of s² + 2·m·c·s + m² − reach².
    private (double From, double To)? Interval(double reach, double cosine)
    {
        double b = _offset * cosine;
        double d = (b * b) - (_offset * _offset) + (reach * reach);
        if (d < 0 || -b + Math.Sqrt(d) <= 0)
        {
            return null;
        }

        return (Math.Max(0, -b - Math.Sqrt(d)), -b + Math.Sqrt(d));
    }

    private double Survival(double s) => BlockMath.Exp(-0.5 * (s / _sigma) * (s / _sigma));
}
