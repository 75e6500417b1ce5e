using System.Text;
using System.Text.Json.Nodes;
using CureSim.Reports.Figures;
using CureSim.Reports.Pages;

namespace CureSim.Tests.Reports.Pages;

/// <summary>report.json reads back to what was written, and a stranger's file is refused with a reason, never with an exception.</summary>
public sealed class ReportFileTests
{
    private static readonly byte[] Good = ReportFile.ToBytes(ReportExamples.Content);

    [Fact]
    public void Content_WrittenAndRead_IsTheSame()
    {
        var read = ReportFile.Read(Good, out string? fault);
        Assert.Null(fault);
        Assert.Equal(Good, ReportFile.ToBytes(read!));

        // Every kind of layer went through, not-a-number in a line included.
        var layers = FigureExamples.All.Values.SelectMany(f => f.Layers).Select(l => l.GetType()).ToHashSet();
        Assert.Superset(new HashSet<Type> { typeof(Line), typeof(Band), typeof(Histogram), typeof(Points), typeof(Stack), typeof(Limit), typeof(Bars), typeof(Map) }, layers);
        Assert.Equal(layers, [.. read!.Evidence.SelectMany(s => s.Items).Where(i => i.Figure is not null).SelectMany(i => i.Figure!.Layers).Select(l => l.GetType())]);
    }

    public static TheoryData<string, Action<JsonObject>> Broken => new()
    {
        { "no report", t => t["kind"] = "run" },
        { "layout", t => t["schemaVersion"] = 99 },
        { "cannot be read", t => t["further"] = 1 },
        { "cannot be read", t => t.Remove("answer") },
        { "cannot be read", t => t["title"] = null },
        { "cannot be read", t => t["judgement"] = "excellent" },
        { "cannot be read", t => t["judgement"] = 1 },
        { "cannot be read", t => t["evidence"] = "many" },
        { "cannot be read", t => Layer(t)["layer"] = "script" },
        { "cannot be read", t => Figure(t)["width"] = 1000000 },
        { "cannot be read", t => Figure(t)["layers"] = new JsonArray() },
        { "neither", t => t["decisive"]!["figure"] = null },
        { "do not fit", t => t["evidence"]![1]!["items"]![0]!["table"]!["rows"]![0] = new JsonArray("one") },
        { "longer", t => t["answer"] = new string('x', 30_000) },
        { "more", t => t["inputs"] = new JsonArray([.. Enumerable.Range(0, 21).Select(_ => t["inputs"]![0]!.DeepClone())]) },
        { "more", t => t["evidence"]![0]!["items"] = new JsonArray([.. Enumerable.Range(0, 201).Select(_ => t["evidence"]![2]!["items"]![0]!.DeepClone())]) },
    };

    [Theory]
    [MemberData(nameof(Broken), DisableDiscoveryEnumeration = true)]
    public void File_Broken_IsRefusedWithAReason(string reason, Action<JsonObject> breaks)
    {
        ArgumentNullException.ThrowIfNull(breaks);
        var tree = JsonNode.Parse(Good)!.AsObject();
        breaks(tree);
        Assert.Null(ReportFile.Read(Encoding.UTF8.GetBytes(tree.ToJsonString()), out string? fault));
        Assert.Contains(reason, fault, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{\"kind\":\"report\",\"schemaVersion\":1}")]
    [InlineData("{\"kind\":{},\"schemaVersion\":1}")]
    [InlineData("{\"kind\":\"report\",\"schemaVersion\":\"one\"}")]
    [InlineData("{\"kind\":\"report\",\"schemaVersion\":1,\"schemaVersion\":1}")]
    [InlineData("not json")]
    public void File_NoReport_IsRefused(string text) => Assert.Null(ReportFile.Read(Encoding.UTF8.GetBytes(text), out _));

    [Fact]
    public void File_Deep_IsRefused() =>
        Assert.Null(ReportFile.Read(Encoding.UTF8.GetBytes("{\"kind\":\"report\",\"schemaVersion\":1,\"answer\":" + new string('[', 5000) + new string(']', 5000) + "}"), out _));

    private static JsonObject Figure(JsonObject tree) => tree["decisive"]!["figure"]!.AsObject();

    private static JsonObject Layer(JsonObject tree) => Figure(tree)["layers"]![0]!.AsObject();
}
