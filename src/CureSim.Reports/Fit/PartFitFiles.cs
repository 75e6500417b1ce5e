using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using CureSim.Core.Statistics;
using CureSim.Reports.Capability;
using CureSim.Reports.Figures;
using CureSim.Reports.Folders;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>Where measured parts come from.</summary>
/// <param name="Stem">Names the folder of results.</param>
/// <param name="File">File as named.</param>
/// <param name="Sha256">Hash of it.</param>
/// <param name="Column">Header of the values.</param>
/// <param name="Name">What was measured, as words.</param>
/// <param name="Unit">As shown; null without one.</param>
public sealed record PartContext(string Stem, string File, string Sha256, string Column, string Name, string? Unit)
{
    /// <summary>True when the folder of results holds a copy of the file.</summary>
    public bool Copied { get; init; }
}

/// <summary>Answer, tables, pictures and YAML of a distribution fitted to measured parts.</summary>
public static class PartFitFiles
{
    private const int MostBins = 40;

    /// <summary>The heading.</summary>
    public static string Heading(PartFit fit, PartContext context)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        return $"{PlainText.OneLine(context.File)}: {Format.Count(fit.Values.Length)} values of {PlainText.OneLine(context.Name)}";
    }

    /// <summary>The answer.</summary>
    public static ImmutableArray<AnswerLine> Answer(PartFit fit, PartContext context)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        if (fit.Withheld is { } why)
        {
            return [new("Distribution", $"withheld: {why}"), new("Screening", Screening(fit))];
        }

        string[] also = [.. fit.AlsoPossible.Select(l => $"{l.Name} (AICc +{Format.Value(l.Criterion - fit.Laws[0].Criterion, null, 2)})")];
        return
        [
            new("Distribution", fit.Taken is { } t ? Words(t, context) : $"none of the laws fits ({fit.Laws[0].Name} is best, refused with p = {Format.Value(fit.Laws[0].PValue!.Value, null, 2)}): the values themselves are taken"),
            new("Also possible", also.Length > 0 ? string.Join(", ", also) + ": cannot be told apart" : "none of the other laws"),
            new("Goodness of fit", $"Anderson–Darling A² {Format.Value(fit.Laws[0].AndersonDarling, null, 3)}, p = {Format.Value(fit.Laws[0].PValue!.Value, null, 2)} from {Format.Count(fit.Laws[0].Refits)} samples of the fitted law"),
            new("Screening", Screening(fit)),
            new("YAML", Yaml(fit, context)),
        ];
    }

    /// <summary>The distribution as a scenario writes it.</summary>
    public static string Yaml(PartFit fit, PartContext context)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        string unit = context.Unit is { } shown ? " " + shown.Replace('²', '2').Replace("µ", "u", StringComparison.Ordinal) : "";
        return fit.Taken is not { } law ? $"{{ empirical: {{ csv: {PlainText.OneLine(context.File)}, column: \"{PlainText.OneLine(context.Column).Replace("\"", "", StringComparison.Ordinal)}\" }} }}"
            : law.Name switch
            {
                "normal" => $"{{ normal: {{ mean: {Number(law.First)}{unit}, sd: {Number(law.Second)}{unit} }} }}",
                "lognormal" => $"{{ lognormal: {{ median: {Number(law.First)}{unit}, gsd: {Number(law.Second)} }} }}",
                _ => $"{{ {law.Name}: {{ shape: {Number(law.First)}, scale: {Number(law.Second)}{unit} }} }}",
            };
    }

    /// <summary>summary.json.</summary>
    public static SummaryDocument Summary(PartFit fit, PartContext context)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        var document = new SummaryDocument("fit", context.Stem);
        var root = document.Root;
        root.Text("sampleSha256", context.Sha256).Text("column", context.Column).Text("unit", context.Unit).Count("values", fit.Values.Length).Text("taken", fit.Taken?.Name ?? (fit.Withheld is null ? "empirical" : null));
        root.Text("yaml", fit.Withheld is null ? Yaml(fit, context) : null);
        var laws = root.Array("laws");
        foreach (var law in fit.Laws)
        {
            var (first, second) = Names(law.Name);
            laws.Add(new JsonObject().Text("law", law.Name).Number(first, law.First).Number(first + "StandardError", law.FirstError).Number(second, law.Second).Number(second + "StandardError", law.SecondError)
                .Number("aicc", law.Criterion).Number("andersonDarling", law.AndersonDarling).Number("pValue", law.PValue, "not asked for"));
        }

        var screening = root.Array("screening");
        foreach (string s in fit.Screening.Findings)
        {
            screening.Add(JsonValue.Create(s));
        }

        MachineDigits.Apply(root);
        return document;
    }

    /// <summary>Adds the files.</summary>
    public static void Add(ResultFolder folder, PartFit fit, PartContext context, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(fit);
        folder.Add("summary.json", Summary(fit, context).ToBytes());
        if (fit.Withheld is null)
        {
            folder.Add("fitted.yaml", $"# Fitted to {PlainText.OneLine(context.File)}, column {PlainText.OneLine(context.Column)}: {fit.Values.Length.ToString(CultureInfo.InvariantCulture)} values\n{Yaml(fit, context)}\n");
        }

        RunFiles.AddTables(folder, [Laws(fit, context.Unit)], cancel);
        if (plots && fit.Withheld is null)
        {
            RunFiles.AddPlots(folder, [("values_and_law", Picture(fit, context))], cancel);
        }
    }

    private static Table Laws(PartFit fit, string? unit)
    {
        var table = new Table("laws",
            new Column("law", ColumnKind.Text), new Column("first", ColumnKind.Text), new Column("first_unit", ColumnKind.Text), new Column("first_value", ColumnKind.Number), new Column("first_standard_error", ColumnKind.Number), new Column("second", ColumnKind.Text), new Column("second_unit", ColumnKind.Text),
            new Column("second_value", ColumnKind.Number), new Column("second_standard_error", ColumnKind.Number), new Column("log_likelihood", ColumnKind.Number), new Column("aicc", ColumnKind.Number),
            new Column("anderson_darling", ColumnKind.Number), new Column("p_value", ColumnKind.Number), new Column("taken", ColumnKind.Text));
        foreach (var l in fit.Laws)
        {
            var (first, second) = Names(l.Name);
            table.Add(l.Name, first, Units(l.Name, unit).First, l.First, l.FirstError, second, Units(l.Name, unit).Second, l.Second, l.SecondError, l.LogLikelihood, l.Criterion, l.AndersonDarling, l.PValue, l == fit.Taken ? "yes" : "no");
        }

        return table;
    }

    internal static Figure Picture(PartFit fit, PartContext context)
    {
        double[] sorted = [.. fit.Values.Order()];
        double low = sorted[0], high = sorted[^1];
        int bins = Math.Clamp((int)Math.Round(Math.Sqrt(sorted.Length)), 6, MostBins);
        ImmutableArray<double> edges = [.. Enumerable.Range(0, bins + 1).Select(i => low + ((high - low) * i / bins))];
        double width = (high - low) / bins;
        ImmutableArray<double> heights = [.. Enumerable.Range(0, bins).Select(i => sorted.Count(v => v >= edges[i] && (v < edges[i + 1] || (i == bins - 1 && v <= high))) / (sorted.Length * width))];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        layers.Add(new Histogram(edges, heights));
        Tone[] tones = [Tone.Second, Tone.Third, Tone.Fourth];
        foreach (var (law, tone) in (fit.Taken is { } t ? [t, .. fit.AlsoPossible] : fit.Laws.Take(1)).Take(3).Zip(tones))
        {
            double from = Math.Max(law.Law.Minimum, low - (0.15 * (high - low))), to = high + (0.15 * (high - low));
            ImmutableArray<double> x = [.. Enumerable.Range(0, 160).Select(i => from + ((to - from) * (i + 0.5) / 160.0))];
            layers.Add(new Line(x, [.. x.Select(law.Law.Density)], law.Name, tone));
        }

        string name = context.Name.Length == 0 ? "Value" : PlainText.Capital(context.Name);
        return new Figure
        {
            Title = fit.Taken is { } taken ? $"The values follow a {taken.Name} law" : "No law fits the values",
            Subtitle = $"{Format.Count(sorted.Length)} values; best by AICc: {fit.Laws[0].Name}, Anderson–Darling p = {Format.Value(fit.Laws[0].PValue!.Value, null, 2)}.",
            X = new Axis(name, context.Unit),
            Y = new Axis("Density", context.Unit is { } u ? "1/" + u : null) { FromZero = true },
            Layers = layers.ToImmutable(),
            Note = fit.Taken is null ? "The values themselves are taken, each as likely (empirical)." : null,
        };
    }

    private static string Words(SampleLaw law, PartContext context)
    {
        var (first, second) = Names(law.Name);
        string Part(string name, double value, double error, string? unit) => $"{name} {Format.WithError(value, error, unit)}";
        var (one, other) = Units(law.Name, context.Unit);
        return $"{law.Name}: {Part(Spaced(first), law.First, law.FirstError, one)}, {Part(Spaced(second), law.Second, law.SecondError, other)}";
    }

    /// <summary>Units of a law's two parameters, where the values have one; null for a pure number.</summary>
    internal static (string? First, string? Second) Units(string law, string? unit) => (law is "normal" or "lognormal" ? unit : null, law is "lognormal" ? null : unit);

    internal static string Spaced(string name) => name == "geometricStandardDeviation" ? "geometric sd" : name == "standardDeviation" ? "sd" : name;

    internal static (string First, string Second) Names(string law) => law switch { "normal" => ("mean", "standardDeviation"), "lognormal" => ("median", "geometricStandardDeviation"), _ => ("shape", "scale") };

    private static string Screening(PartFit fit) => fit.Screening.Findings.Count == 0 ? "nothing found" : string.Join(" ", fit.Screening.Findings);

    private static string Number(double value) => value.ToString("G6", CultureInfo.InvariantCulture) is var text && text.Contains('E', StringComparison.Ordinal) ? value.ToString("F12", CultureInfo.InvariantCulture).TrimEnd('0') : text;
}
