using CureSim.Reports.Text;

namespace CureSim.Reports.Rendering;

/// <summary>Places of the labels on an axis, and their text.</summary>
/// <param name="Labelled">Values with a label.</param>
/// <param name="Plain">Values with a short stroke only.</param>
/// <param name="Show">Text of a labelled value.</param>
internal sealed record Ticks(IReadOnlyList<double> Labelled, IReadOnlyList<double> Plain, Func<double, string> Show)
{
    /// <summary>Labels at multiples of 1, 2 or 5 times a power of ten.</summary>
    /// <param name="from">Lower end.</param>
    /// <param name="to">Upper end, above <paramref name="from"/>.</param>
    /// <param name="count">How many labels there is room for.</param>
    /// <param name="whole">True: whole numbers only.</param>
    public static Ticks Linear(double from, double to, int count, bool whole)
    {
        int power = (int)Math.Floor(Math.Log10((to - from) / Math.Max(1, count)));
        double step = 0;
        foreach (int factor in (int[])[1, 2, 5, 10])
        {
            step = factor * Math.Pow(10, power);
            if ((to - from) / step <= count)
            {
                break;
            }
        }

        step = whole ? Math.Max(1, Math.Round(step)) : step;
        double slack = step * 1e-9; // ends that are multiples of the step but for rounding get their label
        List<double> values = [];
        for (double k = Math.Ceiling((from - slack) / step); k * step <= to + slack; k++)
        {
            values.Add(k * step);
        }

        int decimals = step >= 1 ? 0 : Digits.ForSignificant(step, 1);
        bool powers = Math.Max(Math.Abs(from), Math.Abs(to)) is var largest && (largest >= 1e7 || decimals > 5);
        return new Ticks(values, [], v => Math.Abs(v) < slack ? "0" : powers ? Format.Value(v, null, 4) : Format.Fixed(v, decimals));
    }

    /// <summary>Labels at powers of ten, with 2 and 5 times them (or 3) where the axis is short.</summary>
    /// <param name="from">Lower end, above zero.</param>
    /// <param name="to">Upper end, above <paramref name="from"/>.</param>
    /// <param name="count">How many labels there is room for.</param>
    public static Ticks Logarithmic(double from, double to, int count)
    {
        double decades = Math.Log10(to / from);
        if (decades < 0.5)
        {
            return Linear(from, to, count, whole: false);
        }

        int[] factors = decades * 3 <= count ? [1, 2, 5] : decades * 2 <= count ? [1, 3] : [1];
        int stride = Math.Max(1, (int)Math.Ceiling(decades / Math.Max(1, count)));
        List<double> labelled = [];
        List<double> plain = [];
        for (int power = (int)Math.Floor(Math.Log10(from)); power <= (int)Math.Ceiling(Math.Log10(to)); power++)
        {
            for (int factor = 1; factor < 10; factor++)
            {
                double value = factor * Math.Pow(10, power);
                if (value < from * (1 - 1e-9) || value > to * (1 + 1e-9))
                {
                    continue;
                }

                bool label = factors.Contains(factor) && power % stride == 0;
                if (label || stride == 1 || factor == 1)
                {
                    (label ? labelled : plain).Add(value);
                }
            }
        }

        bool powers = from < 1e-4 || to > 1e6;
        return new Ticks(labelled, plain, v => powers ? Format.PowerOfTen(v, 1) : Format.Value(v, null, 2));
    }

    /// <summary>Names at 0, 1, 2 …</summary>
    public static Ticks Named(IReadOnlyList<string> names) =>
        new([.. Enumerable.Range(0, names.Count).Select(i => (double)i)], [], v => names[(int)Math.Round(v)]);
}
