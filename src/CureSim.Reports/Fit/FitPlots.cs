using System.Collections.Immutable;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>Pictures of a fitted log: data over fit, residuals, parameters by emitter, predictive check.</summary>
public static class FitPlots
{
    private const int MostShown = 4;
    private const int MostPoints = 3000;
    private static readonly Tone[] Tones = [Tone.First, Tone.Second, Tone.Third, Tone.Fourth];

    /// <summary>Figures with the names of their files.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(LogFit fit, FitContext context, PredictiveCheck? check)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        if (!fit.Chosen.IsEmpty)
        {
            var best = fit.Chosen[0];
            EmitterFit[] shown = [.. best.Usable.OrderByDescending(e => e.Used.Length).Take(MostShown).OrderBy(e => Array.IndexOf([.. fit.Runs.Select(r => r.Name)], e.Run.Name))];
            yield return ("output_and_fit", Curves(fit, best, shown));
            yield return ("residuals", Residuals(fit, best));
        }

        if (check is { Withheld: null })
        {
            yield return ("predictive_check", Band(check));
        }
    }

    private static Figure Curves(LogFit fit, FormFit best, EmitterFit[] shown)
    {
        var layers = ImmutableArray.CreateBuilder<Layer>();
        for (int i = 0; i < shown.Length; i++)
        {
            var e = shown[i];

            // Every level is brought to the first one's, so that one curve serves all sites and radiometers of an emitter; 100 % is the fitted output when new.
            double Shift(Observation o) => e.Fit.Parameters[Array.IndexOf(e.Levels, o.Level)];
            var points = Thinned(e.Used, MostPoints / shown.Length);
            double most = e.Used.Max(o => o.Hours);
            ImmutableArray<double> x = [.. Enumerable.Range(0, 120).Select(k => most * k / 119.0)];
            layers.Add(new Points([.. points.Select(o => o.Hours)], [.. points.Select(o => 100.0 * Math.Exp(o.LogOutput - Shift(o)))], null, Tones[i]));
            layers.Add(new Line(x, [.. x.Select(h => 100.0 * Math.Exp(e.At(h) - e.Fit.Parameters[0]))], shown.Length > 1 ? e.Run.Name : "fit", Tones[i]));
        }

        int all = best.Usable.Count();
        return new Figure
        {
            Title = "How does the output fall with the emitter's hours?",
            Subtitle = $"{PlainText.Capital(FitWords.Name(best.Form))} fit to {FitWords.Of(fit.Quantity)}: {FitWords.All(best)} (medians over emitters, 95 %). Dots: readings, as a share of each fit at 0 h.",
            X = new Axis("Emitter hours", "h") { From = 0.0 },
            Y = new Axis("Output", "% of new"),
            Layers = layers.ToImmutable(),
            Note = all > shown.Length ? $"{Format.Count(shown.Length)} of {Format.Count(all)} emitters are drawn, those with most readings; all are in tables/readings.csv." : null,
        };
    }

    private static Figure Residuals(LogFit fit, FormFit best)
    {
        (Observation O, double R)[] all = [.. best.Emitters.Where(e => e.Fit.Withheld is null).SelectMany(e => e.Used.Select((o, i) => (o, e.Fit.Residuals[i])))];
        var drawn = Thinned(all, MostPoints);
        double band = 200.0 * best.ResidualDeviation, most = all.Max(a => a.O.Hours);
        return new Figure
        {
            Title = "What does the fit leave over?",
            Subtitle = $"Reading less {FitWords.Name(best.Form)} fit, all emitters; standard deviation {Format.Value(100.0 * best.ResidualDeviation, "%", 3)}. A trend or a bow would speak against the form.",
            X = new Axis("Emitter hours", "h") { From = 0.0 },
            Y = new Axis("Residual", "%"),
            Layers =
            [
                new Band([0.0, Math.Max(1.0, most)], [-band, -band], [band, band], "± 2 sd", Tone.Second),
                new Points([.. drawn.Select(a => a.O.Hours)], [.. drawn.Select(a => 100.0 * a.R)]),
                new Target(Along.Y, 0.0, "fit"),
            ],
            Note = fit.Steps.IsEmpty ? null : $"{Format.Count(fit.Steps.Length)} unexplained step{(fit.Steps.Length == 1 ? " was given a level of its" : "s were given levels of their")} own.",
        };
    }

    private static Figure Band(PredictiveCheck check)
    {
        // One band a site; the site with most readings outside is drawn.
        var site = check.Points.GroupBy(p => p.Site).OrderByDescending(g => g.Count(p => !p.Inside)).ThenBy(g => g.Key, StringComparer.Ordinal).First();
        var points = site.GroupBy(p => p.Hours).Select(g => g.First()).OrderBy(p => p.Hours).ToArray();
        return new Figure
        {
            Title = check.Contradicts ? "The scenario contradicts the log" : "Does the scenario agree with the log?",
            Subtitle = $"As-found readings{(site.Key.Length > 0 ? " of site " + PlainText.OneLine(site.Key) : "")} over the 5 to 95 % band of {Format.Count(check.Lifetimes)} simulated lifetimes; {Format.Count(check.Inside)} of {Format.Count(check.Compared)} inside, p = {Format.Value(check.PValue!.Value, null, 2)}.",
            X = new Axis("Production time", "h") { From = 0.0 },
            Y = new Axis("As found", "W/cm²"),
            Layers =
            [
                new Band([.. points.Select(p => p.Hours)], [.. points.Select(p => p.Lower * 1e-4)], [.. points.Select(p => p.Upper * 1e-4)], "simulated, 90 %", Tone.Second),
                new Line([.. points.Select(p => p.Hours)], [.. points.Select(p => p.Middle * 1e-4)], "median", Tone.Second),
                new Points([.. points.Select(p => p.Hours)], [.. points.Select(p => p.Read * 1e-4)], "log"),
            ],
        };
    }

    /// <summary>Every so many of them that no more than asked for are left.</summary>
    internal static T[] Thinned<T>(T[] all, int most)
    {
        int every = Math.Max(1, (all.Length + most - 1) / most);
        return [.. all.Where((_, i) => i % every == 0)];
    }
}
