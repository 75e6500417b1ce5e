using System.Text.Json.Nodes;
using CureSim.Core.Statistics;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.Ownership;

namespace CureSim.Reports.Ownership;

/// <summary>summary.json of the ownership study.</summary>
public static class OwnershipSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(OwnershipResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        var document = new SummaryDocument("ownership", string.Join(" or ", study.Present.Options.Select(o => o.Label)));
        var root = document.Root;
        var cell = study.Reference.Run.Scenario;
        RunSummary.AddSize(root, cell);
        root.Text("currency", study.Currency).Text("money", cell.Ownership!.Money.ToString().ToLowerInvariant()).Text("discounting", OwnershipWords.Convention(cell.Ownership.Discounting));
        root.Number("discountRateMean", cell.Ownership.DiscountRate.Mean);
        root.Text("challenger", study.Challenger.Label).Text("reference", study.Reference.Label);
        var present = root.Object("present");
        Add(present, study.Present);
        if (study.Own is { } own)
        {
            Add(root.Object("ownRoutine"), own);
        }

        var rows = root.Array("whatIf");
        foreach (var row in study.WhatIf.Rows)
        {
            var target = new JsonObject().Text("input", row.Path).Text("of", row.Options).Text("by", row.Physical ? "simulated again" : "repriced").Number("mean", row.Mean);
            if (row.AtLow is { } low && row.AtHigh is { } high)
            {
                target.Number("p10", row.Low).Number("p90", row.High).Text("decision", OwnershipWords.Decision(row, study.WhatIf));
                RunSummary.AddEstimate(target.Object("differenceAtP10"), low);
                RunSummary.AddEstimate(target.Object("differenceAtP90"), high);
            }

            target.Number("breakEven", row.BreakEven, "none from 0 up");
            rows.Add(target);
        }

        MachineDigits.Apply(root);
        return document;
    }

    private static void Add(JsonObject target, Comparison set)
    {
        var options = target.Array("options");
        foreach (var o in set.Options)
        {
            int years = o.Run.Years;
            var row = new JsonObject().Text("label", o.Label).Text("sha256", o.Run.Option.Sha256);
            row.Add("installed", JsonValue.Create(o.Run.Option.Installed));
            Estimated(row, "cost", o.Mean(years));
            foreach (double p in OptionPair.Bands)
            {
                Estimated(row, FormattableString.Invariant($"costP{100.0 * p:00}"), o.Quantile(years, p));
            }

            Estimated(row, "paidAtStart", o.Start);
            Estimated(row, "costPerGoodPart", o.PerGoodPart);
            Estimated(row, "nonconformingPpm", o.Ppm);
            Estimated(row, "lifetimesThatHold", o.HoldsShare);
            row.Text("holdsTheWindow", o.HoldsWindow switch { true => "yes", false => "no", _ => "not known" });
            Estimated(row, "energyKwh", o.MeanOf(c => c.Energy));
            Estimated(row, "emissionKgCo2e", o.MeanOf(c => c.Emission));
            Estimated(row, "emitters", o.MeanOf(c => c.Emitters));
            Estimated(row, "mercuryEmitters", o.MeanOf(c => c.MercuryEmitters));
            Estimated(row, "guides", o.MeanOf(c => c.Guides));
            var kinds = row.Object("costByKind");
            foreach (var kind in CostKinds.All)
            {
                Estimated(kinds, CostKinds.Id(kind), o.OfKind(kind));
            }

            options.Add(row);
        }

        var pairs = target.Array("pairs");
        foreach (var (a, b) in set.Options.SelectMany(a => set.Options.Where(b => b != a).Select(b => (a, b))))
        {
            var pair = set.Pair(a, b);
            var row = new JsonObject().Text("option", a.Label).Text("against", b.Label);
            Estimated(row, "difference", pair.Mean[^1]);
            Estimated(row, "chanceAhead", pair.Ahead[^1]);
            Estimated(row, "chanceAheadWhenBothHold", pair.AheadBothHold[^1]);
            Estimated(row, "extraAtStart", pair.ExtraAtStart);
            Estimated(row, "affordableAt50Percent", pair.AffordableAt50);
            Estimated(row, "affordableAt90Percent", pair.AffordableAt90);
            Estimated(row, "neverAhead", pair.Payback[^1]);
            pairs.Add(row);
        }
    }

    private static void Estimated(JsonObject target, string name, Estimate e) => RunSummary.AddEstimate(target.Object(name), e);
}
