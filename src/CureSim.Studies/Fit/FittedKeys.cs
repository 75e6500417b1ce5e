using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>A scenario key that a fit gives a value to.</summary>
/// <param name="Path">Its path, such as "source.ageing".</param>
/// <param name="Text">Its value as YAML on one line.</param>
/// <param name="Comment">Where it comes from.</param>
/// <param name="IsList">True for an item of a list: it is added, and replaces nothing.</param>
public sealed record FittedKey(string Path, string Text, string Comment, bool IsList = false);

/// <summary>What a fitted log says in the words of a scenario, its uncertainty carried on as unknowns.</summary>
public static class FittedKeys
{
    private const double Normal95 = 1.959963984540054;
    private const double LeastSpread = 1e-3;         // ln: less is no spread between emitters
    private const double LargestNormalShare = 0.14;  // standard error over estimate beyond which a normal estimate reaches zero with more than 1e-12
    private const double LeastCorrelation = 0.005;

    /// <summary>The keys, in the order of a scenario.</summary>
    public static ImmutableArray<FittedKey> Of(LogFit fit)
    {
        ArgumentNullException.ThrowIfNull(fit);
        var keys = ImmutableArray.CreateBuilder<FittedKey>();
        var chosen = fit.Chosen;
        if (chosen.Length == 1)
        {
            keys.Add(new("source.ageing", $"{{ {Law(chosen[0], "source.ageing")} }}", $"{chosen[0].Parameters[0].Units} emitters, {Plain(fit.Hours, 4)} h"));
        }
        else if (chosen.Length > 1)
        {
            double total = chosen.Sum(c => c.Weight ?? 0.0);
            string items = string.Join(", ", chosen.Select((c, i) => $"{{ weight: {Plain((c.Weight ?? 0.0) / total, 3)}, {Law(c, $"source.ageing.candidates.{i + 1}")} }}"));
            keys.Add(new("source.ageing", $"{{ candidates: [ {items} ] }}", "forms that the log cannot tell apart, by Akaike weight"));
        }

        if (fit.Life.Withheld is null)
        {
            // The law of the age is shape and scale; the error of the scale is carried on, that of the shape is printed.
            keys.Add(new(
                "source.failure", $"{{ weibull: {{ shape: {Plain(fit.Life.Shape, 4)}, scale: {Plain(fit.Life.Scale, 4)} h }}, unknown_factor: {{ estimate: 1, se: {Plain(100.0 * fit.Life.ScaleErrorLog, 3)} % }} }}",
                $"{fit.Failures} failures; shape times or over {Plain(Math.Exp(Normal95 * fit.Life.ShapeErrorLog), 3)} at 95 %"));
        }

        if (fit.Repeatability.Value is { } rep and > 0.0)
        {
            keys.Add(new("radiometer.repeatability", $"{Plain(100.0 * rep, 3)} %", $"{fit.Repeatability.Count} degrees of freedom; {Plain(100.0 * fit.Repeatability.Lower95!.Value, 3)} to {Plain(100.0 * fit.Repeatability.Upper95!.Value, 3)} % at 95 %"));
        }

        if (fit.Session.Value is { } session and > 0.0)
        {
            keys.Add(new("radiometer.session", $"{Plain(100.0 * session, 3)} %", "what is left of the scatter about the curves: session error, wander and fouling together"));
        }

        if (!fit.Steps.IsEmpty)
        {
            keys.Add(new("disturbances", Disturbance(fit), "unexplained steps of the log; what clears them is not in it", IsList: true));
        }

        return keys.ToImmutable();
    }

    /// <summary>Site hours that the log watched.</summary>
    public static double SiteHours(LogFit fit)
    {
        ArgumentNullException.ThrowIfNull(fit);
        return fit.Runs.Where(r => r.LastHours > r.FirstHours).Sum(r => (r.LastHours - r.FirstHours) * Math.Max(1, r.Rows.Where(x => !double.IsNaN(x.Reading)).Select(x => x.Site).Distinct().Count()));
    }

    private static string Disturbance(LogFit fit)
    {
        double[] logs = [.. fit.Steps.Select(s => Math.Log(s.Factor))];
        double median = Math.Exp(logs.Average()), sd = logs.Length > 1 ? SampleMoments.Of(logs).StandardDeviation!.Value : 0.0;
        string factor = sd > LeastSpread ? $"{{ lognormal: {{ median: {Plain(100.0 * median, 3)} %, gsd: {Plain(Math.Exp(sd), 4)} }} }}" : $"{Plain(100.0 * median, 3)} %";
        return $"{{ name: unexplained step, acts_on: site, rate: {{ events: {fit.Steps.Length}, in: {Plain(SiteHours(fit), 4)} h }}, factor: {factor}, cleared_by: bad indication }}";
    }

    private static string Law(FormFit form, string path) =>
        $"{form.Form.Name}: {{ {string.Join(", ", form.Form.Parameters.Select((p, j) => $"{p.Key}: {Parameter(form, j, $"{path}.{form.Form.Name}")}"))} }}";

    private static string Parameter(FormFit form, int j, string path)
    {
        var parameter = form.Form.Parameters[j];
        var mean = form.Parameters[j].Mean;
        double median = Math.Exp(mean.Get()), spread = form.Parameters[j].Spread.Value ?? 0.0;

        // Student's interval on few emitters is wider than the normal one that a world draws from.
        double error = mean.HalfWidth95!.Value / Normal95;
        string unit = parameter.Unit.Length > 0 ? " " + parameter.Unit : "", value = Plain(median * parameter.PerUnit, 5) + unit;
        string[] ties = [.. Enumerable.Range(0, form.Form.Parameters.Length).Where(i => i > j && Math.Abs(form.Correlation[j, i]) > LeastCorrelation)
            .Select(i => $"{path}.{form.Form.Parameters[i].Key}: {Plain(Math.Clamp(form.Correlation[j, i], -0.999, 0.999), 3)}")];
        string correlation = ties.Length > 0 ? $", correlation: {{ {string.Join(", ", ties)} }}" : "";
        bool percent = parameter.Unit == "%";
        if (spread > LeastSpread)
        {
            string limit = percent ? ", at_most: 100 %" : "";
            return $"{{ lognormal: {{ median: {value}, gsd: {Plain(Math.Exp(spread), 5)} }}{limit}, unknown_factor: {{ estimate: 1, se: {Plain(100.0 * error, 3)} %{correlation} }} }}";
        }

        return percent && error > LargestNormalShare
            ? $"{{ unknown: {{ lognormal: {{ median: {value}, gsd: {Plain(Math.Exp(error), 5)} }}, at_most: 100 % }} }}"
            : $"{{ unknown: {{ estimate: {value}, se: {(percent ? Plain(100.0 * error * median, 3) : Plain(100.0 * error, 3))} %{correlation} }} }}";
    }

    private static string Plain(double value, int digits)
    {
        // Digits before the decimal point are kept: a scenario does not read exponents as people do.
        double size = Math.Abs(value);
        int decimals = value == 0.0 ? 0 : Math.Clamp(digits - 1 - (int)Math.Floor(Math.Log10(size)), 0, 12);
        string text = value.ToString("F" + decimals, CultureInfo.InvariantCulture);
        return decimals > 0 ? text.TrimEnd('0').TrimEnd('.') : text;
    }
}
