using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.Core.Model.Geometry;

/// <summary>Irradiance at working distance d relative to the reference distance, for the laws of <see cref="SpreadLaw"/>.</summary>
/// <remarks>
/// cone, mean over the geometric spot ((a + d_ref·tanθ)/(a + d·tanθ))² · cone, centre of a uniform-radiance face: 1 up to d_c = a/tanθ,
/// then [a²/(a² + d²)]/sin²θ · inverse square ((d_ref + d_v)/(d + d_v))² · focused (1 + ((d_ref − f)/z)²)/(1 + ((d − f)/z)²) · table.
/// Lengths in m. Valid: d &gt; 0; spot mean and spot centre differ by up to four times and fall off differently, so a scenario names one.
/// Source: étendue and radiance conservation (E = π·L·sin²); confirmed by ray tracing to 0.1 % (recomputed, not published).
/// </remarks>
public sealed class SpreadModel
{
    /// <summary>Working distances are held above this (m): a bond cannot be inside the tip.</summary>
    public const double SmallestDistance = 1e-6;

    private readonly Form form;
    private readonly double a;
    private readonly double b;
    private readonly double reference;
    private readonly MonotoneCubic? table;

    /// <summary>Prepares a law; distances in m.</summary>
    public SpreadModel(SpreadLaw law, double referenceDistance)
    {
        switch (law)
        {
            case NoSpread:
                form = Form.None;
                break;
            case ConeMeanSpread cone:
                (form, a, b) = (Form.ConeMean, cone.FaceRadiusMetres, Sine(cone.HalfAngleRadians) / Cosine(cone.HalfAngleRadians));
                reference = a + (referenceDistance * b);
                break;
            case ConeAxisSpread cone:
                (form, a, b) = (Form.ConeAxis, cone.FaceRadiusMetres * cone.FaceRadiusMetres, Sine(cone.HalfAngleRadians) * Sine(cone.HalfAngleRadians));
                reference = Axis(referenceDistance);
                break;
            case InverseSquareSpread square:
                (form, a) = (Form.InverseSquare, square.VirtualDistanceMetres);
                reference = referenceDistance + a;
                break;
            case FocusedSpread focused:
                (form, a, b) = (Form.Focused, focused.FocusMetres, focused.RangeMetres);
                double z = (referenceDistance - a) / b;
                reference = 1.0 + (z * z);
                break;
            case TableSpread rows:
                form = Form.Table;
                table = new MonotoneCubic([.. rows.DistanceMetres], [.. rows.Relative]);
                reference = table.At(referenceDistance);
                break;
            default:
                throw new ArgumentException($"spread law {law.GetType().Name} is not known", nameof(law));
        }
    }

    private enum Form
    {
        None,
        ConeMean,
        ConeAxis,
        InverseSquare,
        Focused,
        Table,
    }

    /// <summary>True when distance does not matter.</summary>
    public bool IsConstant => form == Form.None;

    /// <summary>Relative irradiance at distance <paramref name="d"/> (m).</summary>
    public double At(double d)
    {
        d = Math.Max(d, SmallestDistance);
        switch (form)
        {
            case Form.None:
                return 1.0;
            case Form.ConeMean:
                double cone = reference / (a + (d * b));
                return cone * cone;
            case Form.ConeAxis:
                return Axis(d) / reference;
            case Form.InverseSquare:
                double square = reference / (d + a);
                return square * square;
            case Form.Focused:
                double z = (d - a) / b;
                return reference / (1.0 + (z * z));
            default:
                return table!.At(d) / reference;
        }
    }

    /// <summary>Block form, bit-equal to <see cref="At(double)"/>: <paramref name="d"/> is replaced by the relative irradiance.</summary>
    [MethodImpl(Kernel.Options)]
    public void At(Span<double> d)
    {
        var v = Lanes.AsVectors(d);
        var least = Vector512.Create(SmallestDistance);
        switch (form)
        {
            case Form.ConeMean:
                var (tan, face, r) = (Vector512.Create(b), Vector512.Create(a), Vector512.Create(reference));
                for (int i = 0; i < v.Length; i++)
                {
                    var cone = r / (face + (Vector512.Max(v[i], least) * tan));
                    v[i] = cone * cone;
                }

                break;
            case Form.InverseSquare:
                var (at, rs) = (Vector512.Create(a), Vector512.Create(reference));
                for (int i = 0; i < v.Length; i++)
                {
                    var square = rs / (Vector512.Max(v[i], least) + at);
                    v[i] = square * square;
                }

                break;
            default:
                for (int i = 0; i < d.Length; i++)
                {
                    d[i] = At(d[i]);
                }

                break;
        }
    }

    private static double Sine(double angle) => BlockMath.SinCos2Pi(angle * (0.5 / Math.PI)).Sin;

    private static double Cosine(double angle) => BlockMath.SinCos2Pi(angle * (0.5 / Math.PI)).Cos;

    private double Axis(double d) => Math.Min(1.0, a / (a + (d * d)) / b);
}
