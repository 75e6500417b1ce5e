using CureSim.Core.Cell;
using CureSim.Core.Summaries;

namespace CureSim.Engine.Runs;

/// <summary>
/// The lifetimes of a run year by year, kept only when it is asked for. Lifetimes write into places of their own, so threads need no lock and the bytes do not depend on them.
/// </summary>
/// <remarks>Memory: <see cref="BytesPerLine"/> for each lifetime and year; 2000 lifetimes of 10 years take 1.3 MB.</remarks>
public sealed class YearLedger
{
    /// <summary>Size of one line.</summary>
    public const int BytesPerLine = 64;

    /// <summary>Most lines that are kept: 128 MB.</summary>
    public const long MostLines = 2_000_000;

    private readonly YearLine[] lines;
    private readonly int perWorld;
    private readonly int[] endSteps;

    /// <summary>Makes room for a scenario's lifetimes.</summary>
    /// <exception cref="ArgumentException">The horizon is no whole number of years, or there would be more than <see cref="MostLines"/> lines.</exception>
    public YearLedger(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        if (WholeYears(scenario.Production) is not { } years)
        {
            throw new ArgumentException("the horizon is no whole number of years", nameof(scenario));
        }

        Years = years;
        perWorld = scenario.Run.LifetimesPerWorld;
        long count = (long)scenario.Run.Worlds * perWorld * years;
        if (count > MostLines)
        {
            throw new ArgumentException($"a ledger of {count} lines; at most {MostLines} are kept", nameof(scenario));
        }

        lines = new YearLine[count];
        double steps = scenario.Production.YearSeconds / scenario.Production.StepSeconds;
        endSteps = [.. Enumerable.Range(1, years).Select(y => (int)Math.Round(y * steps))];
    }

    /// <summary>Years of the horizon.</summary>
    public int Years { get; }

    /// <summary>Lifetimes.</summary>
    public int Lifetimes => lines.Length / Years;

    /// <summary>Years of a horizon; null when they are not whole (to half a step).</summary>
    public static int? WholeYears(Production production)
    {
        ArgumentNullException.ThrowIfNull(production);
        double years = production.HorizonSeconds / production.YearSeconds;
        int whole = (int)Math.Round(years);
        return whole >= 1 && Math.Abs(years - whole) * production.YearSeconds <= 0.5 * production.StepSeconds ? whole : null;
    }

    /// <summary>Running totals of a lifetime at the ends of its years; the place is that of its record.</summary>
    public ReadOnlySpan<YearLine> Of(int lifetime) => lines.AsSpan(lifetime * Years, Years);

    /// <summary>The year that ends with a step; −1 when none does.</summary>
    internal int YearAt(int step) => Array.BinarySearch(endSteps, step + 1) is var at && at >= 0 ? at : -1;

    internal ref YearLine At(int world, uint lifetime, int year) => ref lines[(((world * perWorld) + (int)lifetime) * Years) + year];
}
