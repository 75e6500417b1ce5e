using System.Globalization;
using CureSim.Core.Cell;
using CureSim.Scenarios;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Cli;

/// <summary>The two settings of a map as a command line names them.</summary>
internal static class WindowAxes
{
    /// <summary>The case of a call.</summary>
    /// <exception cref="InputException">An axis cannot be read, or the scenario cannot be set so.</exception>
    public static WindowCase Case(Call call, ScenarioReading reading)
    {
        var cell = reading.Cell!;
        var problems = new List<string>();
        var (along, up) = (call.Text(WindowCommand.AlongAxis), call.Text(WindowCommand.UpAxis));
        if (along is null && up is null)
        {
            try
            {
                return new WindowCase(cell);
            }
            catch (ArgumentException e) when (e.ParamName == "from")
            {
                throw new InputException($"window_study: {e.Message.Split(" (Parameter")[0]}; write ranges that hold at least three settings of three digits");
            }
        }

        if (along is null || up is null)
        {
            throw new InputException("--along and --up go together: a map has two settings");
        }

        var x = Read(WindowCommand.AlongAxis.Name, along, cell, problems);
        var y = Read(WindowCommand.UpAxis.Name, up, cell, problems);
        if (x is not null && y is not null && x.Axis.Key == y.Axis.Key)
        {
            problems.Add("--along and --up: the same setting twice; a map has two");
        }

        Stop(problems);
        var read = new Dictionary<(double, double), Scenario>();
        Scenario At(double a, double b)
        {
            lock (read)
            {
                if (read.TryGetValue((a, b), out var known))
                {
                    return known;
                }
            }

            var set = ScenarioReader.ReadText(reading.ResolvedYaml, call.Argument(0)!, [x!.Set(a), y!.Set(b)]);
            var made = set.Cell ?? throw new InputException([.. set.Problems.Select(p => $"at {x.Set(a)}, {y.Set(b)}: {p}")]);
            lock (read)
            {
                return read[(a, b)] = made;
            }
        }

        // The corners show whether every setting between them can be read.
        foreach (var (a, b) in ((double, double)[])[(x!.Axis.From, y!.Axis.From), (x.Axis.To, y.Axis.From), (x.Axis.From, y.Axis.To), (x.Axis.To, y.Axis.To)])
        {
            _ = At(a, b);
        }

        return new WindowCase(cell, x.Axis, y.Axis, At);
    }

    private sealed record Chosen(WindowAxis Axis)
    {
        public string Set(double value) => string.Create(CultureInfo.InvariantCulture, $"{Axis.Key}={value:R} {Axis.Unit}").TrimEnd();
    }

    private static Chosen? Read(string option, string text, Scenario cell, List<string> problems)
    {
        const string Accepted = "KEY=FROM..TO with the unit last, both above 0, such as \"fixture.distance.nominal=8..12 mm\"";
        int equals = text.IndexOf('=', StringComparison.Ordinal), dots = text.IndexOf("..", StringComparison.Ordinal);
        if (equals > 0 && dots > equals)
        {
            string key = text[..equals].Trim(), rest = text[(dots + 2)..].Trim();
            int end = 0;
            while (end < rest.Length && (char.IsAsciiDigit(rest[end]) || rest[end] is '.'))
            {
                end++;
            }

            const NumberStyles Plain = NumberStyles.AllowDecimalPoint;
            if (double.TryParse(text[(equals + 1)..dots].Trim(), Plain, CultureInfo.InvariantCulture, out double from) && double.TryParse(rest[..end], Plain, CultureInfo.InvariantCulture, out double to) && from > 0.0 && to > from)
            {
                var study = cell.WindowStudy ?? WindowStudy.Usual;
                try
                {
                    return new(WindowAxis.Of(key, key, rest[end..].Trim(), from, to, study.Nodes, found: false));
                }
                catch (ArgumentException)
                {
                    problems.Add($"{option}: found \"{text}\", in which there are fewer than three settings of three digits; accepted: a wider range");
                    return null;
                }
            }
        }

        problems.Add($"{option}: found \"{text}\"; accepted: {Accepted}");
        return null;
    }

    private static void Stop(List<string> problems)
    {
        if (problems.Count > 0)
        {
            throw new InputException([.. problems]);
        }
    }
}
