using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Scenarios;

namespace CureSim.Cli;

/// <summary>What differs between two scenario files.</summary>
internal static class DiffCommand
{
    public static CommandInfo Info { get; } = new(
        "diff",
        "Tell what differs between two scenario files, defaults included.",
        [new("A", "First scenario file."), new("B", "Second scenario file.")],
        [Options.Set, Options.Json],
        [
            new("curesim diff scenarios/hub-bond-lamp.yaml scenarios/hub-bond-led.yaml", "Every input that is not the same in both."),
            new("curesim diff old.yaml new.yaml --json", "The same for machines."),
        ],
        Run);

    private static int Run(Call call)
    {
        string[] sets = call.Texts(Options.Set);
        var first = ScenarioReader.Read(call.Argument(0)!, sets);
        var second = ScenarioReader.Read(call.Argument(1)!, sets);
        if (first.Cell is null || second.Cell is null)
        {
            throw new InputException([.. first.Problems.Concat(second.Problems).Select(p => p.ToString())]) { IsLocated = true };
        }

        var differences = ScenarioDiff.Compare(first, second);
        if (!call.Json)
        {
            call.Terminal.Say(ScenarioDiff.Describe(differences));
            return ExitCode.Done;
        }

        var document = new SummaryDocument("diff", first.Cell.Name);
        document.Root.Text("otherScenario", second.Cell.Name);
        var list = document.Root.Array("differences");
        foreach (var d in differences)
        {
            list.Add(new JsonObject().Text("path", d.Path).Text("first", d.First).Text("second", d.Second)
                .Text("firstOrigin", d.FirstOrigin?.ToString().ToLowerInvariant()).Text("secondOrigin", d.SecondOrigin?.ToString().ToLowerInvariant()).Text("meaning", d.Meaning));
        }

        call.Terminal.Say(document.ToBytes());
        return ExitCode.Done;
    }
}
