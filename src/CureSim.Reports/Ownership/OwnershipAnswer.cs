using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>The answer of the ownership study in about ten lines for a terminal: the decision first, with how sure it is.</summary>
public static class OwnershipAnswer
{
    private const int MostNamed = 3;

    /// <summary>What was compared.</summary>
    public static string Heading(OwnershipResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var cell = study.Reference.Run.Scenario;
        var run = cell.Run;
        string worlds = run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds × " : "";
        var rate = cell.Ownership!.DiscountRate;
        return $"{string.Join(" or ", study.Present.Options.Select(o => o.Label))}: {study.Years} years, the same {worlds}{Format.Count(run.LifetimesPerWorld)} lifetimes for each, seed {run.Seed}; "
            + $"{(cell.Ownership.Money == Core.Cell.MoneyTerms.Real ? "real" : "nominal")} {study.Currency} discounted at {Format.PerCent(rate.Mean)}, {OwnershipWords.Convention(cell.Ownership.Discounting)}";
    }

    /// <summary>The lines.</summary>
    public static IReadOnlyList<AnswerLine> Of(OwnershipResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        string currency = study.Currency;
        var (pair, a, b) = (study.Pair, study.Challenger, study.Reference);
        string chance = $"{a.Label} ahead of {b.Label} after {study.Years} years in {OwnershipWords.Chance(pair.Ahead[^1])}";
        var lines = new List<AnswerLine>
        {
            Decision(study),
            new("chance", $"{chance}{ByYear(pair)}; {Held(pair)}") { Brief = chance },
        };
        lines.AddRange(study.Present.Options.Take(MostNamed).Select(o => new AnswerLine(o.Label, Window(o, currency), o.HoldsWindow == false ? AnswerTone.Missed : AnswerTone.Plain)));
        if (pair.Even < 1.0)
        {
            var (start, further, payback) = Change(pair, currency);
            lines.Add(new("change", $"{start}; {further}; {payback}") { Brief = $"{start}; {payback}" });
            lines.Add(new("where from", WhereFrom(pair, currency)) { Brief = "" });
        }

        if (Routine(study) is { } routine)
        {
            lines.Add(routine);
        }

        var (turn, most) = Turning(study);
        lines.Add(new("would turn it", turn + most) { Brief = turn });
        lines.Add(new("consumed", string.Join("; ", study.Present.Options.Take(MostNamed).Select(Consumed))) { Brief = "" });
        lines.Add(new("brackets", $"(…) 95 % Monte-Carlo intervals{(study.Reference.Run.Scenario.Run.Worlds > 1 ? " over worlds" : "")}; a future is one simulated cell with its prices")
        {
            Brief = "(…) 95 % intervals of the simulation; kinds of cost, what is consumed and more are in the report",
        });
        return lines;
    }

    private static AnswerLine Decision(OwnershipResult study)
    {
        var (pair, a, b) = (study.Pair, study.Challenger, study.Reference);
        var mean = pair.Mean[^1];
        if (pair.Even == 1.0)
        {
            return new("even", $"{a.Label} and {b.Label} cost exactly the same in every simulated future");
        }

        bool told = mean is { Lower95: > 0.0 } or { Upper95: < 0.0 }, cheaper = mean.Value < 0.0;
        var (winner, loser) = cheaper ? (a, b) : (b, a);
        bool change = b.Run.Option.Installed && !a.Run.Option.Installed;
        string sure = Sure(study, winner, loser);
        if (winner.HoldsWindow == false && loser.HoldsWindow == true)
        {
            return new("do not take", $"{winner.Label}: {Costs(study, winner, loser)}, but it does not hold the window; {loser.Label} does{sure}", AnswerTone.Missed);
        }

        string beware = winner.HoldsWindow == false ? $"; beware: {winner.Label} does not hold the window" + (loser.HoldsWindow == false ? ", nor does the other" : "") : "";
        if (!told)
        {
            return new("open", $"which costs less cannot be told: {Costs(study, a, b)}{Sure(study, a, b)}{beware}");
        }

        string verb = change ? cheaper ? $"change to {a.Label}" : $"keep {b.Label}" : $"take {winner.Label}";
        return new(verb, $"{Costs(study, winner, loser)}{sure}{beware}", winner.HoldsWindow == false ? AnswerTone.Missed : AnswerTone.Met);
    }

    /// <summary>The decision in a few words with the chance that it comes true: the headline of a page.</summary>
    public static string Headline(OwnershipResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var line = Decision(study);
        var (a, b) = (study.Challenger, study.Reference);
        if (study.Pair.Even == 1.0)
        {
            return $"Even: {line.Text}";
        }

        // The chance is that of the option which the words name.
        bool cheaper = study.Pair.Mean[^1].Value < 0.0;
        var (named, other) = line.Label == "open" || cheaper ? (a, b) : (b, a);
        string word = line.Label == "do not take" ? $"do not take {named.Label}" : line.Label;
        return $"{PlainText.Capital(word)}: {OwnershipWords.ShareWithError(study.Present.Pair(named, other).Ahead[^1])} chance that {named.Label} is ahead of {other.Label} after {study.Years} years";
    }

    private static string Costs(OwnershipResult study, OptionMoney option, OptionMoney other) => OwnershipWords.Costs(option.Label, other.Label, study.Present.Pair(option, other).Mean[^1], study.Years, study.Currency);

    private static string Ahead(OwnershipResult study, OptionMoney option, OptionMoney other) =>
        $"chance that {option.Label} is ahead of {other.Label} after {study.Years} years {OwnershipWords.ShareWithError(study.Present.Pair(option, other).Ahead[^1])}";

    // How often, and how far it may go the other way.
    private static string Sure(OwnershipResult study, OptionMoney option, OptionMoney other)
    {
        var pair = study.Present.Pair(option, other);
        string band = pair.Quantiles[^1] is [{ Value: { } low }, _, { Value: { } high }] && high > low ? $"; in nine of ten futures {OwnershipWords.Between(low, high, study.Currency)}" : "";
        return $"; {Ahead(study, option, other)} (standard error){band}";
    }

    private static string ByYear(OptionPair pair)
    {
        int years = pair.Ahead.Length - 1;
        int[] shown = [.. new[] { 1, 2, 3, 5, 7, 10, 15 }.Where(y => y < years).TakeLast(3)];
        return string.Concat(shown.Where(y => pair.Ahead[y].Value is not null).Select(y => $", after {y} in {OwnershipWords.Chance(pair.Ahead[y])}"));
    }

    private static string Held(OptionPair pair) => pair.AheadBothHold[^1].Value is { } v
        ? $"where both hold the window {OwnershipWords.Percent(v)} (both do in {(pair.BothHold.Value is { } h ? OwnershipWords.Percent(h) : "–")})"
        : $"where both hold the window: withheld ({pair.AheadBothHold[^1].Withheld})";

    private static string Window(OptionMoney o, string currency)
    {
        string parts = $"{OwnershipWords.Money(o.PerGoodPart, currency)} a good part";
        if (o.Run.Option.NonconformingLimit is not { } limit)
        {
            return $"{parts}; nothing says what holding the window is";
        }

        string verdict = o.HoldsWindow switch { true => "holds the window", false => "does not hold the window", _ => "cannot be said to hold the window" };
        string worst = o.PpmUnfavourable is { } w ? w < OwnershipWords.LeastPpm ? "" : $", {Format.Value(w, null, 2)} at the unfavourable end" : "";
        return $"{verdict}: {OwnershipWords.Ppm(o.Ppm)}{worst}, {Format.Value(1e6 * limit, null, 3)} allowed; {parts}";
    }

    private static (string Start, string Further, string Payback) Change(OptionPair pair, string currency)
    {
        string affordable = $"it may cost up to {OwnershipWords.Money(pair.AffordableAt50, currency)} more at the start for even odds of being ahead, {OwnershipWords.Money(pair.AffordableAt90, currency)} for 90 %";
        double sum = 0.0;
        int? median = null;
        for (int y = 0; y < pair.Payback.Length - 1 && median is null; y++)
        {
            sum += pair.Payback[y].Value ?? 0.0;
            median = sum >= 0.5 ? y : null;
        }

        string payback = median is { } m ? m == 0 ? "ahead from the start" : $"in half of the futures ahead for good by the end of year {m}" : "in less than half of the futures ahead for good within the horizon";
        double wait = pair.Option.MeanOf(c => c.ChangeYears).Value ?? 0.0;
        string project = wait > 0.0 ? $"; {Format.Fixed(wait, 1)} years pass until it is made" : "";
        return ($"{pair.Option.Label} takes {OwnershipWords.Money(pair.ExtraAtStart, currency)} more at the start", affordable, $"{payback}, never in {OwnershipWords.Chance(pair.Payback[^1])}{project}");
    }

    private static string WhereFrom(OptionPair pair, string currency)
    {
        var kinds = CostKinds.All.Select(k => (Kind: k, Mean: pair.ByKind[(int)k])).Where(k => k.Mean.Value is { } v && v != 0.0).OrderByDescending(k => Math.Abs(k.Mean.Value!.Value)).ToArray();
        if (kinds.Length == 0)
        {
            return "no kind of cost differs";
        }

        var shown = kinds.Take(MostNamed + 1).ToArray();
        string One((CostKind Kind, Estimate Mean) k) => $"{OwnershipWords.MoreOrLess(k.Mean, currency)} for {CostKinds.Name(k.Kind)}";
        string electricity = shown.Any(k => k.Kind == CostKind.Energy) || kinds.All(k => k.Kind != CostKind.Energy) ? ""
            : $"; for electricity only {OwnershipWords.MoreOrLess(pair.ByKind[(int)CostKind.Energy], currency)}";
        return $"{pair.Option.Label} pays {string.Join(", ", shown.Select(One))}{electricity}";
    }

    private static AnswerLine? Routine(OwnershipResult study)
    {
        if (study.Routines.IsEmpty)
        {
            return null;
        }

        string found = string.Join("; ", study.Routines.Select(r => $"{r.Option.Label} {(r.Remark is { } remark ? remark : r.IsPresent ? "as it is" : $"every {r.Timing!.Name}")}"));
        string then = study.OwnPair is { } own
            ? $": {OwnershipWords.Costs(own.Option.Label, own.Other.Label, own.Mean[^1], study.Years, study.Currency)}; {own.Option.Label} ahead in {OwnershipWords.Chance(own.Ahead[^1])}"
            : ": nothing changes";
        return new("own routine", $"each at its cheapest checks that meet the requirement ({found}){then}");
    }

    private static (string Turns, string Most) Turning(OwnershipResult study)
    {
        if (study.Pair.Even == 1.0)
        {
            return ("nothing was decided: no input that both share can set them apart", "");
        }

        var turning = study.WhatIf.Turning.ToArray();
        var open = turning.Where(t => t.Outcome == Outcome.Open).Select(t => t.Row).ToArray();
        var turns = turning.Where(t => t.Outcome == Outcome.Other).Select(t => t.Row).ToArray();
        string Name(WhatIfRow r) => $"{OwnershipWords.Input(r.Path)} for {r.Options}" + (r.BreakEven is { } e ? $" (even at {OwnershipWords.ValueOf(r, e, study)})" : "");
        string what = turns.Length == 0 ? "no input alone between its 10th and 90th percentile" : string.Join(", ", turns.Take(MostNamed).Select(Name)) + (turns.Length > MostNamed ? $" and {turns.Length - MostNamed} more" : "");
        string left = open.Length == 0 ? "" : $"; left open by {string.Join(", ", open.Take(MostNamed).Select(Name))}{(open.Length > MostNamed ? $" and {open.Length - MostNamed} more" : "")}";
        var most = study.WhatIf.Rows.FirstOrDefault(r => r.Swing > 0.0);
        return (what + left, most is null ? "" : $"; moved most by {Name(most)}: {Ends(most, study)}");
    }

    /// <summary>What an input does to the difference at its 10th and at its 90th percentile.</summary>
    internal static string Ends(WhatIfRow row, OwnershipResult study)
    {
        string At(double? value, Estimate there, string percentile) =>
            $"at its {percentile} percentile{(value is { } v ? $" ({OwnershipWords.ValueOf(row, v, study)})" : "")} {study.Challenger.Label} costs {OwnershipWords.MoreOrLess(there, study.Currency)}";
        return $"{At(row.Low, row.AtLow!, "10th")}, {At(row.High, row.AtHigh!, "90th")}";
    }

    private static string Consumed(OptionMoney o)
    {
        var emission = o.MeanOf(c => c.Emission);
        string carbon = emission.Value is not null ? $", {OwnershipWords.Amount(emission, "kg")} CO2e" + (o.Run.Scenario.Ownership!.EmissionYear is { } year ? $" (factor of {year})" : "") : "";
        var (emitters, mercury) = (o.MeanOf(c => c.Emitters), o.MeanOf(c => c.MercuryEmitters));
        string lamps = mercury.Value is not > 0.0 ? "" : mercury.Value == emitters.Value ? ", all with mercury" : $", {OwnershipWords.Amount(mercury, null)} with mercury";
        return $"{o.Label} emitters {OwnershipWords.Amount(emitters, null)}{lamps}, guides {OwnershipWords.Amount(o.MeanOf(c => c.Guides), null)}, {OwnershipWords.Amount(o.MeanOf(c => c.Energy), "kWh")}{carbon}";
    }
}
