using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Scenarios;
using CureSim.Studies.Fit;

namespace CureSim.StatisticalTests.Fit;

/// <summary>One parameter over many logs.</summary>
/// <param name="Form">Form that made the logs.</param>
/// <param name="Parameter">Its parameter.</param>
/// <param name="What">median or spread.</param>
/// <param name="Truth">True natural logarithm of the median, or standard deviation of it.</param>
/// <param name="Held">Logs whose 95 % interval held it.</param>
/// <param name="Low">Intervals wholly below it.</param>
/// <param name="High">Intervals wholly above it.</param>
/// <param name="Logs">Logs of which an interval was printed.</param>
/// <param name="HeldWhenHalved">Logs whose interval of half the length held it.</param>
internal sealed record LogCoverageRow(string Form, string Parameter, string What, double Truth, int Held, int Low, int High, int Logs, int HeldWhenHalved);

/// <summary>Logs that CureSim makes of lifetimes whose truth is known, fitted again.</summary>
internal static class LogCoverageStudy
{
    /// <summary>Logs of each form in the committed table.</summary>
    public const int Logs = 200;

    public static readonly (string Form, string Law, double[] Medians, double[] Spreads)[] Cases =
    [
        ("exponential", "{ exponential: { time: { lognormal: { median: 4000 h, gsd: 1.15 } } } }", [4000.0], [Math.Log(1.15)]),
        ("stretched", "{ stretched: { time: { lognormal: { median: 5200 h, gsd: 1.15 } }, shape: { lognormal: { median: 0.65, gsd: 1.06 } } } }", [5200.0, 0.65], [Math.Log(1.15), Math.Log(1.06)]),
        ("two_stage", "{ two_stage: { early_part: { lognormal: { median: 15 %, gsd: 1.15 }, at_most: 100 % }, early_time: { lognormal: { median: 180 h, gsd: 1.2 } }, late_time: { lognormal: { median: 5200 h, gsd: 1.12 } } } }",
            [0.15, 180.0, 5200.0], [Math.Log(1.15), Math.Log(1.2), Math.Log(1.12)]),
    ];

    /// <summary>Fits the first logs of a form.</summary>
    /// <param name="form">Its name.</param>
    /// <param name="logs">How many.</param>
    public static (LogCoverageRow[] Rows, int Chosen, int Alone) Of(string form, int logs)
    {
        var (_, law, medians, spreads) = Cases.Single(c => c.Form == form);
        var cell = ScenarioReader.Read(Scenario("emitter-log.yaml"), ["source.ageing=", $"source.ageing={law}", "run.lifetimes=512"]).Cell!;
        var plan = new RunPlan(cell with { Run = cell.Run with { PartsAStep = 1 } });
        var fits = new LogFit[logs];
        Parallel.For(0, logs, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i => fits[i] = LogFit.Of(InventedLog.Of(plan, 0, (uint)i, 2), new FitSettings()));
        var rows = new List<LogCoverageRow>();
        FormFit[] own = [.. fits.Select(f => f.Forms.Single(x => x.Form.Name == form)).Where(f => f.Withheld is null)];
        for (int j = 0; j < medians.Length; j++)
        {
            int k = j;
            string name = own[0].Form.Parameters[j].Key;
            rows.Add(Row(form, name, "median", Math.Log(medians[j]), own.Select(f => f.Parameters[k].Mean)));
            rows.Add(Row(form, name, "spread", spreads[j], own.Select(f => f.Parameters[k].Spread)));
        }

        return ([.. rows], fits.Count(f => f.Chosen.Any(c => c.Form.Name == form)), fits.Count(f => f.Chosen.Length == 1 && f.Chosen[0].Form.Name == form));
    }

    /// <summary>Path of a shipped scenario.</summary>
    public static string Scenario(string file) => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "..", "..", "..", "scenarios", file));

    private static string Here([System.Runtime.CompilerServices.CallerFilePath] string path = "") => path;

    private static LogCoverageRow Row(string form, string parameter, string what, double truth, IEnumerable<Estimate> estimates)
    {
        Estimate[] all = [.. estimates.Where(e => e.Lower95 is not null && e.Upper95 is not null)];
        bool Half(Estimate e) => truth >= e.Value - (0.5 * (e.Value - e.Lower95)) && truth <= e.Value + (0.5 * (e.Upper95 - e.Value));
        return new(form, parameter, what, truth, all.Count(e => truth >= e.Lower95 && truth <= e.Upper95), all.Count(e => e.Upper95 < truth), all.Count(e => e.Lower95 > truth), all.Length, all.Count(Half));
    }
}
