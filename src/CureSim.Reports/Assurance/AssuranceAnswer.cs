using CureSim.Core.Cell;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Assurance;

namespace CureSim.Reports.Assurance;

/// <summary>The answer of an assurance study in lines for a terminal.</summary>
public static class AssuranceAnswer
{
    /// <summary>What was simulated.</summary>
    public static string Heading(AssuranceStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var (run, p) = (study.Scenario.Run, study.Scenario.Production);
        string worlds = run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds × " : "";
        return $"{study.Scenario.Name}: qualification simulated in {worlds}{Format.Count(run.LifetimesPerWorld)} lifetimes of {Format.Value(p.HorizonSeconds / p.YearSeconds)} years, seed {run.Seed}";
    }

    /// <summary>The lines.</summary>
    public static IReadOnlyList<AnswerLine> Of(AssuranceStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var lines = new List<AnswerLine>();
        foreach (var plan in study.Plans)
        {
            lines.AddRange(Of(plan));
        }

        lines.Add(new("brackets", study.Scenario.Run.Worlds > 1
            ? "(…) 95 % Monte-Carlo intervals, […] 5 to 95 % of worlds; the simulated cells are as good as the distributions given"
            : "(…) 95 % Monte-Carlo intervals; the simulated cells are as good as the distributions given"));
        return lines;
    }

    private static IEnumerable<AnswerLine> Of(PlanAssurance found)
    {
        var (rule, own) = (found.Rule, found.Own);
        yield return new(rule.Plan.Name, $"{AssuranceWords.Accepts(rule)}; {own.Label}. Textbook: {AssuranceWords.Textbook(rule)}");
        if (own.Figures(rule.Plan.Good) is not { } figures)
        {
            yield return new("  withheld", own.Withheld!);
            yield break;
        }

        string goodIs = $"good: {AssuranceWords.Good(rule)}";
        if (figures.PassIfNotGood.Estimate is { Value: null, Count: 0 })
        {
            yield return new("  passes", $"{AssuranceWords.Share(figures.Pass)} of the cells ({goodIs})");
            yield return new("  wrongly", $"no simulated cell is not good, so none passes wrongly ({AssuranceWords.Share(figures.NotGood)})");
            yield break;
        }

        yield return new("  passes", $"{AssuranceWords.Share(figures.Pass)} of the cells; {AssuranceWords.Share(figures.NotGood)} of all are not good ({goodIs})");
        yield return new("  wrongly", $"{AssuranceWords.Share(figures.PassAndNotGood)} pass while not good; of the cells that are not good {AssuranceWords.Share(figures.PassIfNotGood)} pass, textbook at most {Format.PerCent(rule.TextbookRisk)}");
        string moment = rule.Plan.Good == GoodOver.Horizon && own.AtQualification is { } then
            ? $"; judged by the states in which the parts were taken {AssuranceWords.Share(then.NotGoodIfPass)}" : "";
        yield return new("  once passed", $"{AssuranceWords.Share(figures.NotGoodIfPass)} of the cells that passed are not good{moment}");
        if (Spread(found) is { } spread)
        {
            yield return new("  spread", spread);
        }
    }

    private static string? Spread(PlanAssurance found)
    {
        if (found.MostSpread is not { } most || most.Figures(found.Rule.Plan.Good) is not { } figures)
        {
            return null;
        }

        string equal = found.Own.EquivalentParts is { Value: { } one } && most.EquivalentParts is { Value: { } many }
            ? $"; the parts prove as much as {Format.Value(one, null, 2)} independent ones as planned, {Format.Value(many, null, 2)} so" : "";
        return $"the same parts over {most.Label} (until {Format.Hours(most.LastHours ?? 0.0)}): {AssuranceWords.Share(figures.PassIfNotGood)} of the cells that are not good pass{equal}";
    }
}
