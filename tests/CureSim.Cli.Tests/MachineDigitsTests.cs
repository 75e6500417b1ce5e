using System.Text.Json.Nodes;
using CureSim.Reports.Runs;

namespace CureSim.Cli.Tests;

/// <summary>Rounding of machine files.</summary>
public sealed class MachineDigitsTests
{
    [Theory]
    [InlineData(1.23456789012345, 1.234567890)]
    [InlineData(-98765.43210987654, -98765.43211)]
    [InlineData(1e-300, 1e-300)]
    [InlineData(0.1, 0.1)]
    [InlineData(0.0, 0.0)]
    [InlineData(9.99999999999, 10.0)]
    public void Round_KeepsTenSignificantDigits(double value, double expected) => Assert.Equal(expected, MachineDigits.Round(value));

    [Fact]
    public void Apply_RoundsRealNumbersAndLeavesWholeOnes()
    {
        var tree = new JsonObject { ["seed"] = JsonValue.Create(ulong.MaxValue), ["count"] = 12345678901234L, ["list"] = new JsonArray(1.0 / 3.0, "text", null), ["inner"] = new JsonObject { ["x"] = 2.0 / 3.0 } };
        MachineDigits.Apply(tree);
        Assert.Equal("{\"seed\":18446744073709551615,\"count\":12345678901234,\"list\":[0.3333333333,\"text\",null],\"inner\":{\"x\":0.6666666667}}", tree.ToJsonString());
    }
}
