using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Engine.State;

namespace CureSim.Checks.States;

/// <summary>Where one site stands in a state.</summary>
/// <param name="LogIrradiance">ln nominal irradiance, ln W/m².</param>
/// <param name="DistanceMetres">Nominal, set-up and shifts, with the mean deviation of parts.</param>
/// <param name="OffsetMetres">Aim offset of set-up and shifts.</param>
/// <param name="AbsorptionPerMetre">α of the substrate lot.</param>
internal readonly record struct SiteAt(double LogIrradiance, double DistanceMetres = 0.0, double OffsetMetres = 0.0, double AbsorptionPerMetre = 0.0);

/// <summary>p(state) of chosen states by the judge that a run of the scenario would use.</summary>
internal sealed class JudgedCell(Scenario scenario)
{
    private readonly StateJudge judge = new RunPlan(scenario).FirstWorld.Judge;

    /// <summary>p of a part.</summary>
    public double Part(double logRate, params SiteAt[] sites)
    {
        var table = judge.Table;
        double[] rows = table.IsSingleRow ? new double[OwnFactorTable.Points] : new double[sites.Length * OwnFactorTable.Points];
        for (int i = 0; table.Spread > 0.0 && i < rows.Length / OwnFactorTable.Points; i++)
        {
            table.Slice(sites[i].DistanceMetres, sites[i].OffsetMetres, sites[i].AbsorptionPerMetre, rows.AsSpan(i * OwnFactorTable.Points, OwnFactorTable.Points));
        }

        return judge.Probability([.. sites.Select(s => s.LogIrradiance)], rows, logRate, 0.0).Part;
    }

    /// <summary>p of a part where the cure rate of the lot does not enter.</summary>
    public double Part(params SiteAt[] sites) => Part(0.0, sites);
}
