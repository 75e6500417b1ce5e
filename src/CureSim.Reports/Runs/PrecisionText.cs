using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>What ended a run to a precision, in words and for machines.</summary>
public static class PrecisionText
{
    /// <summary>The line of the answer.</summary>
    public static AnswerLine Line(PrecisionVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return new("Precision", Sentence(verdict), verdict.IsMet ? AnswerTone.Met : AnswerTone.Missed);
    }

    /// <summary>"met after 8,192 lifetimes: Ppk of dose ±0.018 (asked ±0.02)", or what was not met and why.</summary>
    public static string Sentence(PrecisionVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        string head = verdict switch
        {
            { IsMet: true } => $"met after {Format.Count(verdict.Lifetimes)} lifetimes",
            { EndedByCap: true } => $"NOT met: ended by the cap at {Format.Count(verdict.Lifetimes)} lifetimes",
            _ => $"NOT met: ended after {Format.Count(verdict.Lifetimes)} lifetimes, for what is left cannot be reached",
        };
        return $"{head}; {string.Join("; ", verdict.Findings.Select(Of))}";
    }

    /// <summary>What ended the run, in a word or two for files: "targets met", "cap", or "targets unreachable".</summary>
    public static string EndedBy(PrecisionVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return verdict.IsMet ? "targets met" : verdict.EndedByCap ? "cap" : "targets unreachable";
    }

    /// <summary>The member "precision" of summary.json.</summary>
    public static void Add(JsonObject root, PrecisionVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(root);
        ArgumentNullException.ThrowIfNull(verdict);
        var target = root.Object("precision");
        target.Add("met", verdict.IsMet);
        target.Text("endedBy", EndedBy(verdict));
        target.Count("lifetimes", verdict.Lifetimes).Count("atMost", verdict.MostLifetimes).Count("looks", verdict.Looks);
        var list = target.Array("targets");
        foreach (var finding in verdict.Findings)
        {
            var item = new JsonObject().Text("figure", finding.Measure.Id)
                .Text("halfWidthOf", finding.Target.IsRelative ? "part of the figure" : finding.Measure.Unit ?? "the figure itself")
                .Number("asked", finding.Asked).Number("reached", finding.HalfWidth, finding.Reason ?? "no interval")
                .Text("outcome", finding.Outcome switch { PrecisionOutcome.Met => "met", PrecisionOutcome.NotMet => "not met", _ => "unreachable" });
            if (finding.Enough is { } enough)
            {
                item.Count("lifetimesEnough", enough);
            }

            list.Add(item);
        }
    }

    private static string Of(PrecisionFinding finding)
    {
        string words = finding.Measure.Meaning.Split([" (", ":", ","], 2, StringSplitOptions.None)[0], asked = $"asked {Width(finding, finding.Asked)}";
        string enough = finding.Enough is { } n ? $"; about {Format.Count(n)} lifetimes would be enough" : "";
        return finding switch
        {
            { Outcome: PrecisionOutcome.Unreachable } => $"{words} is unreachable: {finding.Reason}",
            { HalfWidth: { } h } => $"{words} {Width(finding, h)} ({asked}{enough})",
            _ => $"{words} has no interval ({finding.Reason}; {asked}{(finding.Reason?.Contains("would be enough", StringComparison.Ordinal) == true ? "" : enough)})",
        };
    }

    private static string Width(PrecisionFinding finding, double half) =>
        "±" + (finding.Target.IsRelative ? Format.Value(100.0 * half, "%", 2) : Format.Value(half, finding.Measure.Unit, 2));
}
