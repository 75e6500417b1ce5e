using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;

namespace CureSim.Scenarios;

/// <summary>Chooses the column of values and the one of groups, and reads them.</summary>
internal sealed partial class SampleColumns(SampleRows rows, SampleChoice choice, SampleFindings findings)
{
    private const double LeastSpread = 1e-9; // of the largest value: below it few digits of a difference are left in a double

    /// <summary>The sample; null when it cannot be used.</summary>
    public MeasuredSample? Take(string file, string sha256)
    {
        int? group = choice.Group is null ? null : Find(choice.Group, "--group");
        int? values = choice.Column is null ? OnlyNumbers(group) : Find(choice.Column, "--column");
        if (values is not { } at)
        {
            return null;
        }

        if (group == at)
        {
            findings.Add(rows.HeaderLine, at + 1, "--group", $"\"{Header(at)}\", which is the column of values", "another column");
            return null;
        }

        var (name, unit) = UnitOf(at);
        var numbers = ImmutableArray.CreateBuilder<double>(rows.Cells.Count);
        for (int i = 0; i < rows.Cells.Count; i++)
        {
            numbers.Add(Number(rows.Cells[i][at], i, at, unit));
        }

        ImmutableArray<string> groups = group is { } g ? [.. rows.Cells.Select((c, i) => Group(c[g], i, g))] : [];
        if (!findings.Any && numbers.Count < 2)
        {
            findings.Add(rows.Lines[0], at + 1, Header(at), "one value", "at least two values: one shows no spread");
        }

        if (!findings.Any && numbers.All(v => v == numbers[0]))
        {
            findings.Add(rows.Lines[0], at + 1, Header(at), FormattableString.Invariant($"{numbers.Count} values that are all {numbers[0]}"), "values that differ", "a reading with more digits may show the spread");
        }

        else if (!findings.Any && numbers.Max() - numbers.Min() < LeastSpread * numbers.Max(Math.Abs))
        {
            findings.Add(rows.Lines[0], at + 1, Header(at), "values that differ by less than 1e-9 of their size", "values whose spread the arithmetic can resolve", "write differences from a nominal value");
        }

        return findings.Any ? null : new(file, sha256, Header(at), name, unit!, numbers.ToImmutable(), [.. rows.Lines], group is { } h ? Header(h) : null, groups);
    }

    private string Header(int column) => SampleText.OneLine(rows.Headers[column]);

    private int? Find(string wanted, string option)
    {
        int[] same = [.. Enumerable.Range(0, rows.Headers.Length).Where(i => rows.Headers[i] == wanted)];
        int[] found = same.Length > 0 ? same : [.. Enumerable.Range(0, rows.Headers.Length).Where(i => Split(rows.Headers[i]).Name == wanted)];
        if (found.Length == 1)
        {
            return found[0];
        }

        string[] headers = [.. Enumerable.Range(0, rows.Headers.Length).Select(i => SampleText.Shown(rows.Headers[i]))];
        string trouble = found.Length == 0 ? "of which there is no column" : "which heads several columns";
        findings.Add(rows.HeaderLine, 1, option, $"\"{SampleText.Shown(wanted)}\", {trouble}", string.Join(", ", headers),
            NearestWord.Question(wanted, headers.Concat(rows.Headers.Select(h => Split(h).Name))));
        return null;
    }

    // A column counts as numeric when any cell is a number or would be one with a decimal point: a stray word must be told, not hide the column.
    private int? OnlyNumbers(int? group)
    {
        int[] numeric = [.. Enumerable.Range(0, rows.Headers.Length).Where(i => i != group && rows.Cells.Any(c => IsNumber(c[i]) || CommaNumber().IsMatch(c[i])))];
        switch (numeric.Length)
        {
            case 1:
                return numeric[0];
            case 0:
                findings.Add(rows.HeaderLine, 1, "", "no column of numbers", "a column of measured values");
                return null;
            default:
                findings.Add(
                    rows.HeaderLine, 1, "", $"{numeric.Length} columns of numbers: {string.Join(", ", numeric.Select(i => SampleText.Shown(rows.Headers[i])))}",
                    "one of them, chosen with --column");
                return null;
        }
    }

    private (string Name, SampleUnit? Unit) UnitOf(int at)
    {
        var (name, written, ending) = Split(rows.Headers[at]);
        SampleUnit? unit = ending ?? (written is null ? null : SampleUnit.Find(written));
        if (written is not null && unit is null)
        {
            findings.Add(rows.HeaderLine, at + 1, Header(at), $"the unit \"{SampleText.Shown(written)}\"", SampleUnit.Listed, NearestWord.Question(written, SampleUnit.Listed.Split(", ")));
        }

        if (choice.Unit is { } given)
        {
            var option = SampleUnit.Find(given);
            if (option is null)
            {
                findings.Add(0, 0, "--unit", $"\"{SampleText.Shown(given)}\"", SampleUnit.Listed, NearestWord.Question(given, SampleUnit.Listed.Split(", ")));
            }
            else if (unit is not null && unit.Suffix != option.Suffix)
            {
                findings.Add(rows.HeaderLine, at + 1, "--unit", $"\"{SampleText.Shown(given)}\" for a column whose header says {unit.Shown}", "the header's unit, or no --unit");
            }

            unit ??= option;
        }

        return (name, unit ?? (findings.Any ? null : SampleUnit.None));
    }

    // "dose [J/cm2]", "dose (J/cm²)", "dose_j_per_cm2", "dose"
    internal static (string Name, string? Written, SampleUnit? Unit) Split(string header)
    {
        Match match = Bracket().Match(header);
        if (match.Success)
        {
            return (Words(match.Groups["name"].Value), match.Groups["unit"].Value.Trim(), null);
        }

        return SampleUnit.AtEnd(header) is { } end ? (Words(end.Name), null, end.Unit) : (Words(header), null, null);
    }

    private static string Words(string name) => SampleText.OneLine(name).Replace('_', ' ').Trim();

    private double Number(string cell, int row, int column, SampleUnit? unit)
    {
        if (IsNumber(cell))
        {
            double value = double.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture);
            if (value < 0.0 && unit is { AllowsNegative: false })
            {
                findings.Add(rows.Lines[row], column + 1, Header(column), $"\"{SampleText.Shown(cell)}\"", $"{unit.Kind} of zero or more");
            }

            else if (!SampleFile.HasUsableSize(value))
            {
                findings.Add(rows.Lines[row], column + 1, Header(column), $"\"{SampleText.Shown(cell)}\"", "zero, or a number between 1e-60 and 1e60 in size");
            }

            return value == 0.0 ? 0.0 : value;
        }

        if (CommaNumber().IsMatch(cell))
        {
            findings.AddComma(rows.Lines[row], column + 1, Header(column), cell, "a number (decimal point, no unit)");
            return double.NaN;
        }

        string found = cell.Length == 0 ? "an empty cell" : $"\"{SampleText.Shown(cell)}\"";
        string? suggestion = cell.Length == 0 ? "take the row out if nothing was measured" : null;
        findings.Add(rows.Lines[row], column + 1, Header(column), found, "a number (decimal point, no unit)", suggestion);
        return double.NaN;
    }

    private string Group(string cell, int row, int column)
    {
        if (cell.Length == 0)
        {
            findings.Add(rows.Lines[row], column + 1, Header(column), "an empty cell", "the group of the value");
        }

        return SampleText.OneLine(cell).Trim();
    }

    internal static bool IsNumber(string cell) => double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number);

    [GeneratedRegex(@"^(?<name>.*?)\s*[\[(](?<unit>[^\[\]()]+)[\])]$", RegexOptions.Singleline)]
    private static partial Regex Bracket();

    [GeneratedRegex(@"^[+-]?\d+,\d+([eE][+-]?\d+)?$")]
    internal static partial Regex CommaNumber();
}
