using System.Globalization;

namespace CureSim.Checks.Comparing;

/// <summary>A check of figures that are found by simulation, with a fixed seed and an error planted in the expectation.</summary>
/// <param name="Id">Short name.</param>
/// <param name="Topic">What it belongs to.</param>
/// <param name="What">What is compared.</param>
/// <param name="Source">Where the exact values come from.</param>
/// <param name="Seed">Key of every draw.</param>
/// <param name="PlantedError">The wrong formula that the comparison must refuse, in words.</param>
/// <param name="Figures">Simulates with a seed and puts every figure beside its exact value.</param>
/// <param name="Allowed">What is allowed beside three standard errors, and why; null for nothing.</param>
internal sealed record SampledCheck(
    string Id, string Topic, string What, string Source, ulong Seed, string PlantedError, Func<ulong, IEnumerable<SampledFigure>> Figures, string? Allowed = null)
{
    /// <summary>What is known of the exact values.</summary>
    public string Provenance { get; init; } = Provenances.ClosedForm;

    /// <summary>True when a scenario is planned and simulated.</summary>
    public bool ThroughEngine { get; init; } = true;

    /// <summary>As an entry of the catalogue.</summary>
    public Check Entry => new(Id, Topic, What, Source, Provenance, CheckKind.Sampled, ThroughEngine, () => WithSeed(Seed));

    /// <summary>The same comparison with another seed.</summary>
    public CheckOutcome WithSeed(ulong seed)
    {
        SampledFigure[] figures = [.. Figures(seed)];
        bool errors = figures.All(f => f.StandardError > 0.0 && double.IsFinite(f.StandardError));
        bool agree = figures.Length > 0 && errors && figures.All(f => f.Agrees(f.Expected));
        SampledFigure[] planted = [.. figures.Where(f => f.Planted is not null)];
        bool caught = planted.Length > 0 && planted.All(f => !f.Agrees(f.Planted!.Value));
        string missed = caught ? "refused" : "NOT REFUSED" + string.Concat(planted.Where(f => f.Agrees(f.Planted!.Value)).Select(f => $" by {f.Name} ({Print(f.Planted!.Value)})"));
        return new CheckOutcome(
            string.Join("; ", figures.Select(f => $"{f.Name} {Print(f.Expected)}")),
            string.Join("; ", figures.Select(f => $"{f.Name} {Print(f.Found)} ± {Print(f.StandardError, 2)} ({f.Score.ToString("+0.0;-0.0", CultureInfo.InvariantCulture)})")),
            $"{FalsePositiveBudget.StandardErrors:0} standard errors, so that chance alone fails one figure in 370"
            + (Allowed is null ? string.Empty : $", and {Allowed}")
            + (errors ? string.Empty : " (A STANDARD ERROR IS MISSING)")
            + $"; planted error ({PlantedError}) {missed}",
            agree && caught,
            figures.Length > 0 ? figures.Max(f => f.SmallestDetectable) : null,
            figures.Length);
    }

    private static string Print(double x, int digits = 6) => x.ToString("G" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
