using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Compare;

/// <summary>One key figure of two scenarios and the difference between them.</summary>
/// <param name="Measure">What it is.</param>
/// <param name="A">In the first scenario; null when it does not have it.</param>
/// <param name="B">In the second; null when it does not have it.</param>
/// <param name="Difference">B − A with its paired interval, or why it is withheld.</param>
/// <param name="WorldsAbove">Worlds in which B is above A; null with one world, or when some world cannot give the figure.</param>
public sealed record PairedFigure(Measure Measure, KeyFigure? A, KeyFigure? B, Estimate Difference, int? WorldsAbove);

/// <summary>Two runs over the same lifetimes: what both scenarios share is drawn alike in both, so that a difference is known better than either figure.</summary>
/// <remarks>
/// Common random numbers: a draw depends on seed, world, lifetime, the quantity's path and the number of its event, never on the rest of the scenario.
/// Source: A. M. Law, Simulation Modeling and Analysis, 5th ed. (2015), section 11.2. Differences are formed lifetime by lifetime, batch by batch or world
/// by world, and their scatter gives the interval; nothing is assumed about how strongly the two scenarios go together.
/// </remarks>
public sealed class PairedComparison
{
    private PairedComparison(RunAnalysis a, RunAnalysis b, ImmutableArray<PairedFigure> figures)
    {
        A = a;
        B = b;
        Figures = figures;
    }

    /// <summary>The first run.</summary>
    public RunAnalysis A { get; }

    /// <summary>The second run.</summary>
    public RunAnalysis B { get; }

    /// <summary>Figures in printing order; those that only B has come last.</summary>
    public ImmutableArray<PairedFigure> Figures { get; }

    /// <summary>A figure by its name; null when neither run has it.</summary>
    public PairedFigure? Find(string id) => Figures.FirstOrDefault(f => f.Measure.Id == id);

    /// <summary>Run settings under which two scenarios can be paired: those of the one with more worlds, of the first when they have as many.</summary>
    public static RunSettings SharedSettings(RunSettings a, RunSettings b) => b.Worlds > a.Worlds ? b : a;

    /// <summary>Compares two runs that were made with the same settings.</summary>
    /// <exception cref="ArgumentException">Worlds, lifetimes, seed or sampling differ.</exception>
    public static PairedComparison Of(RunAnalysis a, RunAnalysis b)
    {
        ArgumentNullException.ThrowIfNull(a);
        ArgumentNullException.ThrowIfNull(b);
        RunSettings ra = a.Scenario.Run, rb = b.Scenario.Run;
        if (ra.Worlds != rb.Worlds || ra.LifetimesPerWorld != rb.LifetimesPerWorld || ra.Seed != rb.Seed
            || a.Result.Plan.IsStratified != b.Result.Plan.IsStratified)
        {
            throw new ArgumentException("two runs are paired only when they have the same worlds, lifetimes, seed and sampling", nameof(b));
        }

        var pairs = new PairedUnits(a, b);
        var figures = ImmutableArray.CreateBuilder<PairedFigure>();
        foreach (var figure in a.Figures)
        {
            figures.Add(Pair(figure, b.Find(figure.Measure.Id), pairs));
        }

        foreach (var figure in b.Figures.Where(f => a.Find(f.Measure.Id) is null))
        {
            figures.Add(new(figure.Measure, null, figure, Estimate.Withhold("only the second scenario has this figure"), null));
        }

        return new(a, b, figures.ToImmutable());
    }

    private static PairedFigure Pair(KeyFigure a, KeyFigure? b, PairedUnits pairs)
    {
        if (b is null)
        {
            return new(a.Measure, a, null, Estimate.Withhold("only the first scenario has this figure"), null);
        }

        if ((a.Estimate.Withheld ?? b.Estimate.Withheld) is { } reason)
        {
            string which = a.Estimate.Withheld is null ? "second" : "first";
            return new(a.Measure, a, b, Estimate.Withhold($"withheld in the {which} scenario: {reason}"), null);
        }

        double difference = b.Estimate.Get() - a.Estimate.Get();
        return new(a.Measure, a, b, PairedEstimator.Difference(a.Measure, b.Measure, difference, pairs), pairs.WorldsAbove(a.Measure, b.Measure));
    }
}
