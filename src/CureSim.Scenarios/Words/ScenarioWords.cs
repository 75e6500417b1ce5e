using System.Globalization;
using System.Text;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>A scenario in words: every input with its level and origin, the nominal light budget, and what to think about.</summary>
public static class ScenarioWords
{
    /// <summary>Aligned plain text. A scenario with problems is described by them.</summary>
    public static string Describe(ScenarioReading reading)
    {
        var text = new StringBuilder();
        if (reading.Cell is not { } cell)
        {
            text.Append(reading.Problems.Length == 1 ? "1 problem\n" : FormattableString.Invariant($"{reading.Problems.Length} problems\n"));
            Lines(text, reading.Problems.Select(p => p.ToString()));
            return text.ToString();
        }

        text.Append(cell.Name).Append('\n');
        text.Append("sha256 ").Append(reading.Sha256).Append("\n\n");
        int typical = reading.Inputs.Count(i => i.Origin == Origin.Typical);
        text.Append(CultureInfo.InvariantCulture, $"{reading.Inputs.Length} inputs: {reading.Inputs.Count(i => i.Origin == Origin.Yours)} yours, ");
        text.Append(CultureInfo.InvariantCulture, $"{typical} typical of the trade (replace them with your own), {reading.Inputs.Count(i => i.Origin == Origin.Default)} default\n");
        foreach (var block in reading.Inputs.GroupBy(i => i.Path.Split('.')[0]))
        {
            Block(text, block.Key, [.. block]);
        }

        Budget(text, cell);
        if (reading.Warnings.Length > 0)
        {
            text.Append("\nTo think about\n");
            Lines(text, reading.Warnings.Select(w => w.ToString()));
        }

        return text.ToString();
    }

    /// <summary>The word for the event at which a quantity is drawn anew.</summary>
    public static string LevelWord(Level level) => level switch
    {
        Level.AdhesiveLot => "adhesive lot",
        Level.SubstrateLot => "substrate lot",
        Level.Setup => "set-up",
        _ => level.ToString().ToLowerInvariant(),
    };

    private static void Block(StringBuilder text, string name, InputNote[] inputs)
    {
        text.Append('\n').Append(name).Append('\n');
        string KeyOf(InputNote i) => i.Path == name ? name : i.Path[(name.Length + 1)..];
        int width = inputs.Max(i => KeyOf(i).Length);
        foreach (InputNote input in inputs)
        {
            string level = input.Level is { } l ? LevelWord(l) : "-";
            text.Append("  ").Append(KeyOf(input).PadRight(width)).Append("  ");
            text.Append(input.Origin.ToString().ToLowerInvariant().PadRight(7)).Append("  ");
            text.Append(level.PadRight(13)).Append("  ").Append(input.Text).Append('\n');
        }
    }

    private static void Budget(StringBuilder text, Scenario cell)
    {
        LightBudget budget = LightBudget.Nominal(cell);
        text.Append("\nNominal light budget (new emitter, new guide, clean tips, every quantity at its mean)\n");
        int width = budget.Lines.Max(l => l.Name.Length);
        foreach (BudgetLine line in budget.Lines)
        {
            string factor = ReferenceEquals(line, budget.Lines[0]) ? "" : "x " + line.Factor.ToString("0.0000", CultureInfo.InvariantCulture);
            text.Append("  ").Append(line.Name.PadRight(width)).Append("  ").Append(factor.PadLeft(9)).Append("  ");
            text.Append(Shown(Response.Irradiance, line.RunningWattsPerSquareMetre)).Append('\n');
        }

        text.Append(CultureInfo.InvariantCulture, $"  headroom: full drive is {budget.Headroom:0.00} times the drive that is set\n");
        text.Append("\nNominal bond\n");
        foreach (NominalResponse response in budget.Responses)
        {
            text.Append("  ").Append(NameOf(response.Response).PadRight(14)).Append("  ").Append(Shown(response.Response, response.Value).PadRight(14));
            text.Append("  ").Append(LimitsOf(response)).Append('\n');
        }
    }

    private static string LimitsOf(NominalResponse response)
    {
        if (response.Limits is not { } limits)
        {
            return "no limits";
        }

        string lower = limits.Lower is { } l ? "from " + Shown(response.Response, l) : "";
        string upper = limits.Upper is { } u ? "to " + Shown(response.Response, u) : "";
        return string.Join(' ', new[] { "limits", lower, upper, response.IsOutside ? "- OUTSIDE" : "- inside" }.Where(w => w.Length > 0));
    }

    private static string NameOf(Response response) => response switch
    {
        Response.Irradiance => "irradiance",
        Response.Dose => "dose",
        _ => "degree of cure",
    };

    private static string Shown(Response response, double si) => response switch
    {
        Response.Irradiance => FormattableString.Invariant($"{si / 1e4:0.000} W/cm2"),
        Response.Dose => FormattableString.Invariant($"{si / 1e4:0.000} J/cm2"),
        _ => FormattableString.Invariant($"{si * 100:0.00} %"),
    };

    private static void Lines(StringBuilder text, IEnumerable<string> lines)
    {
        foreach (string line in lines)
        {
            text.Append("  ").Append(line).Append('\n');
        }
    }
}
