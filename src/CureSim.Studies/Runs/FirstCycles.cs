using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Runs;

/// <summary>First cycles from commissioning to the first requalify event; never qualified cells stand apart and are left out.</summary>
public static class FirstCycles
{
    /// <summary>Kaplan–Meier curve of the time to requalify, s; censored at the horizon.</summary>
    public static SurvivalCurve Survival(RunPiece piece)
    {
        var (times, causes) = Data(piece);
        return KaplanMeier.Fit(times, [.. causes.Select(c => c > 0)]);
    }

    /// <summary>Cumulative incidence of each cause (Aalen–Johansen); cause number = position of the event + 1.</summary>
    public static CumulativeIncidence Incidence(RunPiece piece)
    {
        var (times, causes) = Data(piece);
        return CumulativeIncidence.Fit(times, causes, Enum.GetValues<RequalifyEvent>().Length);
    }

    /// <summary>Times at which more than 5 % of the qualified cells requalify at once (planned replacement), with their share.</summary>
    public static IReadOnlyList<(double Seconds, double Share, RequalifyEvent Cause)> Atoms(RunPiece piece)
    {
        var (times, causes) = Data(piece);
        if (times.Length == 0)
        {
            return [];
        }

        return [.. times.Zip(causes).Where(x => x.Second > 0).GroupBy(x => x)
            .Where(g => g.Count() > 0.05 * times.Length)
            .Select(g => (g.Key.First, (double)g.Count() / times.Length, (RequalifyEvent)(g.Key.Second - 1)))
            .OrderBy(a => a.Item1)];
    }

    private static (double[] Times, int[] Causes) Data(RunPiece piece)
    {
        double horizon = piece.Plan.Scenario.Production.HorizonSeconds;
        var times = new List<double>(piece.Records.Length);
        var causes = new List<int>(piece.Records.Length);
        foreach (ref readonly var record in piece.Records.Span)
        {
            if (record.NeverQualified)
            {
                continue;
            }

            bool happened = !double.IsNaN(record.RequalifySeconds);
            times.Add(happened ? record.RequalifySeconds : horizon);
            causes.Add(happened ? (int)record.RequalifyCause + 1 : 0);
        }

        return ([.. times], [.. causes]);
    }
}
