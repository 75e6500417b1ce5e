using CureSim.Reports.Tables;

namespace CureSim.Reports.Runs;

/// <summary>The tables of a run; units stand in the headers.</summary>
public static class RunTables
{
    /// <summary>All tables, made one after the other as they are asked for.</summary>
    public static IEnumerable<Table> Of(RunFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        yield return FigureTables.KeyFigures(findings);
        yield return FigureTables.Nonconforming(findings);
        yield return FigureTables.Capability(findings);
        yield return FigureTables.BySite(findings);
        yield return TimeTables.OverTime(findings);
        foreach (var response in findings.Responses.Skip(1))
        {
            yield return TimeTables.OverTime(findings, response);
        }

        yield return TimeTables.Events(findings);
        if (findings.HasRequalification)
        {
            yield return StateTables.Survival(findings);
            yield return StateTables.Causes(findings);
        }

        yield return StateTables.StateIndex(findings);
        yield return StateTables.LevelShares(findings);
        yield return ListTables.LightBudget(findings.Context);
        yield return ListTables.Inputs(findings.Context);
        yield return ListTables.Lifetimes(findings);
        foreach (var response in findings.Responses)
        {
            yield return ListTables.Histogram(findings, response);
        }
    }
}
