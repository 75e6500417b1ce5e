using System.Collections.Immutable;

namespace CureSim.Studies.Fit;

/// <summary>One parameter of an ageing form, fitted as its natural logarithm so that it stays above zero.</summary>
/// <param name="Key">Its key in a scenario.</param>
/// <param name="Unit">"h", "%" or "" as a scenario writes it.</param>
/// <param name="PerUnit">The number a scenario writes for a parameter of 1.</param>
/// <param name="Least">Lower limit.</param>
/// <param name="Most">Upper limit.</param>
public sealed record FormParameter(string Key, string Unit, double PerUnit, double Least, double Most);

/// <summary>An ageing form as it is fitted: ln r(h) with its derivatives by the logarithms of the parameters. Hours throughout.</summary>
/// <remarks>The forms are those of <see cref="Core.Model.Ageing.AgeingModel"/>; limits: common practice, no source.</remarks>
public sealed class AgeingForm
{
    private delegate double Curve(double h, ReadOnlySpan<double> logs, Span<double> slopes);

    private const double ShortestHours = 1.0, LongestHours = 1e7;

    private readonly Curve curve;

    private AgeingForm(string name, ImmutableArray<FormParameter> parameters, Curve curve)
    {
        Name = name;
        Parameters = parameters;
        this.curve = curve;
    }

    /// <summary>exp(−h/τ).</summary>
    public static AgeingForm Exponential { get; } = new("exponential", [new("time", "h", 1.0, ShortestHours, LongestHours)], static (h, p, d) =>
    {
        double z = h * Math.Exp(-p[0]);
        d[0] = z;
        return -z;
    });

    /// <summary>f·exp(−h/τ1) + (1 − f)·exp(−h/τ2).</summary>
    public static AgeingForm TwoStage { get; } = new(
        "two_stage",
        [new("early_part", "%", 100.0, 1e-3, 0.9), new("early_time", "h", 1.0, ShortestHours, LongestHours), new("late_time", "h", 1.0, ShortestHours, LongestHours)],
        static (h, p, d) =>
        {
            double f = Math.Exp(p[0]), z1 = h * Math.Exp(-p[1]), z2 = h * Math.Exp(-p[2]), e1 = Math.Exp(-z1), e2 = Math.Exp(-z2), r = (f * e1) + ((1.0 - f) * e2);
            d[0] = f * (e1 - e2) / r;
            d[1] = f * e1 * z1 / r;
            d[2] = (1.0 - f) * e2 * z2 / r;
            return Math.Log(r);
        });

    /// <summary>exp(−(h/τ)^β).</summary>
    public static AgeingForm Stretched { get; } = new(
        "stretched", [new("time", "h", 1.0, ShortestHours, LongestHours), new("shape", "", 1.0, 0.1, 5.0)],
        static (h, p, d) =>
        {
            if (h <= 0.0)
            {
                d[0] = d[1] = 0.0;
                return 0.0;
            }

            double shape = Math.Exp(p[1]), log = Math.Log(h) - p[0], z = Math.Exp(shape * log);
            d[0] = shape * z;
            d[1] = -shape * log * z;
            return -z;
        });

    /// <summary>All forms, fewest parameters first.</summary>
    public static ImmutableArray<AgeingForm> All { get; } = [Exponential, Stretched, TwoStage];

    /// <summary>The form's word in a scenario.</summary>
    public string Name { get; }

    /// <summary>Its parameters, in order.</summary>
    public ImmutableArray<FormParameter> Parameters { get; }

    /// <summary>ln r at burn hours h, and its derivatives by the logarithms of the parameters.</summary>
    public double LogOutput(double hours, ReadOnlySpan<double> logs, Span<double> slopes) => curve(hours, logs, slopes);

    /// <summary>Logarithms to start from, best guesses first, for readings up to <paramref name="most"/> hours that lose <paramref name="loss"/> (in ln) on the way.</summary>
    internal IEnumerable<double[]> Starts(double most, double loss)
    {
        double whole = Math.Log(most / Math.Max(loss, 1e-3));
        if (this == Exponential)
        {
            yield return [whole];
        }
        else if (this == Stretched)
        {
            foreach (double shape in new[] { 0.6, 1.0, 1.6 })
            {
                yield return [Math.Log(most) - (Math.Log(Math.Max(loss, 1e-3)) / shape), Math.Log(shape)];
            }
        }
        else
        {
            foreach (double part in new[] { 0.3, 0.6 })
            {
                foreach (double early in new[] { 0.04, 0.12, 0.3 })
                {
                    double f = Math.Clamp(1.0 - Math.Exp(-part * loss), 0.01, 0.8);
                    yield return [Math.Log(f), Math.Log(most * early), Math.Log(most / Math.Max((1.0 - part) * loss, 1e-3))];
                }
            }
        }
    }
}
