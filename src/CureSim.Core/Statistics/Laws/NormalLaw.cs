namespace CureSim.Core.Statistics;

/// <summary>The standard normal law: density, both tails, their logarithms, quantile.</summary>
/// <remarks>
/// Φ(x) = ½ erfc(−x/√2), by the rational approximations of Cody; the quantile by algorithm AS 241 (PPND16).
/// Relative error: below 1e-14 in either tail as far as the tail is a normal double (|x| ≤ 37.5); quantile about 1e-16.
/// Source: W. J. Cody, "Rational Chebyshev approximations for the error function", Math. Comp. 23 (1969) 631–637;
/// M. J. Wichura, "Algorithm AS 241: the percentage points of the normal distribution", Appl. Statist. 37 (1988) 477–484.
/// Checked against: mpmath values (tests/data/reference/statistics-scipy.csv) and the rows RNG-PHI, RNG-INV.
/// </remarks>
internal static class NormalLaw
{
    private const double InverseRootTwoPi = 0.39894228040143267794;

    /// <summary>φ(x).</summary>
    public static double Density(double x) => InverseRootTwoPi * HalfSquareExponential(Math.Abs(x));

    /// <summary>Φ(x) = P(Z ≤ x).</summary>
    public static double Cdf(double x) => Survival(-x);

    /// <summary>1 − Φ(x) = P(Z &gt; x), accurate in the upper tail.</summary>
    public static double Survival(double x)
    {
        double y = Math.Abs(x);
        if (double.IsPositiveInfinity(y))
        {
            return x > 0.0 ? 0.0 : 1.0;
        }

        if (y <= 0.67448975)
        {
            return 0.5 - Centre(x);
        }

        double tail = HalfSquareExponential(y) * ScaledTail(y);
        return x > 0.0 ? tail : 1.0 - tail;
    }

    /// <summary>ln Φ(x), finite far into the lower tail, where Φ itself is no longer a double.</summary>
    public static double LogCdf(double x) =>
        x < -0.67448975 ? (-0.5 * x * x) + Math.Log(ScaledTail(-x)) : SmallArgument.Log1P(-Survival(x));

    /// <summary>P(Z &gt; y)·exp(y²/2) for y ≥ 0: the tail without its exponential, so that products of large and small do not overflow.</summary>
    public static double ScaledTail(double y)
    {
        if (!(y >= 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(y), y, "The scaled tail is for y ≥ 0.");
        }

        if (y <= 0.67448975)
        {
            return (0.5 - Centre(y)) * Math.Exp(0.5 * y * y);
        }

        if (y <= 5.656854249492380195)
        {
            double n = C[8] * y;
            double d = y;
            for (int i = 0; i < 7; i++)
            {
                n = (n + C[i]) * y;
                d = (d + D[i]) * y;
            }

            return (n + C[7]) / (d + D[7]);
        }

        double s = 1.0 / (y * y);
        double top = P[5] * s;
        double bottom = s;
        for (int i = 0; i < 4; i++)
        {
            top = (top + P[i]) * s;
            bottom = (bottom + Q[i]) * s;
        }

        return (InverseRootTwoPi - (s * (top + P[4]) / (bottom + Q[4]))) / y;
    }

    /// <summary>Φ⁻¹(p), 0 &lt; p &lt; 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">p is not strictly between 0 and 1.</exception>
    public static double Quantile(double p)
    {
        if (!(p > 0.0 && p < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability strictly between 0 and 1 is needed.");
        }

        double q = p - 0.5;
        if (Math.Abs(q) <= 0.425)
        {
            double r = 0.180625 - (q * q);
            return q * Polynomial(CentreTop, r) / Polynomial(CentreBottom, r);
        }

        double t = Math.Sqrt(-Math.Log(q < 0.0 ? p : 1.0 - p));
        double z = t <= 5.0
            ? Polynomial(MiddleTop, t - 1.6) / Polynomial(MiddleBottom, t - 1.6)
            : Polynomial(FarTop, t - 5.0) / Polynomial(FarBottom, t - 5.0);
        return q < 0.0 ? -z : z;
    }

    /// <summary>The x with P(Z &gt; x) = q, accurate for small q.</summary>
    public static double UpperQuantile(double q) => -Quantile(q);

    private static double Centre(double x)
    {
        double s = x * x;
        double n = A[4] * s;
        double d = s;
        for (int i = 0; i < 3; i++)
        {
            n = (n + A[i]) * s;
            d = (d + B[i]) * s;
        }

        return x * (n + A[3]) / (d + B[3]);
    }

    /// <summary>exp(−y²/2) with y split at a sixteenth, so that the rounding of y² does not grow with y (Cody's device).</summary>
    private static double HalfSquareExponential(double y)
    {
        if (y > 39.0)
        {
            return 0.0;
        }

        double coarse = Math.Truncate(y * 16.0) / 16.0;
        double rest = (y - coarse) * (y + coarse);
        return Math.Exp(-0.5 * coarse * coarse) * Math.Exp(-0.5 * rest);
    }

    private static double Polynomial(double[] coefficients, double x)
    {
        double sum = 0.0;
        for (int i = coefficients.Length - 1; i >= 0; i--)
        {
            sum = (sum * x) + coefficients[i];
        }

        return sum;
    }

    private static readonly double[] A = [2.2352520354606839287, 161.02823106855587881, 1067.6894854603709582, 18154.981253343561249, 0.065682337918207449113];
    private static readonly double[] B = [47.20258190468824187, 976.09855173777669322, 10260.932208618978205, 45507.789335026729956];
    private static readonly double[] C =
    [
        0.39894151208813466764, 8.8831497943883759412, 93.506656132177855979, 597.27027639480026226, 2494.5375852903726711,
        6848.1904505362823326, 11602.651437647350124, 9842.7148383839780218, 1.0765576773720192317e-8,
    ];

    private static readonly double[] D =
    [
        22.266688044328115691, 235.38790178262499861, 1519.377599407554805, 6485.558298266760755,
        18615.571640885098091, 34900.952721145977266, 38912.003286093271411, 19685.429676859990727,
    ];

    private static readonly double[] P =
        [0.21589853405795699, 0.1274011611602473639, 0.022235277870649807, 0.001421619193227893466, 2.9112874951168792e-5, 0.02307344176494017303];

    private static readonly double[] Q = [1.28426009614491121, 0.468238212480865118, 0.0659881378689285515, 0.00378239633202758244, 7.29751555083966205e-5];

    private static readonly double[] CentreTop =
    [
        3.3871328727963666080, 133.14166789178437745, 1971.5909503065514427, 13731.693765509461125,
        45921.953931549871457, 67265.770927008700853, 33430.575583588128105, 2509.0809287301226727,
    ];

    private static readonly double[] CentreBottom =
    [
        1.0, 42.313330701600911252, 687.18700749205790830, 5394.1960214247511077,
        21213.794301586595867, 39307.895800092710610, 28729.085735721942674, 5226.4952788528545610,
    ];

    private static readonly double[] MiddleTop =
    [
        1.42343711074968357734, 4.63033784615654529590, 5.76949722146069140550, 3.64784832476320460504,
        1.27045825245236838258, 0.241780725177450611770, 0.0227238449892691845833, 7.74545014278341407640e-4,
    ];

    private static readonly double[] MiddleBottom =
    [
        1.0, 2.05319162663775882187, 1.67638483018380384940, 0.689767334985100004550,
        0.148103976427480074590, 0.0151986665636164571966, 5.47593808499534494600e-4, 1.05075007164441684324e-9,
    ];

    private static readonly double[] FarTop =
    [
        6.65790464350110377720, 5.46378491116411436990, 1.78482653991729133580, 0.296560571828504891230,
        0.0265321895265761230930, 0.00124266094738807843860, 2.71155556874348757815e-5, 2.01033439929228813265e-7,
    ];

    private static readonly double[] FarBottom =
    [
        1.0, 0.599832206555887937690, 0.136929880922735805310, 0.0148753612908506148525,
        7.86869131145613259100e-4, 1.84631831751005468180e-5, 1.42151175831644588870e-7, 2.04426310338993978564e-15,
    ];
}
