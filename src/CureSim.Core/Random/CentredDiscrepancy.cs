namespace CureSim.Core.Random;

/// <summary>Centred L₂ discrepancy of a set of points: how unevenly they fill the unit cube, seen from its corners.</summary>
/// <remarks>
/// (13/12)^d − (2/n)ΣΠ(1 + ½|z| − ½z²) + (1/n²)ΣΣΠ(1 + ½|z| + ½|z′| − ½|x − x′|), z = x − ½.
/// Source: F. J. Hickernell, Mathematics of Computation 67 (1998) 299. This is the squared measure, as SciPy gives it (row RNG-DISC).
/// </remarks>
public static class CentredDiscrepancy
{
    /// <summary>The discrepancy of the first <paramref name="count"/> points.</summary>
    public static double Of(SobolPoints points, int count)
    {
        ArgumentNullException.ThrowIfNull(points);
        int d = points.Dimensions;
        double one = 0.0, two = 0.0, corner = 1.0;
        for (int k = 0; k < d; k++)
        {
            corner *= 13.0 / 12.0;
        }

        for (int i = 0; i < count; i++)
        {
            double product = 1.0;
            for (int k = 0; k < d; k++)
            {
                double z = Math.Abs(points.At((uint)i, k) - 0.5);
                product *= 1.0 + (0.5 * z) - (0.5 * z * z);
            }

            one += product;
            for (int j = 0; j < count; j++)
            {
                double pair = 1.0;
                for (int k = 0; k < d; k++)
                {
                    double x = points.At((uint)i, k), y = points.At((uint)j, k);
                    pair *= 1.0 + (0.5 * Math.Abs(x - 0.5)) + (0.5 * Math.Abs(y - 0.5)) - (0.5 * Math.Abs(x - y));
                }

                two += pair;
            }
        }

        return corner - (2.0 * one / count) + (two / ((double)count * count));
    }
}
