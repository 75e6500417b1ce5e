using CureSim.Engine.Plan;
using CureSim.Scenarios;

namespace CureSim.StatisticalTests.Fit;

/// <summary>Unknowns with a correlation are drawn so, each with its own law.</summary>
public class CorrelatedWorldsTests
{
    private const int Worlds = 4000;

    [Fact]
    public void Scores_HaveTheCoefficient_AndEachItsLaw()
    {
        string[] sets =
        [
            "source.ageing=", "source.ageing={ stretched: { time: { unknown: { estimate: 5000 h, se: 5 %, correlation: { source.ageing.stretched.shape: -0.7 } } }, shape: { unknown: { estimate: 0.6, se: 0.03 } } } }",
            "run.worlds=2",
        ];
        var read = ScenarioReader.Read(LogCoverageStudy.Scenario("emitter-log.yaml"), sets);
        Assert.Empty(read.Problems);
        var law = (Core.Cell.StretchedAgeing)read.Cell!.Source.Ageing[0].Law;
        var plan = new RunPlan(read.Cell with { Run = read.Cell.Run with { Seed = 20272 } });
        double[] x = new double[Worlds], y = new double[Worlds];
        for (int w = 0; w < Worlds; w++)
        {
            var values = new WorldValues(plan, w);
            x[w] = Math.Log(values.Factor(law.TimeConstant) / (5000.0 * 3600.0)) / 0.05;
            y[w] = (values.Factor(law.Shape) - 0.6) / 0.03;
        }

        // Standard errors of 4000 normal pairs: mean 1/√n, sd 1/√(2n), r (1 − r²)/√n; three of each.
        double root = Math.Sqrt(Worlds);
        foreach (double[] z in new[] { x, y })
        {
            Assert.InRange(z.Average(), -3.0 / root, 3.0 / root);
            Assert.InRange(Math.Sqrt(z.Average(v => v * v)), 1.0 - (3.0 / Math.Sqrt(2.0 * Worlds)), 1.0 + (3.0 / Math.Sqrt(2.0 * Worlds)));
        }

        double r = x.Zip(y, (a, b) => a * b).Average();
        Assert.InRange(r, -0.7 - (3.0 * 0.51 / root), -0.7 + (3.0 * 0.51 / root));
    }

    [Fact]
    public void WithoutACorrelation_DrawsAreWhatTheyWere()
    {
        // The same unknown with and without a tie to another: the first in order keeps its own uniform.
        string Law(string tie) => $"source.ageing={{ stretched: {{ time: {{ unknown: {{ estimate: 5000 h, se: 5 % }} }}, shape: {{ unknown: {{ estimate: 0.6, se: 0.03{tie} }} }} }} }}";
        double Shape(string tie)
        {
            var cell = ScenarioReader.Read(LogCoverageStudy.Scenario("emitter-log.yaml"), ["source.ageing=", Law(tie), "run.worlds=2"]).Cell!;
            return new WorldValues(new RunPlan(cell with { Run = cell.Run with { Seed = 5 } }), 3).Factor(((Core.Cell.StretchedAgeing)cell.Source.Ageing[0].Law).Shape);
        }

        // Not bit for bit: with a tie the score goes through the normal law and back.
        Assert.Equal(Shape(""), Shape(", correlation: { source.ageing.stretched.time: 0.5 }"), 1e-12);
    }
}
