namespace CureSim.Checks.States;

/// <summary>P(ρ &gt; R) for an aim (o + x, y) with x, y ~ N(0, σ²): the tail of Rice's law, Marcum's Q₁(o/σ, R/σ).</summary>
internal static class RiceTail
{
    /// <summary>
    /// Q₁(a, b) for b &gt; a as an integral over one turn (M. K. Simon, IEEE Commun. Lett. 2 (1998) 39, recalled from memory); the integrand is smooth and
    /// periodic, so the trapezoidal rule converges faster than any power.
    /// </summary>
    public static double Beyond(double offset, double radius, double sd)
    {
        const int Points = 2000;
        double b = radius / sd, ratio = offset / radius, sum = 0.0;
        for (int i = 0; i < Points; i++)
        {
            double sine = Math.Sin(2 * Math.PI * i / Points), square = 1 + (2 * ratio * sine) + (ratio * ratio);
            sum += (1 + (ratio * sine)) / square * Math.Exp(-0.5 * b * b * square);
        }

        return sum / Points;
    }

    /// <summary>The radius beyond which a probability lies.</summary>
    public static double Radius(double offset, double probability, double sd)
    {
        double low = offset * 1.0001, high = offset + (40 * sd);
        for (int i = 0; i < 200; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Beyond(offset, middle, sd) > probability ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }
}
