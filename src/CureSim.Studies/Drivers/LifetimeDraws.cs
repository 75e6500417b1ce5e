using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Random;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;

namespace CureSim.Studies.Drivers;

/// <summary>One number of a lifetime's own draws.</summary>
/// <param name="Input">The input it belongs to, as in the indices.</param>
/// <param name="Name">Which draw, at which place.</param>
public sealed record DrawColumn(string Input, string Name);

/// <summary>What the lifetimes of a run drew, found again from their addresses: no record need hold it.</summary>
/// <remarks>
/// The first draw of every input above part level at every place, and the second where its level comes again (the next emitter, guide, set-up, cleaning, lot, calibration); factors of a
/// world; the time of a disturbance's first arrival at a place. Draws of shifts, readings and parts are too many to be features: what they do is noise to the model.
/// </remarks>
public sealed class LifetimeDraws
{
    private LifetimeDraws(ImmutableArray<DrawColumn> columns, float[][] rows)
    {
        Columns = columns;
        Rows = rows;
    }

    /// <summary>Columns.</summary>
    public ImmutableArray<DrawColumn> Columns { get; }

    /// <summary>Values by lifetime (in the order of the records) and column.</summary>
    public IReadOnlyList<float[]> Rows { get; }

    /// <summary>Draws of the lifetimes of a plan.</summary>
    public static LifetimeDraws Of(RunPlan plan, ReadOnlySpan<LifetimeRecord> records)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var rows = new float[records.Length][];
        ImmutableArray<DrawColumn> columns = [];
        List<(DrawColumn Column, Func<uint, double> Value)> readers = [];
        int world = -1;
        for (int i = 0; i < records.Length; i++)
        {
            if (records[i].World != world)
            {
                world = records[i].World;
                readers = Readers(plan, plan.ModelOf(world));
                columns = [.. readers.Select(r => r.Column)];
            }

            uint lifetime = records[i].Lifetime;
            rows[i] = [.. readers.Select(r => (float)r.Value(lifetime))];
        }

        return new(columns, rows);
    }

    private static List<(DrawColumn, Func<uint, double>)> Readers(RunPlan plan, CellModel model)
    {
        var scenario = plan.Scenario;
        var readers = new List<(DrawColumn, Func<uint, double>)>();
        var places = plan.Streams.All.Where(s => s.Domain == DrawDomain.Cell).ToLookup(s => s.Path, s => s.Site);
        foreach (var q in ScenarioQuantities.Of(scenario).DistinctBy(q => q.Path))
        {
            if (q.IsVarying && q.Level is not (Level.Part or Level.Reading or Level.Shift or Level.World or Level.Arrival))
            {
                foreach (string suffix in (string[])["", ".x", ".y"])
                {
                    foreach (int place in places[q.Path + suffix].Distinct().Order())
                    {
                        var draw = new LevelDraw(q, model.Values, plan, [place], DrawDomain.Cell, suffix, model.Points);
                        string at = (suffix.Length > 0 ? " " + suffix[1..] : "") + (place >= 0 ? $", site {place + 1}" : "");
                        readers.Add((new(q.Path, "first" + at), lifetime => draw.At(lifetime, 0, 0)));
                        if (q.Level is not (Level.Cell or Level.Meter))
                        {
                            readers.Add((new(q.Path, "second" + at), lifetime => draw.At(lifetime, 0, 1)));
                        }
                    }
                }
            }

            if (q.Unknown is not null)
            {
                double factor = model.Values.Factor(q);
                readers.Add((new(DriverGroup.NameOfUnknown(q, scenario), "factor of " + q.Path), _ => factor));
            }
        }

        if (scenario.Source.Ageing.Length > 1)
        {
            double law = model.Values.AgeingForm;
            readers.Add((new("source.ageing (form unknown)", "law"), _ => law));
        }

        foreach (var d in scenario.Disturbances)
        {
            double rate = model.Values.Fixed(d.Rate), horizon = scenario.Production.HorizonSeconds;
            foreach (int place in places[d.Path + ".gap"].Distinct().Order())
            {
                var stream = StreamKey.Of(DrawDomain.Cell, d.Path + ".gap", place);
                readers.Add((new(d.Path, "first arrival" + (place >= 0 ? $", site {place + 1}" : "")),
                    lifetime => rate > 0.0 ? Math.Min(horizon, -Math.Log(model.Points.Uniform(lifetime, stream, 0)) / rate) / 3600.0 : horizon / 3600.0));
            }
        }

        return readers;
    }
}
