using System.Text.Json.Nodes;
using CureSim.Reports.Json;

namespace CureSim.Tests.Reports;

public class JsonTests
{
    [Fact]
    public void Summary_Members_InOrderAndRoundTrip()
    {
        var summary = new SummaryDocument("run", "Hub bond");
        summary.Root.Object("dose").Number("meanJoulePerSquareMetre", 1.0 / 3).Estimate("cpk", 1.33, 0.04, 1.25, 1.41).Count("bonds", 12);
        summary.Root.Array("limits").Add("J/cm²");

        Assert.Equal(
            """
            {
              "schemaVersion": 1,
              "kind": "run",
              "scenario": "Hub bond",
              "dose": {
                "meanJoulePerSquareMetre": 0.3333333333333333,
                "cpk": {
                  "value": 1.33,
                  "standardError": 0.04,
                  "lower95": 1.25,
                  "upper95": 1.41
                },
                "bonds": 12
              },
              "limits": [
                "J/cm²"
              ]
            }

            """.ReplaceLineEndings("\n"), summary.ToText());
        Assert.Equal(summary.ToBytes(), System.Text.Encoding.UTF8.GetBytes(summary.ToText()));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    [InlineData(null)]
    public void Number_NotFinite_NullAndReason(double? value)
    {
        JsonObject tree = new JsonObject().Number("medianHours", value, "no cell lost its state");
        Assert.Equal("""{"medianHours":null,"medianHoursReason":"no cell lost its state"}""", tree.ToJsonString());
        Assert.Throws<ArgumentException>(() => new JsonObject().Number("medianHours", value));
    }

    [Fact]
    public void Text_NotFiniteDeepInside_RefusedWithItsPath()
    {
        var tree = new JsonObject { ["a"] = new JsonArray(1.0, new JsonObject { ["b"] = double.NaN }) };
        Assert.Contains("$.a[1].b", Assert.Throws<ArgumentException>(() => JsonText.Of(tree)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Text_MarkupInStrings_CannotLeaveAScriptElement()
    {
        string json = JsonText.Of(new JsonObject { ["name"] = "</script><!-- & '" });
        Assert.DoesNotContain("<", json, StringComparison.Ordinal);
        Assert.DoesNotContain("&", json, StringComparison.Ordinal);
        Assert.Equal("</script><!-- & '", (string?)JsonNode.Parse(json)!["name"]);
    }

    [Fact]
    public void Number_SameNameTwice_Refused() =>
        Assert.Throws<ArgumentException>(() => new JsonObject().Number("a", 1).Number("a", 2));

    [Fact]
    public void Text_MinusZeroAndExtremes_ReadBack()
    {
        JsonObject tree = new JsonObject().Number("zero", -0.0).Number("small", 5e-324).Number("large", double.MaxValue);
        JsonNode read = JsonNode.Parse(JsonText.Of(tree))!;
        Assert.Contains("\"zero\": 0,", JsonText.Of(tree), StringComparison.Ordinal);
        Assert.Equal(5e-324, (double)read["small"]!);
        Assert.Equal(double.MaxValue, (double)read["large"]!);
    }
}
