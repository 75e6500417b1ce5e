using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;
using CureSim.Engine.State;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.ClosedForms;

/// <summary>States judged eight at a time, and the rule that integrates the cure rate of a bond within its lot.</summary>
public class BatchOfStatesTests
{
    private const double E0 = 1e4;

    private static Uncertain Log(double sd) => sd > 0 ? Varying(new NormalDistribution(0, sd)) : 0.0;

    private static ScenarioBuilder CureAndDose(double ratePart, double ownSpread, double doseMargin) => new ScenarioBuilder()
        .Limit(Response.Dose, E0 * Math.Exp(-doseMargin)).Limit(Response.DegreeOfCure, 0.8).Cure(1, -Math.Log(0.2), 0.6, ratePart: Log(ratePart)).Ripple(Log(ownSpread));

    /// <summary>P(own &lt; T or own + κ/p &lt; q) by the trapezoidal rule over κ; own and κ normal.</summary>
    private static double Direct(double logE, double ratePart, double ownSpread, double doseMargin)
    {
        const double Step = 1e-3;
        double sum = 0.0;
        for (double s = -9.0; s <= 9.0; s += Step)
        {
            // The degree of cure is 0.8 where E = 1 W/cm² at the median rate, and the limit on dose lies the margin below 1 J/cm².
            double limit = Math.Max(-doseMargin, -s * ratePart / 0.6);
            sum += Math.Exp(-0.5 * s * s) * BlockMath.NormalCdf((limit - logE) / ownSpread);
        }

        return sum * Step / Math.Sqrt(2.0 * Math.PI);
    }

    [Theory]
    // Slope of the integrand's score in that of the rate: (rate / exponent) / own spread, through all the rules.
    [InlineData(0.003, 0.05)]
    [InlineData(0.02, 0.05)]
    [InlineData(0.0295, 0.05)]
    [InlineData(0.0305, 0.05)]
    [InlineData(0.045, 0.05)]
    [InlineData(0.05, 0.05)]
    [InlineData(0.15, 0.05)]
    [InlineData(0.2, 0.01)]
    public void RateWithinALot_IsIntegratedAsDirectly(double ratePart, double ownSpread)
    {
        double spread = Math.Sqrt(Math.Pow(ratePart / 0.6, 2) + (ownSpread * ownSpread));
        foreach (double doseMargin in (double[])[0.0, 0.5 * spread, 3 * spread, 100])
        {
            var judge = new RunPlan(CureAndDose(ratePart, ownSpread, doseMargin).Build()).FirstWorld.Judge;
            double[] row = new double[OwnFactorTable.Points];
            judge.Table.Slice(0, 0, 0, row);
            foreach (double z in (double[])[-1, 0.5, 2, 4, 5])
            {
                double logE = z * spread, expected = Direct(logE, ratePart, ownSpread, doseMargin);
                double found = judge.Probability([logE + Math.Log(E0)], row, Math.Log(-Math.Log(0.2)), 0.0).Part;
                // The rule 10⁻⁵; the row's own grid and interpolation allow a part in ten thousand.
                Assert.True(Math.Abs((found / expected) - 1) < 2e-4, $"{ratePart} beside {ownSpread}, {doseMargin}, {z}: {found:G8} is not {expected:G8}");
            }
        }
    }

    [Fact]
    public void RateWithinALot_OfAnotherSpread_IsFoundOut()
    {
        // The planted error: a rate that varies 0.5 % more.
        Assert.True(Math.Abs((Direct(0.2, 0.0301, 0.05, 0.3) / Direct(0.2, 0.03, 0.05, 0.3)) - 1) > 2e-4);
    }

    [Theory]
    [InlineData(0.0, 0)]
    [InlineData(0.02, 0)]
    [InlineData(0.04, 0)]
    [InlineData(0.12, 0)]
    [InlineData(0.04, 600)]
    [InlineData(0.0, 600)]
    public void EightAtOnce_AreTheSameBitsAsOneByOne(double ratePart, double induction)
    {
        var scenario = CureAndDose(ratePart, 0.02, 0.05).Cure(1, -Math.Log(0.2), 0.6, ratePart: Log(ratePart), induction: induction).Limit(Response.Irradiance, 0.8 * E0, 2 * E0).Sites(2).Exposure(1, error: Log(0.02))
            .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), setup: Log(2e-4), part: Log(4e-4)).Build();
        var judge = new RunPlan(scenario).FirstWorld.Judge;
        var batch = new JudgeBatch(24, 2);
        for (int k = 0; k < 21; k++)
        {
            var rows = new double[2 * OwnFactorTable.Points];
            for (int i = 0; i < 2; i++)
            {
                judge.Table.Slice(0.01 + (1e-4 * Math.Sin(k + i)), 0, 0, rows.AsSpan(i * OwnFactorTable.Points, OwnFactorTable.Points));
                batch.LogE[i][k] = Math.Log(E0) + (0.4 * Math.Sin((3 * k) + i));
            }

            batch.Rows[k] = rows;
            batch.LogRate[k] = Math.Log(1.6) + (0.1 * Math.Cos(k));
            batch.LimitShift[k] = 0.01 * Math.Sin(5 * k);
        }

        batch.Count = 21;
        judge.Probabilities(batch);
        for (int k = 0; k < batch.Count; k++)
        {
            var (part, bond) = judge.Probability([batch.LogE[0][k], batch.LogE[1][k]], batch.Rows[k], batch.LogRate[k], batch.LimitShift[k]);
            Assert.Equal((part, bond), (batch.Part[k], batch.Bond[k]));
            Assert.InRange(part, 0.0, 1.0);
        }

        Assert.True(batch.Part.AsSpan(0, 21).ToArray().Distinct().Count() > 10);
    }
}
