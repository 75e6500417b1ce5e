using CureSim.Core.Cell;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Every place of the scenario format has a name for people and the unit in which the format shows it.</summary>
public sealed class InputNamesTests
{
    public static TheoryData<string> Files => [.. Directory.GetFiles(ScenarioFiles.Shipped, "*.yaml").Append(Path.Combine(ScenarioFiles.Data, "every-key.yaml")).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Files))]
    public void EveryInput_HasANameWithoutKeyAndTheUnitOfTheFormat(string file)
    {
        var inputs = ScenarioReader.Read(file).Inputs;
        Assert.NotEmpty(inputs);
        Assert.All(inputs, i =>
        {
            Assert.True(InputNames.Knows(i.Path), i.Path);
            string name = InputNames.Of(i.Path);
            Assert.DoesNotContain('_', name.Split(" (")[0]);
            Assert.DoesNotMatch(@"[a-z]\.[a-z]", name);
        });

        // A quantity is shown in the unit that the format lists for it, or in the same kind of unit that suits its usual size.
        Assert.All(inputs.Where(i => i.Level is not null), i => Assert.Contains(InputNames.UnitOf(i.Path).Unit ?? "", Units(i.Unit)));
    }

    [Theory]
    [InlineData("guide.imbalance", "imbalance of the guide's legs")]
    [InlineData("disturbances.bracket slips.rate", "how often it happens (bracket slips)")]
    [InlineData("disturbances.a.b.rate", "how often it happens (a.b)")]
    [InlineData("qualification.2.parts", "parts taken (plan 2)")]
    [InlineData("source.ageing.candidates.1.two_stage.early_part", "share of the emitter's output lost early (candidate 1)")]
    [InlineData("source.irradiance.unknown", "irradiance of a new emitter at full drive")]
    [InlineData("source.ageing.table.points", "ageing of the emitter: table points")]
    [InlineData("nobody.knows_this", "nobody knows this")]
    [InlineData("", "")]
    [InlineData("..", "  ")]
    public void Name_OfAPath_IsWords(string path, string name) => Assert.Equal(name, InputNames.Of(path));

    [Fact]
    public void Texts_NamePlacesInWords() =>
        Assert.Equal("Distance for which irradiance of a new emitter at full drive is stated, e.g. in a file.csv.", InputNames.InText("Distance for which source.irradiance is stated, e.g. in a file.csv."));

    // SI of one trade unit: 1 %/1000 h = 0.01/(3.6e6 s); 1 /mm = 1000 /m; 1 W/cm² = 1e4 W/m²; one event in 1000 h = 1/(3.6e6 s).
    [Theory]
    [InlineData("guide.loss", 0.01 / 3.6e6)]
    [InlineData("substrate.absorption", 1000.0)]
    [InlineData("source.irradiance", 1e4)]
    [InlineData("disturbances.x.rate", 1.0 / 3.6e6)]
    [InlineData("ownership.project.duration", 3600.0)]
    [InlineData("fixture.tilt", Math.PI / 180.0)]
    [InlineData("tip.fouling", 1e-6)]
    [InlineData("guide.imbalance", 0.01)]
    public void Unit_OfOne_IsItsSize(string path, double si) => Assert.Equal(1.0, si * InputNames.UnitOf(path).PerSi, 1e-12);

    private static string[] Units(string shown) => shown switch
    {
        "W/cm2" => ["W/cm²"],
        "J/cm2" => ["J/cm²"],
        "deg" => ["°"],
        "%/10000" => ["%/10000 exposures"],
        "/h" => ["parts/h", "a 1000 h"],
        "steps" => ["h"],
        _ => [shown],
    };
}
