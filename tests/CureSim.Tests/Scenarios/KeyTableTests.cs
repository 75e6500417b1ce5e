using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>The one table of keys, and whether reader, schema and documentation keep to it.</summary>
public class KeyTableTests
{
    [Fact]
    public void Every_Key_IsAskedForByTheReader()
    {
        foreach (string file in Directory.GetFiles(ScenarioFiles.Shipped, "*.yaml").Append(Path.Combine(ScenarioFiles.Data, "every-key.yaml")))
        {
            var findings = new Findings();
            (ScenarioReading reading, string[] unread) = ScenarioReader.Read(ScenarioFile.Load(file, findings), [], findings);
            ScenarioFiles.Good(reading);
            Assert.Empty(unread);
        }
    }

    [Fact]
    public void Scenario_WithEveryKey_HasEveryKeyOfTheTable()
    {
        // Keys that exclude one that is written there; each is read by another test of this folder.
        string[] elsewhere =
        [
            "drive", "time (exponential)", "output (exponential)", "at (exponential)", "early_part", "early_time", "late_time", "shape", "points",
            "half_angle", "relative", "virtual_distance", "focus", "range", "order", "reflectance", "precision", "mean_dose", "ppk", "cpk", "state_index",
            "fraction_nonconforming", "median_time_to_requalify", "at_most",
        ];
        string text = File.ReadAllText(Path.Combine(ScenarioFiles.Data, "every-key.yaml"));
        string[] missing = [.. Keys(ScenarioKeys.Root).Select(k => k.Name).Distinct().Where(k => !text.Contains(k + ":", StringComparison.Ordinal))];
        Assert.Empty(missing.Except(elsewhere.Select(e => e.Split(' ')[0])));
    }

    [Fact]
    public void Every_Key_HasAMeaningThatIsASentence() =>
        Assert.All(Keys(ScenarioKeys.Root), k => Assert.True(k.Meaning.Length > 5 && k.Meaning.EndsWith('.'), k.Name));

    [Fact]
    public void Every_KeyThatIsRequired_HasASampleOrIsABlock() =>
        Assert.All(Keys(ScenarioKeys.Root).Where(k => k.Required), k => Assert.True(k.Sample is not null || k.Shape is BlockShape, k.Name));

    [Fact]
    public void Every_DefaultAndSample_IsYaml()
    {
        foreach (Key key in Keys(ScenarioKeys.Root))
        {
            Assert.All(key.Defaults, d => ReadContext.NodeOf(d.Text, d.Origin));
            if (key.Sample is not null)
            {
                ReadContext.NodeOf(key.Sample, Origin.Yours);
            }
        }
    }

    private static IEnumerable<Key> Keys(BlockTable table) => table.Keys.SelectMany(k => KeysIn(k.Shape).Prepend(k));

    private static IEnumerable<Key> KeysIn(Shape shape) => shape switch
    {
        BlockShape block => Keys(block.Table),
        ListShape list => KeysIn(list.Item),
        LawShape law => law.Laws.SelectMany(Keys),
        _ => [],
    };
}
