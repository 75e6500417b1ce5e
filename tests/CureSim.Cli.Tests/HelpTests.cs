using System.Collections.Immutable;

namespace CureSim.Cli.Tests;

/// <summary>The table of commands and the help that is written from it.</summary>
public sealed class HelpTests
{
    public static TheoryData<string> Names => [.. CommandList.All.Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Help_EachCommand_HasTwoExamplesThatFitItsOptions(string name)
    {
        var command = CommandList.All.Single(c => c.Name == name);
        Assert.Equal(2, command.Examples.Length);
        using var tool = new Tool();
        string help = tool.Run(name, "--help").Exits(0).Output;
        foreach (var example in command.Examples)
        {
            Assert.StartsWith($"curesim {name}", example.Line, StringComparison.Ordinal);
            Assert.Contains(example.Line, help, StringComparison.Ordinal);
            Assert.All(example.Line.Split(' ').Where(w => w.StartsWith("--", StringComparison.Ordinal)), w => Assert.Contains(w, command.Options.Select(o => o.Name)));
            Assert.All(example.Line.Split(' ').Where(w => w.StartsWith("scenarios/", StringComparison.Ordinal)), w => Assert.True(File.Exists(tool.At(w.Split('/'))), w));
        }

        Assert.All(command.Options, o => Assert.Contains(o.Name, help, StringComparison.Ordinal));
        Assert.All(help.Split('\n').Where(l => !l.Contains("curesim ", StringComparison.Ordinal)), line => Assert.True(line.Length <= 110, line));
    }

    [Fact]
    public void Help_Main_NamesAllCommandsExitCodesAndTheCaution()
    {
        using var tool = new Tool();
        string help = tool.Run("--help").Exits(0).Output;
        Assert.All(CommandList.All, c => Assert.Contains($"  {c.Name} ", help, StringComparison.Ordinal));
        Assert.Contains("UV light injures eyes and skin; lamps are hot, pressurised and contain mercury", help, StringComparison.Ordinal);
        Assert.All(new[] { "  0 ", "  1 ", "  2 ", "  3 ", "  70 ", "  130 " }, code => Assert.Contains(code, help, StringComparison.Ordinal));
        Assert.Matches(@"^0\.\d+\.\d+", tool.Run("--version").Exits(0).Output);
    }

    [Theory]
    [InlineData("sed", "seed", "set", "seed")]
    [InlineData("tresads", "threads", "trace", "threads")]
    [InlineData("xyz", "run", "show", null)]
    public void NearestName_Slip_IsFoundOrNotGuessed(string given, string first, string second, string? expected)
    {
        string? found = NearestName.Of(given, [second, first]);
        Assert.Equal(expected, found);
    }

    [Theory]
    [InlineData(false, null, "xterm", true)]
    [InlineData(false, "", "xterm", true)]
    [InlineData(false, "1", "xterm", false)]
    [InlineData(true, null, "xterm", false)]
    [InlineData(false, null, "dumb", false)]
    public void Colour_OnlyOnATerminalThatAllowsIt(bool redirected, string? noColour, string term, bool expected) =>
        Assert.Equal(expected, Terminal.WantsColour(redirected, noColour, term));

    [Fact]
    public void WrappedText_LongText_KeepsWithinTheWidth()
    {
        string text = WrappedText.Of("one two three\u00A0four five", 4, 12);
        Assert.Equal("one two\n    three\u00A0four\n    five", text);
    }
}
