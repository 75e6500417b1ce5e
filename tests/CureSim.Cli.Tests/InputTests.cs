namespace CureSim.Cli.Tests;

/// <summary>What is wrong with what was given: all of it at once, one line each, on standard error, exit code 2.</summary>
public sealed class InputTests
{
    [Fact]
    public void Run_ScenarioWithTwoProblems_TellsBothWithTheirPlaces()
    {
        using var tool = new Tool();
        tool.Write("bad.yaml", """
            curesim: 1
            production: { rate: 240 /h }
            source: { kind: arc lamp, irradiance: ten W }
            exposure: { tme: 2 s, time: 2 s }
            window: { dose: { lower: 5 J/cm2 } }
            """);
        var result = tool.Run("run", "bad.yaml").Exits(2);
        Assert.Empty(result.Output);
        string[] lines = result.Error.TrimEnd('\n').Split('\n');
        Assert.Equal(2, lines.Length);
        Assert.StartsWith("bad.yaml:3:39: source.irradiance: found \"ten W\"", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("bad.yaml:4:13: exposure", lines[1], StringComparison.Ordinal);
        Assert.Contains("did you mean \"time\"?", lines[1], StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")), "nothing is written for a scenario that cannot be used");
    }

    [Theory]
    [InlineData("no such file", "run", "missing.yaml")]
    [InlineData("did you mean \"--seed\"?", "run", "scenarios/quick.yaml", "--sed", "3")]
    [InlineData("did you mean \"compare\"?", "compre", "a.yaml", "b.yaml")]
    [InlineData("SCENARIO of \"run\" is missing", "run")]
    [InlineData("one argument too many", "run", "scenarios/quick.yaml", "scenarios/quick.yaml")]
    [InlineData("--lifetimes: found \"0\"", "run", "scenarios/quick.yaml", "--lifetimes", "0")]
    [InlineData("--seed: found \"x\"", "run", "scenarios/quick.yaml", "--seed", "x")]
    [InlineData("--threads: found \"0\"", "run", "scenarios/quick.yaml", "--threads", "0")]
    [InlineData("--set nonsense", "run", "scenarios/quick.yaml", "--set", "nonsense")]
    [InlineData("did you mean \"interval\"?", "run", "scenarios/quick.yaml", "--set", "checks.intervall=1 week")]
    [InlineData("--require", "run", "scenarios/quick.yaml", "--require", "--set", "requalification.capability=none")]
    [InlineData("--lifetime is missing; the run has lifetimes 0 to 511", "trace", "scenarios/quick.yaml")]
    [InlineData("--lifetime: found \"512\"", "trace", "scenarios/quick.yaml", "--lifetime", "512")]
    [InlineData("KIND: found \"lamp\"", "new", "lamp")]
    public void Tool_BadInput_SaysWhatAndEndsWithTwo(string expected, params string[] arguments)
    {
        using var tool = new Tool();
        var result = tool.Run(arguments).Exits(2);
        Assert.Empty(result.Output);
        Assert.Contains(expected, result.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", result.Error, StringComparison.Ordinal);
        Assert.Single(result.Error.TrimEnd('\n').Split('\n'));
    }

    [Fact]
    public void Compare_TwoBadScenarios_TellsTheProblemsOfBoth()
    {
        using var tool = new Tool();
        var result = tool.Run("compare", "one.yaml", "two.yaml").Exits(2);
        Assert.Equal(["one.yaml", "two.yaml"], result.Error.TrimEnd('\n').Split('\n').Select(l => l.Split(':')[0]));
    }

    [Fact]
    public void Tool_NoArguments_ShowsHelpOnErrorAndEndsWithTwo()
    {
        using var tool = new Tool();
        var result = tool.Run().Exits(2);
        Assert.Empty(result.Output);
        Assert.Contains("Usage:", result.Error, StringComparison.Ordinal);
    }
}
