using System.Collections.Immutable;
using System.Text.Json.Nodes;
using CureSim.Reports.Figures;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.DoseLadders;

namespace CureSim.Reports.DoseLadders;

/// <summary>What a dose ladder shows, for terminal, files and JSON.</summary>
public static class LadderReport
{
    /// <summary>Heading.</summary>
    public static string Heading(LadderLimits found, string name)
    {
        ArgumentNullException.ThrowIfNull(found);
        return $"{name}: {Format.Count(found.Settings.Sum(s => s.Parts))} parts at {Format.Count(found.Settings.Length)} settings, {Format.Count(found.Limits.Length)} irradiances";
    }

    /// <summary>Lines of the answer.</summary>
    public static IReadOnlyList<AnswerLine> Of(LadderLimits found, string? unit)
    {
        ArgumentNullException.ThrowIfNull(found);
        var lines = new List<AnswerLine>();
        foreach (var l in found.Limits.Take(6))
        {
            string at = found.Limits.Length > 1 || l.Irradiance != 1.0 ? $"at {Format.Value(l.Irradiance, "W/cm²")}" : "dose";
            lines.Add(l.Lower is { } low && l.Upper is { } high
                ? new(at, $"{Format.Value(low, null, 3)} to {Format.Value(high, "J/cm²", 3)}; lower: {l.LowerIs}; upper: {l.UpperIs}", AnswerTone.Met)
                : new(at, $"no limits: {l.LowerIs}", AnswerTone.Missed));
        }

        string claim = $"{Format.PerCent(found.Confidence)} confidence, {Format.PerCent(found.Reliability)} reliability";
        lines.Add(new("requirement", found.Requirement is { } need ? $"response at least {Format.Value(need, unit)}, {claim}" : $"results pass, {claim}"));
        if (found.Fit is { } fit)
        {
            string p = !fit.ExponentIsFitted ? "one irradiance only: p cannot be told, limits hold at that irradiance"
                : $"p = {Told(fit.Exponent, fit.ExponentInterval)}";
            lines.Add(new("fit", $"response against I^p·t: plateau {Format.Value(fit.Plateau, unit, 3)}, {p}; scatter {Format.Value(fit.ResidualDeviation, unit, 2)}"));
            string lack = fit.LackOfFitP is { } q ? $"lack of fit p = {Format.Value(q, null, 2)}" : "no setting repeated: the shape cannot be tested";
            lines.Add(new("shape", found.UsesFit ? lack : $"{lack}: the data speak against the curve, so limits are tested settings alone", found.UsesFit ? AnswerTone.Plain : AnswerTone.Missed));
        }
        else if (found.Requirement is not null)
        {
            lines.Add(new("fit", "none: too few settings, or no rise to be seen; limits are tested settings alone"));
        }

        lines.Add(new("limits", "are tested doses or lie between tested ones that hold, never beyond; another irradiance than those tested is another cure"));
        return lines;
    }

    private static string Told(double p, (double Lower, double Upper) interval) => double.IsFinite(interval.Lower) && double.IsFinite(interval.Upper)
        ? Format.Interval(p, interval.Lower, interval.Upper) : $"{Format.Value(p, null, 2)} (the data do not bound it)";

    /// <summary>Tables for files.</summary>
    public static IEnumerable<Table> Tables(LadderLimits found)
    {
        ArgumentNullException.ThrowIfNull(found);
        var limits = new Table("ladder_limits", [Number("irradiance_w_per_cm2"), Number("lower_j_per_cm2"), Text("lower_is"), Number("upper_j_per_cm2"), Text("upper_is"), Number("lowest_tested_j_per_cm2"), Number("highest_tested_j_per_cm2")]);
        foreach (var l in found.Limits)
        {
            limits.Add(l.Irradiance, l.Lower, l.LowerIs, l.Upper, l.UpperIs, l.LowestTested, l.HighestTested);
        }

        yield return limits;
        var settings = new Table("ladder_settings",
        [
            Number("irradiance_w_per_cm2"), Number("time_s"), Number("dose_j_per_cm2"), new("parts", ColumnKind.Whole), new("failed", ColumnKind.Whole), Number("mean"), Number("lower_tolerance_bound"), Number("fitted"), Number("fitted_lower_tolerance_bound"), Text("holds"), Text("why_not"),
        ]);
        foreach (var s in found.Settings)
        {
            settings.Add(s.Irradiance, s.Time, s.Dose, s.Parts, (long?)s.Failed, s.Mean, s.Bound, s.Fitted, s.FittedBound, s.Holds ? "yes" : "no", s.Why);
        }

        yield return settings;
        if (found.Fit is { } fit)
        {
            var table = new Table("ladder_fit", [Text("parameter"), Number("value"), Number("lower95"), Number("upper95")]);
            table.Add("plateau", fit.Plateau, (double?)null, (double?)null).Add("half_x", fit.Half, (double?)null, (double?)null).Add("steepness", fit.Steepness, (double?)null, (double?)null);
            table.Add("exponent", fit.ExponentIsFitted ? fit.Exponent : (double?)null, Finite(fit.ExponentInterval.Lower), Finite(fit.ExponentInterval.Upper));
            table.Add("residual_sd", fit.ResidualDeviation, (double?)null, (double?)null).Add("lack_of_fit_p", fit.LackOfFitP, (double?)null, (double?)null);
            yield return table;
        }
    }

    /// <summary>Name of a row of the fit's table.</summary>
    internal static string NameOf(string parameter) => parameter switch
    {
        "half_x" => "I^p·t at half the plateau", "residual_sd" => "scatter about the fit, standard deviation", "lack_of_fit_p" => "p of the test of the curve's shape", "exponent" => "exponent p of the irradiance", _ => parameter,
    };

    /// <summary>The figure: responses over I^p·t with the fit, its bound at each irradiance and the requirement.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Figures(LadderLimits found, IReadOnlyList<LadderPoint> parts, string? unit)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(parts);
        if (found.Fit is not { } fit || found.Requirement is not { } need)
        {
            yield break;
        }

        Tone[] tones = [Tone.First, Tone.Second, Tone.Third, Tone.Fourth, Tone.Fifth];
        var layers = new List<Layer>();
        double X(double i, double t) => Math.Pow(i, fit.Exponent) * t;
        foreach (var (l, k) in found.Limits.Take(5).Select((l, k) => (l, k)))
        {
            LadderPoint[] own = [.. parts.Where(p => p.Irradiance == l.Irradiance)];
            layers.Add(new Points([.. own.Select(p => X(p.Irradiance, p.Time))], [.. own.Select(p => p.Response!.Value)], null, tones[k]));
            double from = own.Min(p => p.Time), to = own.Max(p => p.Time);
            double[] t = [.. Enumerable.Range(0, 60).Select(j => from * Math.Pow(to / from, j / 59.0))];
            layers.Add(new Line([.. t.Select(v => X(l.Irradiance, v))], [.. t.Select(v => fit.LowerTolerance(l.Irradiance, v, found.Confidence, found.Reliability))], $"bound, {Format.Value(l.Irradiance, "W/cm²")}", tones[k]));
        }

        double low = parts.Min(p => X(p.Irradiance, p.Time)), high = parts.Max(p => X(p.Irradiance, p.Time));
        double[] xs = [.. Enumerable.Range(0, 100).Select(j => low * Math.Pow(high / low, j / 99.0))];
        layers.Add(new Line([.. xs], [.. xs.Select(x => fit.At(1.0, x))], "fit", Tone.Ink));
        layers.Add(new Limit(Along.Y, need, $"required {Format.Value(need, unit)}"));
        yield return ("ladder", new Figure
        {
            Title = "From which dose on does the response hold?",
            Subtitle = $"Parts, fit, and lower tolerance bounds ({Format.PerCent(found.Confidence)} confidence, {Format.PerCent(found.Reliability)} reliability) within the tested doses of each irradiance.",
            Note = fit.ExponentIsFitted ? $"p = {Told(fit.Exponent, fit.ExponentInterval)}: irradiance counts as I^p, time as t." : "One irradiance: p cannot be told.",
            X = new Axis(fit.ExponentIsFitted ? "I^p·t, I in W/cm², t" : "Dose", fit.ExponentIsFitted ? "s" : "J/cm²") { Scale = AxisScale.Logarithmic }, Y = new Axis("Response", unit), Layers = [.. layers],
        });
    }

    /// <summary>summary.json.</summary>
    public static SummaryDocument Summary(LadderLimits found, string name, string sha256, string? unit)
    {
        ArgumentNullException.ThrowIfNull(found);
        var document = new SummaryDocument("window", name);
        var root = document.Root.Text("ladderSha256", sha256).Number("requirement", found.Requirement, "results alone").Text("unit", unit).Number("confidence", found.Confidence).Number("reliability", found.Reliability);
        var limits = root.Array("limits");
        foreach (var l in found.Limits)
        {
            limits.Add(new JsonObject().Number("irradiance", l.Irradiance).Number("lower", l.Lower, l.LowerIs).Text("lowerIs", l.LowerIs).Number("upper", l.Upper, l.UpperIs).Text("upperIs", l.UpperIs)
                .Number("lowestTested", l.LowestTested).Number("highestTested", l.HighestTested));
        }

        if (found.Fit is { } fit)
        {
            root.Object("fit").Number("plateau", fit.Plateau).Number("half", fit.Half).Number("steepness", fit.Steepness).Number("exponent", fit.ExponentIsFitted ? fit.Exponent : null, "one irradiance only")
                .Number("exponentLower95", Finite(fit.ExponentInterval.Lower), "not bounded").Number("exponentUpper95", Finite(fit.ExponentInterval.Upper), "not bounded").Number("residualSd", fit.ResidualDeviation)
                .Number("lackOfFitP", fit.LackOfFitP, "no setting repeated");
        }

        MachineDigits.Apply(root);
        return document;
    }

    private static double? Finite(double v) => double.IsFinite(v) ? v : null;

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);
}
