using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using CureSim.Core.Statistics;
using CureSim.Reports.Plans;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>The qualification plan as one page to be printed and signed: no scripts, nothing from elsewhere, every text escaped.</summary>
public static class ProtocolPage
{
    private const string Styles = """
        :root { color-scheme: light; }
        body { font: 9.5pt/1.4 "Inter", "Liberation Sans", Arial, sans-serif; color: #111; margin: 2em auto; max-width: 76em; padding: 0 1em; }
        h1 { font-size: 16pt; margin: 0 0 .3em; } h2 { font-size: 12pt; margin: 1.4em 0 .4em; break-after: avoid; }
        table { border-collapse: collapse; width: 100%; margin: .3em 0 1em; } caption { text-align: left; font-weight: 600; padding: .3em 0; }
        th, td { border: .5pt solid #999; padding: 2pt 4pt; vertical-align: top; text-align: left; overflow-wrap: break-word; }
        th { background: #eee; } th.n, td.n { text-align: right; white-space: nowrap; } thead { display: table-header-group; } tr { break-inside: avoid; }
        .protocol { font-size: 8pt; } .protocol td:nth-child(9), .protocol td:nth-child(10) { min-width: 7em; }
        .sign th:first-child { width: 18%; } .sign td { height: 2.6em; } .sign { break-inside: avoid; }
        @page { size: A4 landscape; margin: 12mm 12mm 15mm; }
        @media print { body { margin: 0; max-width: none; padding: 0 1px; } }
        """;

    private static readonly HtmlEncoder Escape = HtmlEncoder.Create(UnicodeRanges.All);

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
        var html = new StringBuilder("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        html.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n");
        html.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Qualification plan</title>\n<style>\n").Append(Styles).Append("\n</style>\n</head>\n<body>\n");
        html.Append("<h1>Qualification plan: ").Append(Text(study.Cell.Name)).Append("</h1>\n<p>Process validation: 21 CFR 820 (QMSR) / ISO 13485 7.5.6, formerly 820.75. Stages after GHTF SG3/N99-10:2004. Scenario: sha256 ");
        html.Append(Text(context.Sha256)).Append(", seed ").Append(Text(study.Cell.Run.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture))).Append(".</p>\n<ul>\n");
        foreach (var line in WindowAnswer.Of(result).Take(4))
        {
            html.Append("<li>").Append(Text($"{line.Label}: {line.Text}")).Append("</li>\n");
        }

        html.Append("</ul>\n").Append(HtmlTable.Of(ProtocolTables.Protocol(result), "Protocol; result and verdict are filled in by hand").Replace("<table>", "<table class=\"protocol\">", StringComparison.Ordinal));
        Signatures(html);
        if (result.Actions is { } actions)
        {
            html.Append("<h2>Action limits of an indication</h2>\n<p>").Append(Text($"From the rectangle and a standard uncertainty of {Format.PerCent(actions.Uncertainty)} of one indication ({actions.Parts}).")).Append("</p>\n").Append(HtmlTable.Of(ProtocolTables.Actions(actions)));
        }

        var (confidence, reliability) = (result.Plans.Confidence, result.Plans.Reliability);
        html.Append("<h2>Sample sizes</h2>\n<p>").Append(Text($"{Format.PerCent(confidence)} confidence, {Format.PerCent(reliability)} reliability: risk {study.Study.Risk.ToString().ToLowerInvariant()}, a pair that is common practice without a source; justify it. {PlanTables.Assumption}")).Append("</p>\n");
        foreach (var plan in PlanTables.Of(result.Plans))
        {
            html.Append(HtmlTable.Of(plan.Table, plan.Caption));
        }

        html.Append("<h2>Requalification triggers</h2>\n").Append(HtmlTable.Of(ProtocolTables.Triggers(result)));
        html.Append("<h2>Cautions</h2>\n<ul>\n");
        foreach (string caution in Cautions)
        {
            html.Append("<li>").Append(Text(caution)).Append("</li>\n");
        }

        return html.Append("</ul>\n</body>\n</html>\n").ToString();
    }

    private static void Signatures(StringBuilder html)
    {
        html.Append("<table class=\"sign\">\n<caption>Sign-off</caption>\n<thead><tr><th scope=\"col\"></th><th scope=\"col\">Name</th><th scope=\"col\">Signature</th><th scope=\"col\">Date</th></tr></thead>\n<tbody>\n");
        foreach (string role in (string[])["Plan made by", "Plan approved by", "Carried out by", "Result reviewed by", "Result approved by"])
        {
            html.Append("<tr><th scope=\"row\">").Append(role).Append("</th><td></td><td></td><td></td></tr>\n");
        }

        html.Append("</tbody>\n</table>\n");
    }

    private static string Text(string text) => Escape.Encode(PlainText.OneLine(text));
}
