using System.Text;
using CsCheck;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Nothing that a file may hold makes the reader throw, hang or fill memory.</summary>
public class HostileInputTests
{
    private static readonly string Lamp = File.ReadAllText(Path.Combine(ScenarioFiles.Shipped, "hub-bond-lamp.yaml"));

    [Fact]
    public void Damaged_Text_NeverThrows()
    {
        // A cut, and a few characters written over others: most results are broken YAML, many are broken scenarios.
        const string signs = "{}[]:,#&*!|>'\"%@`-?\t\n 0.~é";
        Gen.Select(Gen.Int[0, Lamp.Length - 1], Gen.Int[0, Lamp.Length - 1], Gen.Select(Gen.Int[0, Lamp.Length - 1], Gen.Int[0, signs.Length - 1]).Array[0, 6])
            .Sample(
                (from, to, marks) =>
                {
                    var text = new StringBuilder(Lamp);
                    foreach ((int at, int sign) in marks)
                    {
                        text[at] = signs[sign];
                    }

                    string cut = from < to && marks.Length % 2 == 0 ? text.ToString(0, from) + text.ToString(to, text.Length - to) : text.ToString();
                    ScenarioReading reading = ScenarioReader.ReadText(cut, "damaged.yaml");
                    return reading.Cell is null == reading.Problems.Length > 0;
                },
                iter: 300,
                threads: 1);
    }

    [Fact]
    public void Damaged_Words_NeverThrow()
    {
        // Every word of the file in turn gives way to every one of these.
        string[] words = ["", "null", "~", "[]", "{}", "-1", "1e400", "1e308 W/cm2", "1e308 h", "NaN", "0 mm", "9999999999999999999999", "[ 1 mm, { a: 1 } ]", "{ normal: {} }", "{ unknown: {} }"];
        string[] lines = Lamp.Split('\n');
        for (int i = 0; i < lines.Length; i++)
        {
            int colon = lines[i].IndexOf(": ", StringComparison.Ordinal);
            if (colon < 0 || lines[i].TrimStart().StartsWith('#'))
            {
                continue;
            }

            foreach (string word in words)
            {
                string line = lines[i];
                lines[i] = line[..(colon + 2)] + word;
                ScenarioReading reading = ScenarioReader.ReadText(string.Join('\n', lines), "damaged.yaml");
                lines[i] = line;
                Assert.Equal(reading.Cell is null, reading.Problems.Length > 0);
            }
        }
    }

    [Fact]
    public void Expanding_Aliases_AreRefusedBeforeTheyExpand()
    {
        var text = new StringBuilder("a0: &a0 [ x, x, x, x, x, x, x, x, x, x ]\n");
        for (int i = 1; i < 30; i++)
        {
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"a{i}: &a{i} [ *a{i - 1}, *a{i - 1}, *a{i - 1}, *a{i - 1}, *a{i - 1}, *a{i - 1}, *a{i - 1}, *a{i - 1} ]\n");
        }

        ScenarioReading reading = ScenarioReader.ReadText(text.ToString(), "bomb.yaml");
        Assert.Contains(reading.Problems, p => p.Found == "an alias \"*a28\"");
    }

    [Fact]
    public void TooMuch_Text_IsRefused()
    {
        string file = Path.Combine(Directory.CreateTempSubdirectory("curesim").FullName, "large.yaml");
        File.WriteAllText(file, "# " + new string('x', ScenarioFile.SizeLimit) + "\n" + ScenarioFiles.Smallest);
        Assert.Equal($"{file}:1:1: found a file of 1048727 bytes; accepted: a scenario file (YAML, UTF-8, at most 1 MiB)", ScenarioReader.Read(file).Problems.Single().ToString());
        Directory.Delete(Path.GetDirectoryName(file)!, true);
    }

    [Fact]
    public void Long_Name_IsRefused()
    {
        var problem = ScenarioReader.ReadText("name: " + new string('n', 5000) + "\n" + ScenarioFiles.Smallest, "long.yaml").Problems.Single(p => p.Found.Contains("letters", StringComparison.Ordinal));
        Assert.Equal("5000 letters", problem.Found);
        Assert.Equal("long.yaml:1", problem.ToString()[..11]);
        Assert.DoesNotContain(
            ScenarioReader.ReadText("name: " + new string('n', 300) + "\n" + ScenarioFiles.Smallest, "long.yaml").Problems, p => p.Found.Contains("letters", StringComparison.Ordinal));
    }

    [Fact]
    public void Deep_Nesting_IsRefused() =>
        Assert.Contains("nested deeper than 24 levels", ScenarioReader.ReadText("a: " + new string('[', 100_000), "deep.yaml").Problems.Single().Found, StringComparison.Ordinal);

    [Theory]
    [InlineData("no-such.yaml", "no such file")]
    [InlineData(".", "a folder")]
    [InlineData("a\0b", "a file that cannot be read")]
    public void File_ThatIsNone_IsAProblem(string name, string found) => Assert.StartsWith(found, ScenarioReader.Read(name).Problems.Single().Found, StringComparison.Ordinal);

    [Fact]
    public void Bytes_ThatAreNotUtf8_AreAProblem()
    {
        string file = Path.Combine(Directory.CreateTempSubdirectory("curesim").FullName, "latin.yaml");
        File.WriteAllBytes(file, [0x6E, 0x61, 0x6D, 0x65, 0x3A, 0x20, 0xE9, 0x0A]);
        Assert.Equal("bytes that are not UTF-8", ScenarioReader.Read(file).Problems.Single().Found);
        Directory.Delete(Path.GetDirectoryName(file)!, true);
    }
}
