using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Uneven checks, the interval study.</content>
internal sealed partial class CellReader
{
    private static ChecksAfterReplacement? ReadAfterReplacement(BlockReader? block)
    {
        if (block is null)
        {
            return null;
        }

        int interval = block.Steps("interval") ?? 0;
        double steps = block.Value("for") / block.Context.Clock.StepSeconds;
        if (!block.Context.Clock.Trusted || double.IsNaN(steps))
        {
            return new(interval, interval);
        }

        // 1e-9: conversion to seconds and back moves the last digits of a double only.
        int lasts = (int)Math.Min(BlockReader.StepLimit, Math.Floor(steps * (1 + 1e-9)));
        if (interval > 0 && lasts < interval)
        {
            block.Problem("for", "a time in which no check falls", "at least the interval beside it");
        }

        return new(interval, lasts);
    }

    private IntervalStudy? ReadIntervalStudy(BlockReader? block)
    {
        if (block is null)
        {
            return null;
        }

        var candidates = new List<CheckTiming>();
        foreach (var (text, steps) in block.StepsList("intervals"))
        {
            candidates.Add(new(text, steps, null, null, false));
        }

        ReadRoutines(block, candidates);
        if (candidates.Count == 0 && (block.Written("intervals") || block.Written("routines")))
        {
            block.Problem("intervals", "no candidate", "at least one interval or routine", "take the key out for the calendar ladder");
        }

        return new(
            [.. candidates], block.Value("reliability_target"), block.ValueOrWord("nonconforming_limit").Value,
            [.. block.ValueList("adjust_limits").Order()], [.. block.ValueList("action_limits").Order()]);
    }

    private void ReadRoutines(BlockReader study, List<CheckTiming> candidates)
    {
        IReadOnlyList<ScenarioNode> items = study.Items("routines", optional: true);
        var nodes = new List<BlockReader>();
        var table = ((BlockShape)((ListShape)study.Table["routines"].Shape).Item).Table;
        foreach ((int i, ScenarioNode item) in items.Index())
        {
            string path = string.Create(CultureInfo.InvariantCulture, $"{study.PathOf("routines")}.{i + 1}");
            if (item is not MapNode map)
            {
                Findings.Problem(item.Place, path, item.Found, "a block with interval, after_replacement, when_drive_above ...");
                continue;
            }

            var block = new BlockReader(context, table, map, path);
            int interval = block.Steps("interval") ?? 0;
            var after = ReadAfterReplacement(block.Block("after_replacement"));
            double? drive = block.ValueOrWord("when_drive_above").Value;
            bool alarm = block.YesNo("when_alarm");

            // Read last: left out, the name says what the others do, and the resolved text holds it.
            string fallback = Named(block, interval, after, drive, alarm);
            candidates.Add(new(block.Text("name", fallback) ?? fallback, interval, after, drive, alarm));
            nodes.Add(block);
        }

        if (items.Count > 0)
        {
            study.ResolveLater("routines", () => new ListNode([.. nodes.Select(n => n.Resolved())], items[0].Place, Origin.Yours));
        }
    }

    private static string Named(BlockReader block, int interval, ChecksAfterReplacement? after, double? drive, bool alarm)
    {
        string Hours(int steps) => FormattableString.Invariant($"{steps * block.Context.Clock.StepSeconds / 3600:0.#} h");
        return (block.TextOf("interval") ?? Hours(interval))
            + (after is null ? "" : $", {Hours(after.IntervalSteps)} while new ({Hours(after.ForSteps)})")
            + (drive is { } u ? FormattableString.Invariant($", drive > {u * 100:0.##} %") : "") + (alarm ? ", alarm" : "");
    }
}
