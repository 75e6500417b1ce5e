using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

/// <summary>The curve of <see cref="MonotoneCubic"/> through points at even distances, for one argument or eight at once with the same bits; held flat outside them.</summary>
public sealed class EvenMonotoneCubic
{
    private readonly double first;
    private readonly double perStep;
    private readonly int last;
    private readonly double[] coefficients;

    /// <summary>Needs at least two values.</summary>
    /// <param name="first">x of the first.</param>
    /// <param name="step">Distance of points, above 0.</param>
    /// <param name="values">Values at the points.</param>
    public EvenMonotoneCubic(double first, double step, double[] values)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(step);
        double[] slopes = MonotoneCubic.Slopes([.. values.Select((_, i) => first + (step * i))], values);
        this.first = first;
        perStep = 1.0 / step;
        last = values.Length - 2;
        coefficients = new double[4 * (last + 1)];
        for (int i = 0; i <= last; i++)
        {
            double rise = values[i + 1] - values[i], m0 = step * slopes[i], m1 = step * slopes[i + 1];
            coefficients[4 * i] = values[i];
            coefficients[(4 * i) + 1] = m0;
            coefficients[(4 * i) + 2] = (3.0 * rise) - (2.0 * m0) - m1;
            coefficients[(4 * i) + 3] = m0 + m1 - (2.0 * rise);
        }
    }

    /// <summary>Value at <paramref name="x"/>.</summary>
    public double At(double x)
    {
        double t = Math.Min(last + 1.0, Math.Max(0.0, (x - first) * perStep));
        double whole = Math.Min(last, Math.Floor(t)), f = t - whole;
        int i = 4 * (int)whole;
        return coefficients[i] + (f * (coefficients[i + 1] + (f * (coefficients[i + 2] + (f * coefficients[i + 3])))));
    }

    /// <summary>Values at eight arguments.</summary>
    [MethodImpl(Kernel.Options)]
    public Vector512<double> At(Vector512<double> x)
    {
        var t = Vector512.Min(Vector512.Create(last + 1.0), Vector512.Max(Vector512<double>.Zero, (x - Vector512.Create(first)) * Vector512.Create(perStep)));
        var whole = Vector512.Min(Vector512.Create((double)last), Vector512.Floor(t));
        var f = t - whole;
        var i = Vector512.ConvertToInt64(whole) * 4L;
        return Gather(i, 0) + (f * (Gather(i, 1) + (f * (Gather(i, 2) + (f * Gather(i, 3))))));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector512<double> Gather(Vector512<long> i, int power)
    {
        var from = coefficients.AsSpan(power);
        return Vector512.Create(
            from[(int)i.GetElement(0)], from[(int)i.GetElement(1)], from[(int)i.GetElement(2)], from[(int)i.GetElement(3)],
            from[(int)i.GetElement(4)], from[(int)i.GetElement(5)], from[(int)i.GetElement(6)], from[(int)i.GetElement(7)]);
    }
}
