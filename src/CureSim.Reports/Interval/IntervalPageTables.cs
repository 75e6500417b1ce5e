using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>Tables of an interval study as its report shows them: values with their intervals; every digit stands in the files that they name.</summary>
internal static class IntervalPageTables
{
    /// <summary>One contributor perfect at a time.</summary>
    public static PageTable Contributors(Binding binding)
    {
        string[] Row(string what, CandidateVerdict verdict, Estimate? reliability, Estimate? ppm) =>
        [
            what, IntervalWords.Figure(verdict.Run, IntervalMeasures.InTolerance), reliability is { } r ? Change(r) : "–",
            IntervalWords.Figure(verdict.Run, IntervalMeasures.Ppm), ppm is { } p ? Change(p) : "–", verdict.Meets ? "reached" : "missed",
        ];
        return PageTable.OfTexts(
            ["Perfect", "In tolerance as found", "Change, percentage points", "Nonconforming parts", "Change, ppm", "Requirement"],
            [Row("nothing, as it is", binding.Base, null, null), .. binding.Effects.Select(e => Row(e.Contributor.Name, e.Verdict, e.Reliability, e.Ppm))]) with { File = "tables/contributors.csv" };
    }

    /// <summary>Faults against the controls that the cell has.</summary>
    public static PageTable Detection(DetectionMatrix detection)
    {
        int[] present = Present(detection);
        return PageTable.OfTexts(
            ["Fault alone", "Comes to matter, of lifetimes", .. present.Select(k => $"Seen by {DetectionMatrix.Controls[k]}, after (median)")],
            detection.Rows.Select(r => (string[])
            [
                r.Fault, $"{Format.Count(r.Onsets)} of {Format.Count(r.Lifetimes)}" + (r.MedianOnsetHours is { } h ? $", at {Format.Hours(h)} (median)" : ""),
                .. present.Select(k => Seen(r.Cells[k], r.Onsets)),
            ])) with { File = "tables/detection.csv" };
    }

    /// <summary>Controls that the cell does not have, with the reason.</summary>
    public static ImmutableArray<string> Absent(DetectionMatrix detection)
    {
        int[] present = Present(detection);
        string[] absent = [.. Enumerable.Range(0, DetectionMatrix.Controls.Length).Except(present)
            .Select(k => detection.Rows.SelectMany(r => r.Cells[k].Chance.Withheld is { } why && r.Onsets > 0 ? [$"{DetectionMatrix.Controls[k]} ({why})"] : (string[])[]).FirstOrDefault()).OfType<string>()];
        return absent.Length == 0 ? [] : [$"Controls that this cell does not have: {string.Join(", ", absent)}."];
    }

    // A control that no fault in force can be asked of is not there.
    private static int[] Present(DetectionMatrix detection) =>
        [.. Enumerable.Range(0, DetectionMatrix.Controls.Length).Where(k => detection.Rows.Any(r => r.Cells[k].Chance.Value is not null))];

    private static string Seen(DetectionCell cell, int onsets) => cell.Chance is not { Value: { } v, Lower95: { } low, Upper95: { } high } ? onsets == 0 ? "–" : $"withheld: {cell.Chance.Withheld}"
        : Format.Interval(100.0 * v, 100.0 * low, 100.0 * high, "%") + (cell.MedianHours is not { } h ? "" : h < 0.0 ? $", {Format.Hours(-h)} before" : $", {Format.Hours(h)}");

    private static string Change(Estimate change) => change is { Value: { } v, Lower95: { } low, Upper95: { } high } ? Format.Interval(v, low, high)
        : change.Value is { } only ? Format.Value(only, null, 3) : $"withheld: {change.Withheld}";
}
