using System.Globalization;

namespace CureSim.Scenarios;

/// <content>Production time in whole steps.</content>
internal sealed partial class BlockReader
{
    /// <summary>
    /// Whole steps of an interval; null for one of the key's words, 0 after a problem.
    /// Calendar words are rounded to whole steps, at least one; hours must be whole steps.
    /// </summary>
    public int? Steps(string key)
    {
        var shape = (ValueShape)Table[key].Shape;
        if (Take(key) is not { } value)
        {
            return 0;
        }

        Resolve(key, value);
        string text = YamlText.Flow(value);
        int? steps = 0;
        if (value is ScalarNode word && shape.Words.Contains(word.Text))
        {
            steps = null;
        }
        else if (ReadValue(key, value, shape.Dimension, shape.Bounds) is { } read)
        {
            steps = WholeSteps(key, value, read, ref text);
        }

        Note(key, text, null, "steps", value.Origin);
        return steps;
    }

    /// <summary>Steps of each interval of a list, with the text of each; empty when it is left out. A step count is 0 after a problem.</summary>
    public IReadOnlyList<(string Text, int Steps)> StepsList(string key)
    {
        var shape = (ValueShape)((ListShape)Table[key].Shape).Item;
        var read = new List<(string, int)>();
        var texts = new List<string>();
        IReadOnlyList<ScenarioNode> items = Items(key, optional: true);
        foreach (ScenarioNode item in items)
        {
            string written = YamlText.Flow(item), text = written;
            int steps = ReadValue(key, item, shape.Dimension, shape.Bounds) is { } value ? WholeSteps(key, item, value, ref text) : 0;
            read.Add((item is ScalarNode scalar ? scalar.Text : written, steps));
            texts.Add(text);
        }

        KeepList(key, items, texts, "steps");
        return read;
    }

    /// <summary>Values of a list in SI; empty when it is left out; NaN after a problem.</summary>
    public IReadOnlyList<double> ValueList(string key)
    {
        var shape = (ValueShape)((ListShape)Table[key].Shape).Item;
        IReadOnlyList<ScenarioNode> items = Items(key, optional: true);
        KeepList(key, items, [.. items.Select(YamlText.Flow)], shape.Dimension.ShownUnit);
        return [.. items.Select(item => ReadValue(key, item, shape.Dimension, shape.Bounds)?.Si ?? double.NaN)];
    }

    private void KeepList(string key, IReadOnlyList<ScenarioNode> items, IReadOnlyList<string> texts, string unit)
    {
        if (Written(key) && node[key] is ListNode list)
        {
            Note(key, "[ " + string.Join(", ", texts) + " ]", null, unit, Context.Origins.Of(PathOf(key)));
            Resolve(key, list);
        }
    }

    private int WholeSteps(string key, ScenarioNode value, ReadValue read, ref string text)
    {
        double step = Context.Clock.StepSeconds;
        double exact = read.Si / step;
        double whole = Math.Max(1, Math.Round(exact));
        if (!Context.Clock.Trusted)
        {
            return 0;
        }

        if (whole > StepLimit)
        {
            Findings.Problem(
                value.Place, PathOf(key), $"{value.Found}, {Hours(exact)} steps", string.Create(CultureInfo.InvariantCulture, $"at most {StepLimit} steps"));
            return 0;
        }

        // 1e-9: conversion to seconds and back moves the last digits of a double only.
        bool isWhole = Math.Abs(exact - whole) <= 1e-9 * whole;
        if (!isWhole && read.Word is null)
        {
            double below = Math.Max(1, Math.Floor(exact)) * step / 3600;
            double above = (Math.Floor(exact) + 1) * step / 3600;
            Findings.Problem(
                value.Place, PathOf(key), value.Found, $"a whole number of steps of {Hours(step / 3600)} h",
                below == above ? $"write \"{Hours(below)} h\"" : $"write \"{Hours(below)} h\" or \"{Hours(above)} h\"");
            return 0;
        }

        string rounded = isWhole ? "" : $", rounded from {Hours(read.Si / 3600)} h";
        text += string.Create(CultureInfo.InvariantCulture, $" (= {whole} step{(whole == 1 ? "" : "s")}, {Hours(whole * step / 3600)} h{rounded})");
        return (int)whole;
    }

    /// <summary>Most steps of a horizon: a part's address keeps 24 bits for the step.</summary>
    public const int StepLimit = 1 << 24;

    private static string Hours(double hours) => hours.ToString("0.####", CultureInfo.InvariantCulture);
}
