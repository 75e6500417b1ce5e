using CureSim.Core.Cell;
using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>What each reader of a run's report does with it, in a sentence or two above the evidence.</summary>
internal static class RunActions
{
    /// <summary>Who runs the line: the routine, what slips through it, and what to watch.</summary>
    public static IEnumerable<string> ForLine(RunFindings findings)
    {
        var cell = findings.Run.Scenario;
        if (cell.Checks is not { } checks)
        {
            yield return "The scenario has no checks, so nobody sees what drifts: give it a routine (block checks) before anything is decided on this page.";
            yield break;
        }

        double hours = checks.IntervalSteps * cell.Production.StepSeconds / 3600.0;
        string unseen = Said(findings, "time_out_undetected_percent") is { } share ? $" Between checks {share} of production time passes out of the qualified state before anybody knows." : "";
        yield return $"To do: check every {Format.Hours(hours)} of production, set to {Format.Value(checks.TargetWattsPerSquareMetre / 1e4, "W/cm²")}, set again beyond ±{Format.PerCent(checks.AdjustLimit)}, "
            + $"look for causes beyond ±{Format.PerCent(checks.ActionLimit)}.{unseen}";
        if (findings.EndCauses.Where(c => c.Percent >= 0.5).Select(c => (RequalifyEvent?)c.Cause).FirstOrDefault() is { } first)
        {
            yield return $"To watch: {RunFindings.Words(first)} is what ends most first cycles. {Watch(first)}";
        }
    }

    /// <summary>Who pays: what a year brings.</summary>
    public static IEnumerable<string> ForManagement(RunFindings findings)
    {
        string[] planned = [.. new[] { (Id: "requalifications_per_year", Words: "requalifications"), (Id: "emitters_per_year", Words: "emitters"), (Id: "guides_per_year", Words: "guides") }
            .Select(x => Said(findings, x.Id) is { } value ? $"{x.Words} {value}" : "").Where(x => x.Length > 0)];
        if (planned.Length > 0)
        {
            yield return $"To plan for one cell and year: {string.Join(", ", planned)}."
                + (Said(findings, "downtime_percent") is { } lost ? $" Checks, replacements and requalifications take {lost} of production time." : "");
        }

        if (findings.Run.Find("parts_nonconforming_conditional_ppm")?.Estimate is { Value: { } ppm, Lower95: { } low, Upper95: { } high } && findings.Run.Find("parts_made_per_year")?.Estimate.Value is { } made)
        {
            yield return $"Of {Format.Value(made, null, 3)} parts a year {Format.Interval(made * ppm * 1e-6, made * low * 1e-6, made * high * 1e-6)} are nonconforming in the mean over cells. What a change would cost or save: the ownership and interval studies.";
        }
    }

    /// <summary>Who signs: what may be claimed and what is missing for it.</summary>
    public static IEnumerable<string> ForValidation(RunFindings findings)
    {
        int typical = findings.Context.Inputs.Count(i => i.Origin == "typical" && i.Level is not null);
        yield return findings.Requirement is not { } verdict ? "Nothing is required in this scenario (requalification), so the page supports no claim of capability; it gives figures with their intervals."
            : verdict.IsMet ? $"May be claimed of the simulated cells: nineteen in twenty reach a state index of {Format.Value(verdict.Required)} {verdict.Moment}."
                + (typical > 0 ? $" Before it is claimed of your cell: replace {(typical == 1 ? "the typical physical input" : $"the {Format.Count(typical)} typical physical inputs")} by your own, and compare the prediction with readings as found." : " Before it is claimed of your cell: compare the prediction with readings as found.")
            : $"A state index of {Format.Value(verdict.Required)} cannot be claimed: begin with the largest part of the spread below.";
        yield return findings.TimeModel is { } model ? $"Time-dependent model of ISO 22514-2: {model.Model.Letter}. {char.ToUpperInvariant(model.Reason[0])}{model.Reason[1..]}." : "The dose does not vary.";
    }

    private static string Watch(RequalifyEvent cause) => cause switch
    {
        RequalifyEvent.LoopSaturated => "Read the drive at every check, and replace the emitter while full drive still reaches the target.",
        RequalifyEvent.OutOfToleranceFound => "Check more often, or take away what moves the cell between checks; the interval study says which.",
        RequalifyEvent.StateLost => "The dose has moved while readings need not show it: fixture, guide's legs, fouling.",
        RequalifyEvent.EmitterReplaced or RequalifyEvent.GuideReplaced => "It is planned: keep the parts and the time for it.",
        _ => "See what moves the dose in the pictures below.",
    };

    private static string? Said(RunFindings findings, string id) => findings.Run.Find(id) is { Estimate.Value: not null } figure ? FigureText.Of(figure.Estimate, figure.Measure.Unit is "1/yr" or "1" ? null : figure.Measure.Unit) : null;
}
