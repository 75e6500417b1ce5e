using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Statistics.Sensitivity;
using CureSim.Engine.Plan;
using CureSim.Studies.Drivers;

namespace CureSim.Studies.Runs;

/// <summary>An input that differs from world to world.</summary>
/// <param name="Name">Its name, as in the indices: unknowns whose errors go together are one input.</param>
/// <param name="Paths">Paths in the scenario; empty for the form of the ageing law.</param>
public sealed record UnknownInput(string Name, ImmutableArray<string> Paths);

/// <summary>Which part of the variance between worlds of one figure each unknown input makes.</summary>
/// <remarks>
/// On the scale of the band: logarithms where the band is formed in logarithms, the noise inside the worlds taken off. Unknown inputs enter by the standard normal score of their draw,
/// so an effect of any size that grows evenly in it is found whole; its square enters where there are worlds enough. Estimator: <see cref="WorldShares"/>.
/// </remarks>
public sealed class BandShares
{
    private readonly WorldShares? shares;

    private BandShares(Measure figure, ImmutableArray<UnknownInput> inputs, WorldShares? shares, string? withheld)
    {
        Figure = figure;
        Inputs = inputs;
        this.shares = shares;
        Withheld = withheld;
    }

    /// <summary>The figure.</summary>
    public Measure Figure { get; }

    /// <summary>Unknown inputs.</summary>
    public ImmutableArray<UnknownInput> Inputs { get; }

    /// <summary>Why the shares are not told; null when they are.</summary>
    public string? Withheld { get; }

    /// <summary>How well the inputs, each alone, tell the worlds' answers: R² adjusted for their number; null when withheld.</summary>
    public double? AdjustedRSquared => shares?.AdjustedRSquared;

    /// <summary>Share of each input.</summary>
    public IEnumerable<(UnknownInput Input, Estimate Share)> Shares => Inputs.Select((input, i) => (input, shares?.Share(i) ?? Estimate.Withhold(Withheld!)));

    /// <summary>Share that no single input makes: what acts together, and what bends.</summary>
    public Estimate Rest => shares?.Rest ?? Estimate.Withhold(Withheld!);

    /// <summary>Share that does not come from inputs of a kind alone: 1 less what these make, each alone. What several make together counts here, as it may hang on the others.</summary>
    /// <param name="isOfKind">True for the inputs whose own share is taken off.</param>
    public Estimate NotFrom(Func<UnknownInput, bool> isOfKind)
    {
        int[] own = [.. Enumerable.Range(0, Inputs.Length).Where(i => isOfKind(Inputs[i]))];
        return shares?.Share(own) is not { Value: { } v, Lower95: { } l, Upper95: { } u } share ? Estimate.Withhold(Withheld!) : Estimate.Bounded(1.0 - v, share.StandardError, 1.0 - u, 1.0 - l, share.Count);
    }

    /// <summary>The shares of the figures that are asked for first.</summary>
    internal static ImmutableArray<BandShares> Of(RunAnalysis run)
    {
        var plan = run.Result.Plan;
        var inputs = InputsOf(plan.Scenario);
        if (!run.Result.UnitsAreWorlds || inputs.IsEmpty)
        {
            return [];
        }

        WorldValues[] worlds = [.. Enumerable.Range(0, run.Result.Units.Length).Select(w => new WorldValues(plan, w))];
        var quantities = ScenarioQuantities.Of(plan.Scenario).DistinctBy(q => q.Path).ToDictionary(q => q.Path);
        double total = plan.Scenario.Source.Ageing.Sum(a => a.Weight);
        double[][][] Columns(bool curved) =>
        [
            .. inputs.Select(input => input.Paths.IsEmpty
                ? WorldShares.Columns([.. worlds.Select(w => w.AgeingForm)], [.. plan.Scenario.Source.Ageing.Select(a => a.Weight / total)])
                : [.. input.Paths.SelectMany(p => WorldShares.Columns([.. worlds.Select(w => w.Score(quantities[p]))], curved))]),
        ];
        var columns = Columns(false);
        if (worlds.Length >= WorldShares.WorldsForCurvature * columns.Sum(c => c.Length))
        {
            columns = Columns(true);
        }

        BandShares One(Measure figure)
        {
            string? why;
            WorldShares? found = run.WorldAnswers(figure.Id, out why) is var (values, noise) ? WorldShares.Of(values, noise, columns, plan.Seed, out why) : null;
            return new(figure, inputs, found, why);
        }

        return [.. Headlines(run).Select(One)];
    }

    // The figure of the requirement, capability of the worst response, bad parts, time to requalify.
    private static IEnumerable<Measure> Headlines(RunAnalysis run)
    {
        string index = run.Find("state_index_before_check_p05") is null ? "state_index_end_p05" : "state_index_before_check_p05";
        string time = run.Find("requalify_median_hours")?.Estimate.Value is null ? "requalify_restricted_mean_hours" : "requalify_median_hours";
        string? worst = run.Figures.Where(f => f.Measure.Id.EndsWith("_ppk", StringComparison.Ordinal) && f.Estimate.Value is not null).MinBy(f => f.Estimate.Value)?.Measure.Id;
        string?[] ids = [index, worst, worst?.Replace("_ppk", "_cpk", StringComparison.Ordinal), "parts_nonconforming_conditional_ppm", time];
        return ids.OfType<string>().Select(run.Find).OfType<KeyFigure>().Select(f => f.Measure);
    }

    private static ImmutableArray<UnknownInput> InputsOf(Scenario scenario)
    {
        var groups = ScenarioQuantities.Of(scenario).DistinctBy(q => q.Path).Where(q => q.Unknown is not null)
            .GroupBy(q => DriverGroup.NameOfUnknown(q, scenario)).Select(g => new UnknownInput(g.Key, [.. g.Select(q => q.Path)]));
        return [.. groups, .. scenario.Source.Ageing.Length > 1 ? [new UnknownInput("source.ageing (form unknown)", [])] : Array.Empty<UnknownInput>()];
    }
}
