using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Reports.Runs;
using CureSim.Scenarios;
using CureSim.Tests.Scenarios;

namespace CureSim.Tests.Engine;

/// <summary>Which sampling a run takes, and what its files say of it.</summary>
public class SamplingRuleTests
{
    [Theory]
    [InlineData(Sampling.Auto, 511, false)]
    [InlineData(Sampling.Auto, 512, true)]
    [InlineData(Sampling.Auto, 1_000_000, true)]
    [InlineData(Sampling.Independent, 1_000_000, false)]
    [InlineData(Sampling.Stratified, 127, false)]
    [InlineData(Sampling.Stratified, 128, true)]
    public void Run_IsStratified_ByItsWordAndItsSize(Sampling sampling, int lifetimes, bool stratified)
    {
        var run = new RunSettings(1, lifetimes, 1, 1) { Sampling = sampling };
        Assert.Equal(stratified, SamplingRule.IsStratified(run));
        Assert.Equal(stratified ? "stratified" : "independent", SamplingText.Of(run));
    }

    [Theory]
    [InlineData("auto", Sampling.Auto)]
    [InlineData("independent", Sampling.Independent)]
    [InlineData("stratified", Sampling.Stratified)]
    public void Word_OfTheScenario_Arrives(string word, Sampling sampling)
    {
        var reading = ScenarioReader.Read(Path.Combine(ScenarioFiles.Data, "every-key.yaml"), [$"run.sampling={word}"]);
        Assert.Equal(sampling, reading.Cell!.Run.Sampling);
    }
}
