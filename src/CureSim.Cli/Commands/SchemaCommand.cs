using CureSim.Scenarios;

namespace CureSim.Cli;

/// <summary>The JSON Schema of scenario files, for editors.</summary>
internal static class SchemaCommand
{
    private static readonly OptionInfo Out = new("--out", "FILE", "File to write, instead of printing. An existing file is replaced only when it is such a schema.");

    public static CommandInfo Info { get; } = new(
        "schema",
        "Print the JSON Schema of scenario files, for editors.",
        [],
        [Out],
        [
            new("curesim schema", "Print it."),
            new("curesim schema --out scenario.schema.json", "Write it to a file that an editor is pointed to."),
        ],
        Run);

    private static int Run(Call call)
    {
        string schema = ScenarioSchema.Write();
        if (call.Text(Out) is { } path)
        {
            TextFile.Write(path, schema, replace: existing => existing.Contains("\"title\": \"CureSim scenario\"", StringComparison.Ordinal));
            return ExitCode.Done;
        }

        call.Terminal.Say(System.Text.Encoding.UTF8.GetBytes(schema));
        return ExitCode.Done;
    }
}
