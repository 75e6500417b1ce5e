using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>How problems read.</summary>
public class ProblemTests
{
    [Fact]
    public void Problem_WithALine_ReadsAsOneLine() => Assert.Equal(
        "lamp.yaml:14:9: source.irradiance: found \"ten W\"; accepted: an irradiance; did you mean \"10 W/cm2\"?",
        new Problem("lamp.yaml", 14, 9, "source.irradiance", "\"ten W\"", "an irradiance", "did you mean \"10 W/cm2\"?").ToString());

    [Fact]
    public void Problem_OfAnOption_HasNoLine() => Assert.Equal("--set x: found nothing; accepted: a value", new Problem("--set x", 0, 0, "", "nothing", "a value", null).ToString());

    [Theory]
    [InlineData("irradience", "irradiance")]
    [InlineData("Irradiance", "irradiance")]
    [InlineData("replace-at", "replace_at")]
    [InlineData("fialure", "failure")]
    [InlineData("x", null)]
    [InlineData("colour", null)]
    public void NearestWord_IsTheOneThatWasMeant(string word, string? expected) =>
        Assert.Equal(expected, NearestWord.Of(word, ["irradiance", "replace_at", "failure", "wander"]));

    [Fact]
    public void Distance_CountsASwapAsOne()
    {
        // Textbook pairs: kitten → sitting needs three edits (recalled from memory).
        Assert.Equal(3, NearestWord.Distance("kitten", "sitting"));
        Assert.Equal(1, NearestWord.Distance("ab", "ba"));
        Assert.Equal(0, NearestWord.Distance("", ""));
    }
}
