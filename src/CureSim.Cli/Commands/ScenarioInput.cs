using System.Globalization;
using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Scenarios;

namespace CureSim.Cli;

/// <summary>A scenario as a command line names it: the file with its overrides.</summary>
internal static class ScenarioInput
{
    /// <summary>Reads the scenario of an argument, with --set, --seed and --lifetimes; tells warnings unless the call is quiet.</summary>
    /// <param name="call">The call.</param>
    /// <param name="argument">Place of the scenario among the arguments.</param>
    /// <param name="further">Further overrides that options of the command stand for.</param>
    /// <exception cref="InputException">All its problems.</exception>
    public static ScenarioReading Read(Call call, int argument, params string[] further) => Read(call, call.Argument(argument)!, further);

    /// <summary>The same of a file that is one of a series of arguments.</summary>
    /// <exception cref="InputException">All its problems.</exception>
    public static ScenarioReading Read(Call call, string path, params string[] further)
    {
        var reading = ScenarioReader.Read(path, [.. Sets(call, path), .. further]);
        if (reading.Cell is null)
        {
            throw new InputException([.. reading.Problems.Select(p => p.ToString())]) { IsLocated = true };
        }

        if (!call.Quiet)
        {
            foreach (var warning in reading.Warnings)
            {
                call.Terminal.Tell($"curesim: to think about: {warning}");
            }
        }

        return reading;
    }

    /// <summary>Name of the folder that holds a scenario's results: the stem of its file.</summary>
    public static string StemOf(string path)
    {
        string stem = Path.GetFileNameWithoutExtension(path);
        return ResultName.Fault(stem) is null ? stem : "scenario";
    }

    /// <summary>The scenario's texts for a report.</summary>
    public static RunContext ContextOf(ScenarioReading reading, string path)
    {
        var budget = LightBudget.Nominal(reading.Cell!);
        return new(
            StemOf(path),
            reading.Sha256,
            reading.ResolvedYaml,
            [.. reading.Inputs.Select(i => new InputRow(
                i.Path, i.Level is { } level ? ScenarioWords.LevelWord(level) : null, i.Text, i.Unit, i.Origin.ToString().ToLowerInvariant(), i.Meaning))],
            [.. budget.Lines.Select(l => new BudgetRow(l.Name, l.Factor, l.RunningWattsPerSquareMetre))])
        {
            Warnings = [.. reading.Warnings.Select(w => $"{w.Path}: {w.Found}; accepted: {w.Accepted}")],
        };
    }

    private static List<string> Sets(Call call, string path)
    {
        var sets = new List<string>(call.Texts(Options.Set));
        void Add(OptionInfo option, string key, ulong least, ulong most)
        {
            if (call.Command.Options.Contains(option) && call.Whole(option, least, most) is { } number)
            {
                sets.Add($"{key}={number.ToString(CultureInfo.InvariantCulture)}");
            }
        }

        Add(Options.Seed, "run.seed", 0, ulong.MaxValue);
        ChooseSize(call, path, sets);
        Add(Options.Lifetimes, "run.lifetimes", 1, 10_000_000);
        return sets;
    }

    // Takes out of the scenario what an option replaces; which key that is depends on whether anything is unknown.
    private static void ChooseSize(Call call, string path, List<string> sets)
    {
        string[] wanted = call.Command.Options.Contains(Options.Precision) ? call.Texts(Options.Precision) : [];
        bool lifetimes = call.Command.Options.Contains(Options.Lifetimes) && call.Text(Options.Lifetimes) is not null;
        if (wanted.Length == 0 && !lifetimes)
        {
            return;
        }

        if (wanted.FirstOrDefault(w => !w.Contains('=', StringComparison.Ordinal)) is { } bad)
        {
            throw new InputException($"--precision: found \"{bad}\"; accepted: figure=half-width, such as \"ppk=0.02\"");
        }

        // A scenario with problems of its own is read again by the caller, who tells them.
        string[] without = wanted.Length > 0 ? ["run.precision="] : [];
        if (ScenarioReader.Read(path, [.. sets, .. without]).Cell?.Run is not { } run)
        {
            return;
        }

        if (wanted.Length == 0)
        {
            if (run is { Precision: not null, Worlds: 1 })
            {
                sets.Add("run.precision=");
            }

            return;
        }

        if (lifetimes && run.Worlds == 1)
        {
            throw new InputException("--precision beside --lifetimes: a run to a precision takes as many lifetimes as it needs; --precision at_most=N caps them");
        }

        sets.AddRange([.. without, run.Worlds > 1 ? "run.worlds=" : "run.lifetimes=", .. wanted.Select(w => "run.precision." + w)]);
    }
}
