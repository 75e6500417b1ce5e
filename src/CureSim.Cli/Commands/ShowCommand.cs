using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Scenarios;

namespace CureSim.Cli;

/// <summary>A scenario in words.</summary>
internal static class ShowCommand
{
    public static CommandInfo Info { get; } = new(
        "show",
        "Show a scenario in words: every input with its level and origin, and the nominal light budget.",
        [new("SCENARIO", "Scenario file (YAML).")],
        [Options.Set, Options.Json],
        [
            new("curesim show scenarios/quick.yaml", "What is yours, what is typical of the trade and what is a default."),
            new("curesim show scenarios/quick.yaml --set \"exposure.time=3 s\" --json", "The same for machines, with another exposure time."),
        ],
        Run);

    private static int Run(Call call)
    {
        string path = call.Argument(0)!;
        var reading = ScenarioReader.Read(path, call.Texts(Options.Set));
        if (reading.Cell is not { } cell)
        {
            throw new InputException([.. reading.Problems.Select(p => p.ToString())]) { IsLocated = true };
        }

        if (!call.Json)
        {
            call.Terminal.Say(ScenarioWords.Describe(reading));
            return ExitCode.Done;
        }

        var context = ScenarioInput.ContextOf(reading, path);
        var document = new SummaryDocument("show", cell.Name);
        document.Root.Text("scenarioSha256", reading.Sha256);
        var inputs = document.Root.Array("inputs");
        foreach (var input in context.Inputs)
        {
            inputs.Add(new JsonObject().Text("path", input.Path).Text("value", input.Value).Text("unit", input.Unit.Length > 0 ? input.Unit : null).Text("level", input.Level)
                .Text("origin", input.Origin).Text("meaning", input.Meaning));
        }

        var budget = document.Root.Array("lightBudget");
        foreach (var row in context.Budget)
        {
            budget.Add(new JsonObject().Text("factor", row.Name).Number("ratio", row.Factor).Number("irradianceAfterWattPerSquareCentimetre", row.IrradianceAfter * 1e-4));
        }

        var warnings = document.Root.Array("warnings");
        foreach (var warning in reading.Warnings)
        {
            warnings.Add(JsonValue.Create(warning.ToString()));
        }

        MachineDigits.Apply(document.Root);
        call.Terminal.Say(document.ToBytes());
        return ExitCode.Done;
    }
}
