namespace CureSim.Core.Statistics;

/// <summary>The power that makes a sample of positive values most nearly normal, and quantiles through it.</summary>
/// <param name="Lambda">λ with its profile-likelihood 95 % interval; withheld when it cannot be found.</param>
/// <param name="LogLikelihood">Profile log-likelihood at λ.</param>
/// <param name="TransformedMean">Mean of the transformed values.</param>
/// <param name="TransformedDeviation">Standard deviation (n − 1) of the transformed values.</param>
/// <remarks>
/// y = (x^λ − 1)/λ (ln x at λ = 0); l(λ) = −(n/2) ln(SS(λ)/n) + (λ − 1) Σ ln x. λ is the root of the exact derivative, values divided by their
/// geometric mean first; the interval is where l falls by χ²₀.₉₅,₁/2.
/// Source: G. E. P. Box and D. R. Cox, JRSS B 26 (1964) 211. Checked against: row NRM-BOXCOX, R MASS.
/// </remarks>
public sealed record BoxCox(Estimate Lambda, double LogLikelihood, double TransformedMean, double TransformedDeviation)
{
    private const double WidestPower = 20.0;

    /// <summary>Fits λ.</summary>
    public static BoxCox Fit(ReadOnlySpan<double> values)
    {
        int n = values.Length;
        foreach (double x in values)
        {
            if (!(x > 0.0) || double.IsInfinity(x))
            {
                return Refuse("a value is not above zero", n);
            }
        }

        double[] logs = new double[n];
        for (int i = 0; i < n; i++)
        {
            logs[i] = Math.Log(values[i]);
        }

        SampleMoments moments = SampleMoments.Of(logs);
        if (n < 3 || moments.StandardDeviation is not > 0.0)
        {
            return Refuse("fewer than three values, or no spread", n);
        }

        for (int i = 0; i < n; i++)
        {
            logs[i] -= moments.Mean;
        }

        double constant = n * moments.Mean;
        double Slope(double l) => Evaluate(logs, l).Slope;
        if (!(Slope(-WidestPower) > 0.0 && Slope(WidestPower) < 0.0))
        {
            return Refuse("the likelihood has no maximum for a power between −20 and 20", n);
        }

        double lambda = MonotoneRoot.Find(Slope, -WidestPower, WidestPower);
        double best = Evaluate(logs, lambda).LogLikelihood;
        double Drop(double l) => Evaluate(logs, l).LogLikelihood - best + (0.5 * ChiSquareLaw.Quantile(0.95, 1.0));
        double lower = MonotoneRoot.FindOutward(Drop, lambda, -0.1);
        double upper = MonotoneRoot.FindOutward(Drop, lambda, 0.1);
        double[] y = new double[n];
        for (int i = 0; i < n; i++)
        {
            y[i] = Transform(values[i], lambda);
        }

        SampleMoments after = SampleMoments.Of(y);
        return new BoxCox(Estimate.Bounded(lambda, null, lower, upper, n), best - constant, after.Mean, after.StandardDeviation!.Value);
    }

    /// <summary>Profile log-likelihood of a given power.</summary>
    public static double ProfileLogLikelihood(ReadOnlySpan<double> values, double lambda)
    {
        double[] logs = new double[values.Length];
        double sum = 0.0;
        for (int i = 0; i < logs.Length; i++)
        {
            logs[i] = Math.Log(values[i]);
            sum += logs[i];
        }

        for (int i = 0; i < logs.Length; i++)
        {
            logs[i] -= sum / values.Length;
        }

        return Evaluate(logs, lambda).LogLikelihood - sum;
    }

    /// <summary>(x^λ − 1)/λ, x &gt; 0.</summary>
    public static double Transform(double x, double lambda) => lambda == 0.0 ? Math.Log(x) : SmallArgument.ExpM1(lambda * Math.Log(x)) / lambda;

    /// <summary>The <paramref name="p"/> quantile of the fitted law, in the unit of the values; withheld where the transform has no inverse.</summary>
    public Estimate Quantile(double p)
    {
        if (Lambda.Value is not double lambda)
        {
            return Lambda;
        }

        double y = TransformedMean + (TransformedDeviation * NormalLaw.Quantile(p));
        if (lambda == 0.0)
        {
            return Estimate.Bounded(Math.Exp(y), null, null, null, Lambda.Count);
        }

        return 1.0 + (lambda * y) > 0.0
            ? Estimate.Bounded(Math.Exp(SmallArgument.Log1P(lambda * y) / lambda), null, null, null, Lambda.Count)
            : Estimate.Withhold("the quantile lies beyond what the fitted power can reach", Lambda.Count);
    }

    private static BoxCox Refuse(string reason, long count) => new(Estimate.Withhold(reason, count), 0.0, 0.0, 0.0);

    /// <summary>l(λ) and its derivative for values of geometric mean 1, given by their logarithms.</summary>
    private static (double LogLikelihood, double Slope) Evaluate(double[] logs, double lambda)
    {
        double n = logs.Length;
        double[] y = new double[logs.Length];
        double[] dy = new double[logs.Length];
        double meanY = 0.0;
        for (int i = 0; i < logs.Length; i++)
        {
            double l = logs[i];
            double z = lambda * l;

            // dy/dλ = (z eᶻ − eᶻ + 1)/λ² = l² g(z), g = ½ + z/3 + z²/8 + z³/30 + z⁴/144 + … near 0, where the difference would cancel.
            y[i] = lambda == 0.0 ? l : SmallArgument.ExpM1(z) / lambda;
            dy[i] = Math.Abs(z) < 1e-3
                ? l * l * (0.5 + (z * ((1.0 / 3.0) + (z * (0.125 + (z * ((1.0 / 30.0) + (z / 144.0))))))))
                : ((l * Math.Exp(z)) - y[i]) / lambda;
            meanY += y[i] / n;
        }

        double squares = 0.0;
        double cross = 0.0;
        for (int i = 0; i < y.Length; i++)
        {
            squares += (y[i] - meanY) * (y[i] - meanY);
            cross += (y[i] - meanY) * dy[i];
        }

        return (-0.5 * n * Math.Log(squares / n), -n * cross / squares);
    }
}
