using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Where the files of these tests lie, and a small valid scenario to vary.</summary>
internal static class ScenarioFiles
{
    /// <summary>A cell with nothing that is not required.</summary>
    public const string Smallest = """
        curesim: 1
        production: { rate: 240 /h }
        source: { kind: arc lamp, irradiance: 6 W/cm2 }
        exposure: { time: 2 s }
        window: { dose: { lower: 5 J/cm2 } }
        """;

    public static string Root { get; } = FindRoot();

    public static string Shipped => Path.Combine(Root, "scenarios");

    public static string Data => Path.Combine(Root, "tests", "data", "scenarios");

    /// <summary>The smallest scenario with overrides, which must read without problems.</summary>
    public static Core.Cell.Scenario Cell(params string[] sets) => Good(ScenarioReader.ReadText(Smallest, "test.yaml", sets)).Cell!;

    /// <summary>Problems of the smallest scenario with overrides.</summary>
    public static string[] Problems(params string[] sets) =>
        [.. ScenarioReader.ReadText(Smallest, "test.yaml", sets).Problems.Select(p => p.ToString())];

    public static ScenarioReading Good(ScenarioReading reading)
    {
        Assert.True(reading.Cell is not null, string.Join('\n', reading.Problems));
        Assert.Empty(reading.Problems);
        return reading;
    }

    public static TheoryData<string> ShippedNames()
    {
        var names = new TheoryData<string>();
        foreach (string file in Directory.GetFiles(Shipped, "*.yaml").Order())
        {
            names.Add(Path.GetFileName(file));
        }

        return names;
    }

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "CureSim.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("the tests do not run inside the repository");
    }
}
