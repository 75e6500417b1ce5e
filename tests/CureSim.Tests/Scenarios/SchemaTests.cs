using System.Text.Json.Nodes;
using CureSim.Scenarios;
using YamlDotNet.RepresentationModel;

namespace CureSim.Tests.Scenarios;

/// <summary>The JSON Schema for editors: up to date in docs, true of good scenarios, false of some broken ones.</summary>
public class SchemaTests
{
    private static readonly JsonObject Schema = JsonNode.Parse(ScenarioSchema.Write())!.AsObject();

    [Fact]
    public void Schema_InDocs_IsUpToDate() => GeneratedFiles.AssertUpToDate(Path.Combine("docs", "scenario.schema.json"), ScenarioSchema.Write());

    [Theory]
    [MemberData(nameof(ScenarioFiles.ShippedNames), MemberType = typeof(ScenarioFiles))]
    public void Shipped_Scenario_IsValid(string name) => Assert.Empty(Faults(File.ReadAllText(Path.Combine(ScenarioFiles.Shipped, name))));

    [Fact]
    public void Scenario_WithEveryKey_IsValid_AndSoIsItsResolvedText()
    {
        string file = Path.Combine(ScenarioFiles.Data, "every-key.yaml");
        Assert.Empty(Faults(File.ReadAllText(file)));
        Assert.Empty(Faults(ScenarioReader.Read(file).ResolvedYaml));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Starting_File_IsValid(string kind) => Assert.Empty(Faults(NewScenario.Write(kind)));

    public static TheoryData<string> Kinds() => [.. NewScenario.Kinds];

    [Theory]
    [InlineData("unknown-key")]
    [InlineData("bare-number")]
    [InlineData("wrong-unit")]
    [InlineData("wrong-word")]
    [InlineData("missing")]
    [InlineData("run")]
    [InlineData("comma")]
    public void Broken_Scenario_IsNotValid(string name) =>
        Assert.NotEmpty(Faults(File.ReadAllText(Path.Combine(ScenarioFiles.Data, "broken", name + ".yaml"))));

    [Fact]
    public void Every_Reference_LeadsToADefinition()
    {
        foreach (JsonNode reference in References(Schema))
        {
            Assert.NotNull(Schema["$defs"]![reference.GetValue<string>()["#/$defs/".Length..]]);
        }
    }

    private static List<string> Faults(string yaml)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(yaml));
        var faults = new List<string>();
        SmallSchemaValidator.Check(Schema, Schema, stream.Documents[0].RootNode, "", faults);
        return faults;
    }

    private static IEnumerable<JsonNode> References(JsonNode? node) => node switch
    {
        JsonObject map => map.SelectMany(p => p.Key == "$ref" ? [p.Value!] : References(p.Value)),
        JsonArray list => list.SelectMany(References),
        _ => [],
    };
}
