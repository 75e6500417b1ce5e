using CureSim.Reports.Capability;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Plans;

namespace CureSim.Reports.Plans;

/// <summary>What the report of sample sizes says.</summary>
public static class PlanContent
{
    /// <summary>The content.</summary>
    public static ReportContent Of(SamplePlanTables plans)
    {
        ArgumentNullException.ThrowIfNull(plans);
        string pair = $"{IntervalText.Stated(plans.Confidence)} confidence, {IntervalText.Stated(plans.Reliability)} reliability";
        ReportItem[] items = [.. PlanTables.Of(plans).Select(p => ReportItem.Of(PageTable.Of(p.Table), $"{p.Caption}. Source: {p.Source}."))];
        var zero = plans.Attribute[0];
        return new()
        {
            Command = "plan",
            Title = $"Sample sizes, {pair}",
            Question = $"How many parts show {pair}?",
            Judgement = Judgement.None,
            Decision = $"{Format.Count(zero.Parts)} parts, none nonconforming",
            Answer = $"{Format.Count(zero.Parts)} independent parts with none nonconforming show that {IntervalText.Stated(plans.Reliability)} of the parts conform, with {Format.PerCent(zero.Confidence)} confidence. Other plans stand in the tables.",
            HowSure = "The numbers are exact; nothing is sampled.",
            LargestAssumption = Assumption.Of("that the parts are independent", null, "is what every textbook plan takes, nobody's measurement",
                "parts of one set-up, lot or emitter prove less, so that more of them, from more set-ups, would be needed; plan with a scenario says how many"),
            Decisive = items[0],
            Evidence = [new(Reader.Validation, "tables for a protocol", ["To do: choose the pair of confidence and reliability by the risk of a nonconforming bond, state it with its reason, and take the parts from several set-ups and lots."], [.. items.Skip(1)])],
            Method = ["Every number is worked out when the command runs, and checked against published rows by self-check; none is recalled.", "docs/capability.md names method and source of each table."],
            NotModelled = ["That parts share emitter, set-up, lots and meter. With a scenario, plan simulates the qualification itself."],
            Cautions = ["The pair of confidence and reliability is for the protocol to choose and to justify.", "Sample plans do not replace the maker's data sheet, local codes or a professional's judgement."],
            Reproduce = ["curesim plan --out FOLDER …", "with the same options."],
        };
    }
}
