using CureSim.Core.Cell;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Assurance;

namespace CureSim.Reports.Assurance;

/// <summary>What the report of a qualification's assurance says.</summary>
public static class AssuranceContent
{
    /// <summary>The content.</summary>
    /// <param name="study">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(AssuranceStudy study, RunContext context, bool plots)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(context);
        var cell = study.Scenario;
        var basis = TypicalBasis.Of(context.Inputs, cell.Run.Worlds);
        ReportItem[] figures = plots ? [.. AssurancePlots.Of(study).Select(f => ReportItem.Of(f, f.Name.StartsWith("setups", StringComparison.Ordinal)
            ? "Cells that are not good and pass, when the same parts come from more set-ups and lots; with 95 % intervals."
            : "Chance to pass against the cell's own fraction nonconforming, beside the curve for independent parts."))] : [];
        var first = study.Plans[0];
        var own = first.Own.Figures(first.Rule.Plan.Good);
        var rows = ReportItem.Of(Rows(study), "Every plan, as planned and with its parts spread otherwise.");
        return new()
        {
            Command = "plan",
            Title = cell.Name,
            Question = "How often does the qualification pass, and how often does it pass while the cell is not good?",
            Judgement = Judgement.None,
            Decision = own is null ? $"{first.Rule.Plan.Name}: withheld" : $"{first.Rule.Plan.Name}: {AssuranceWords.Share(own.Pass)} of cells pass",
            Answer = own is null ? first.Own.Withheld ?? "Withheld."
                : $"{AssuranceWords.Accepts(first.Rule)}, {first.Own.Label}. Of the cells that are not good (more than {AssuranceWords.Ppm(first.Rule.Claimed)} nonconforming) {AssuranceWords.Share(own.PassIfNotGood)} pass all the same; "
                    + $"the textbook, which takes parts for independent, says at most {Format.PerCent(first.Rule.TextbookRisk)}. Of the cells that passed {AssuranceWords.Share(own.NotGoodIfPass)} are not good.",
            HowSure = CommonTexts.HowSure(cell),
            LargestAssumption = LargestAssumption(study, context),
            Lines = [.. AssuranceAnswer.Of(study)],
            Decisive = figures.Length > 0 ? figures[0] : rows,
            Evidence =
            [
                new(Reader.Validation, "what each plan proves", ["To do: write into the protocol from how many set-ups, lots and emitter ages the parts come; the same parts from more of them prove more, as the table shows.", .. study.Plans.Select(p => $"{p.Rule.Plan.Name}: {AssuranceWords.Accepts(p.Rule)}. Good: {AssuranceWords.Good(p.Rule)}. Textbook: {AssuranceWords.Textbook(p.Rule)}.")],
                    [.. figures.Skip(1), .. figures.Length > 0 ? [rows] : Array.Empty<ReportItem>()]),
            ],
            Inputs = [new(cell.Name, context.Sha256, context.Inputs)],
            Basis = basis.Words,
            Method =
            [
                .. CommonTexts.Method(cell),
                "In every simulated lifetime parts are taken as the plan says, at moments of the cell's own course, judged, and compared with what is known of that cell.",
                "Shares over lifetimes: exact binomial intervals; with worlds the worlds are the units, and a share with fewer than ten lifetimes on a side is withheld.",
                "As many independent parts: the number with which as many cells that are not good would pass if every part came from a moment of its own.",
            ],
            NotModelled = [.. CommonTexts.NotModelled, "Parts that are chosen, remade or read twice; a protocol that is changed on the way."],
            Checks = [.. CommonTexts.Checks(context)],
            Cautions = CommonTexts.Cautions,
            Reproduce = CommonTexts.Reproduce,
        };
    }

    // What the parts of one qualification share decides what they prove: the widest input of that kind.
    private static string LargestAssumption(AssuranceStudy study, RunContext context)
    {
        var (cell, first) = (study.Scenario, study.Plans[0]);
        string size = first.Own.Figures(first.Rule.Plan.Good) is { } own && first.MostSpread is { } most && most.Figures(first.Rule.Plan.Good) is { } spread
            ? $"; taken as planned {AssuranceWords.Share(own.PassIfNotGood)} of the cells that are not good pass, from {most.Label} {AssuranceWords.Share(spread.PassIfNotGood)}" : "";
        string wrong = $"the parts of one qualification share it, so were it larger, they would prove less than their number says, were it smaller, more{size}";
        return WeightiestInput.Of(cell, context, i => i.Level is not "part" and not "reading") is { } input ? Assumption.Of(input, wrong)
            : Assumption.Of("that nothing differs between set-ups, lots and emitters", null, "is what the scenario says", "were it otherwise, the parts would prove less than their number says");
    }

    private static PageTable Rows(AssuranceStudy study)
    {
        var rows = study.Plans.SelectMany(p => p.Rows.Select(r =>
        {
            var f = r.Figures(p.Rule.Plan.Good);
            string Share(AssuranceShare? share) => share is null ? "–" : AssuranceWords.Share(share);
            return (string[])
            [
                p.Rule.Plan.Name, r.Label, r.LastHours is { } h ? Format.Hours(h) : "–", Share(f?.Pass), Share(f?.PassIfNotGood), Share(f?.NotGoodIfPass),
                r.EquivalentParts is { Value: { } n } ? Format.Value(n, null, 2) : "–",
            ];
        })).ToArray();
        return PageTable.OfTexts(["Plan", "Parts from", "Until", "Pass", "Not good, yet pass", "Passed, yet not good", "As many independent parts"], rows.Take(PageTable.MostRows))
            with { File = "tables/assurance.csv", Total = rows.Length };
    }
}
