using CureSim.Reports.Pages;
using CureSim.Reports.Plans;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>The qualification plan as one page to be printed and signed: no scripts, nothing from elsewhere, every text escaped.</summary>
public static class ProtocolPage
{
    private static readonly string[] Cautions =
    [
        "Predictions are of a model with the inputs of the scenario; the qualification is what is measured. A result outside its predicted interval says that model and cell differ: find out why before going on.",
        "All conditions of a challenge point at once are rarer than any one of them.",
        "Limits hold within the rectangle only. A dose reached at another irradiance or time is another cure.",
        "Points outside what has been tested are not covered by anything on this page.",
        "UV light injures eyes and skin; mercury lamps are hot and pressurised; uncured adhesive is a sensitiser. Follow local codes, the makers' data sheets and licensed practice.",
    ];

    /// <summary>The page.</summary>
    public static string Of(WindowResult result, RunContext context)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(context);
        var study = result.Map.Case;
        var html = PageShell.BeginForm("CureSim qualification plan", $"Qualification plan: {study.Cell.Name}");
        string seed = study.Cell.Run.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture);
        html.Element("p", $"Process validation: 21 CFR 820 (QMSR) / ISO 13485 7.5.6, formerly 820.75. Stages after GHTF SG3/N99-10:2004. Scenario: sha256 {context.Sha256}, seed {seed}.");
        html.Facts(
        [
            .. WindowAnswer.Of(result).Take(4).Select(l => (PlainText.Capital(l.Label), l.Text)),
            ("How sure", $"{CommonTexts.HowSure(study.Cell)} Margins are in state index, 0 is the requirement. Predicted means and parts: 2.5 to 97.5 % of what is predicted."),
            ("Largest assumption", WindowContent.LargestAssumption(result, context)), ("Inputs", TypicalBasis.Of(context.Inputs, study.Cell.Run.Worlds).Words),
            ("Record", "Version, machine, date and hashes: record.json in this folder; report.html lists every input with its origin."),
        ]);
        html.Rows("Protocol; result and verdict are filled in by hand.", ProtocolTables.Protocol(result), "protocol");
        html.Signatures(["Plan made by", "Plan approved by", "Carried out by", "Result reviewed by", "Result approved by"]);
        if (result.Actions is { } actions)
        {
            html.Element("h2", "Action limits of an indication").Element("p", $"From the rectangle and a standard uncertainty of {Format.PerCent(actions.Uncertainty)} of one indication ({actions.Parts}){WindowWords.BeyondReadings(result)}.")
                .Rows("Limits on a reading.", ProtocolTables.Actions(actions));
        }

        var (confidence, reliability) = (result.Plans.Confidence, result.Plans.Reliability);
        html.Element("h2", "Sample sizes").Element("p", $"{Format.PerCent(confidence)} confidence, {Format.PerCent(reliability)} reliability: risk {study.Study.Risk.ToString().ToLowerInvariant()}, a pair that is common practice without a source; justify it. {PlanTables.Assumption}");
        foreach (var plan in PlanTables.Of(result.Plans))
        {
            html.Rows(plan.Caption, plan.Table);
        }

        html.Element("h2", "Requalification triggers").Rows("What would call for requalification, and how it would be seen.", PageTable.Of(ProtocolTables.Triggers(result)));
        html.Element("h2", "Cautions").List(Cautions);
        return PageShell.EndForm(html);
    }
}
