using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Statistics;
using CureSim.Studies.Ownership;

namespace CureSim.Tests.Studies.Ownership;

/// <summary>Options against each other: shared prices, mirror images, rules.</summary>
public sealed class ComparisonTests
{
    private static OwnershipResult Study(params string[] texts) =>
        OwnershipResult.Run(OptionRules.Options([.. texts.Select(t => OptionText.Read(t))]), 2, beside: false);

    [Fact]
    public void IdenticalOptions_DifferByNothingWithoutWidth()
    {
        var pair = Study(OptionText.Led, OptionText.Led).Pair;
        Assert.Equal(1.0, pair.Even);
        Assert.All(pair.Mean, m => Assert.Equal((0.0, 0.0, 0.0), (m.Value, m.Lower95, m.Upper95)));
        Assert.All(pair.Quantiles, q => Assert.All(q, e => Assert.Equal((0.0, 0.0, 0.0), (e.Value, e.Lower95, e.Upper95))));
        Assert.Equal(0.0, pair.Ahead[^1].Value);
        Assert.NotEqual(pair.Option.Label, pair.Other.Label);
    }

    [Fact]
    public void SwappedFiles_GiveTheMirrorImage()
    {
        OwnershipResult forth = Study(OptionText.Lamp, OptionText.Led), back = Study(OptionText.Led, OptionText.Lamp);
        Assert.Equal(("LED", "lamp"), (forth.Challenger.Label, forth.Reference.Label));
        Assert.Equal(("LED", "lamp"), (back.Challenger.Label, back.Reference.Label));
        OptionPair a = forth.Present.Pair(forth.Challenger, forth.Reference), b = back.Present.Pair(back.Challenger, back.Reference), mirror = back.Present.Pair(back.Reference, back.Challenger);
        Assert.Equal(a.Mean.AsEnumerable(), b.Mean.AsEnumerable());
        Assert.Equal(a.Ahead.AsEnumerable(), b.Ahead.AsEnumerable());
        Assert.Equal(a.AffordableAt90, b.AffordableAt90);
        for (int y = 0; y < a.Mean.Length; y++)
        {
            Assert.Equal((0.0 - a.Mean[y].Value, 0.0 - a.Mean[y].Upper95, 0.0 - a.Mean[y].Lower95), (mirror.Mean[y].Value, mirror.Mean[y].Lower95, mirror.Mean[y].Upper95));
            Assert.Equal(a.Quantiles[y].Select(q => 0.0 - q.Value).Reverse(), mirror.Quantiles[y].Select(q => q.Value));

            // No two futures cost the same here, so whoever is not ahead is behind.
            Assert.Equal(1.0, a.Ahead[y].Value!.Value + mirror.Ahead[y].Value!.Value, 1e-12);
        }

        Assert.Equal(forth.WhatIf.Rows.Select(r => (r.Path, r.Options, r.AtLow)), back.WhatIf.Rows.Select(r => (r.Path, r.Options, r.AtLow)));
    }

    [Fact]
    public void Pair_AgreesWithItsFutures()
    {
        var study = Study(OptionText.Lamp, OptionText.Led);
        var pair = study.Pair;
        double[] d = [.. pair.Option.Costs.Zip(pair.Other.Costs, (x, y) => x.Total - y.Total)];
        Assert.Equal(d.Average(), pair.Mean[^1].Get(), 1e-9);
        Assert.Equal(d.Count(x => x < 0) / (double)d.Length, pair.Ahead[^1].Get(), 1e-12);
        double[] saving = [.. pair.Option.Costs.Zip(pair.Other.Costs, (x, y) => (y.Total - y.Start) - (x.Total - x.Start))];

        // Type 7, as SciPy's and R's default; the sums are added in another order here.
        Assert.Equal(CureSim.Core.Statistics.SampleQuantile.Of(saving, 0.1), pair.AffordableAt90.Get(), 1e-8);

        // Paying exactly that much more leaves the option ahead in nine futures of ten.
        Assert.Equal(0.9, saving.Count(s => s > pair.AffordableAt90.Get()) / (double)saving.Length, 1e-12);
        Assert.Equal(1.0, pair.Payback.Sum(p => p.Value!.Value), 1e-12);
        Assert.Equal(pair.Mean[^1].Get(), pair.ByKind.Sum(k => k.Value!.Value), 1e-8);
    }

    [Fact]
    public void Price_StatedAlike_IsDrawnAlike()
    {
        var uniform = new UniformDistribution(1, 3);
        Quantity a = new("costs.emitter", Level.Cell, uniform), same = new("costs.emitter", Level.Cell, new UniformDistribution(1, 3)), other = new("costs.emitter", Level.Cell, new UniformDistribution(1, 4));
        double[] Draws(Quantity q) => [.. Enumerable.Range(0, 400).Select(i => Price.Draw(q, 5, 0, (uint)i))];
        Assert.Equal(Draws(a), Draws(same));
        double[] u = [.. Draws(a).Select(x => (x - 1) / 2)], v = [.. Draws(other).Select(x => (x - 1) / 3)];
        double r = u.Zip(v, (x, y) => (x - 0.5) * (y - 0.5)).Average() * 12;

        // Independent uniforms: the correlation's standard error is 1/√400 = 0.05; three of them. Fixed seed.
        Assert.True(Math.Abs(r) < 0.15, $"correlation {r}");
        Assert.Equal(0.5, u.Average(), 3 * 0.2887 / 20);

        // An unknown price is one draw of the world.
        Quantity unknown = new("costs.emitter", Level.Cell, new FixedValue(1), uniform);
        Assert.Single(Draws(unknown).Distinct());
    }

    [Fact]
    public void Rules_NameBothFiles()
    {
        Scenario lamp = OptionText.Read(OptionText.Lamp).Cell, led = OptionText.Read(OptionText.Led, "production.rate=90 /h", "costs.currency=USD", "ownership.discount_rate=5 %", "production.horizon=4 yr").Cell;
        string[] found = [.. OptionRules.Problems([("a.yaml", lamp), ("b.yaml", led)])];
        Assert.Equal(
        [
            "a.yaml and b.yaml: found production.rate 100 /h and 90 /h; accepted: the same production in all options",
            "a.yaml and b.yaml: found production.horizon 3 yr and 4 yr; accepted: the same production in all options",
            "a.yaml and b.yaml: found costs in \"EUR\" and \"USD\"; accepted: one currency",
            "a.yaml and b.yaml: found ownership.discount_rate 8 % and 5 %; accepted: one discount rate",
        ], found);
        found = [.. OptionRules.Problems([("a.yaml", lamp with { Costs = null }), ("b.yaml", OptionText.Read(OptionText.Led, "production.horizon=1400 days").Cell with { Ownership = null })])];
        Assert.Contains("a.yaml: found no costs", found[0], StringComparison.Ordinal);
        Assert.Contains("b.yaml: found no block \"ownership\"", found[1], StringComparison.Ordinal);
        Assert.Contains("b.yaml: found a horizon of 5.6 yr; accepted: whole years", found[2], StringComparison.Ordinal);
    }

    [Fact]
    public void Rules_TellConventionsAsAScenarioStatesThem()
    {
        Scenario lamp = OptionText.Read(OptionText.Lamp).Cell, led = OptionText.Read(OptionText.Led, "ownership.discounting=evenly over the year", "ownership.money=real").Cell;
        string[] found = [.. OptionRules.Problems([("a.yaml", lamp), ("b.yaml", led)])];
        Assert.Equal(
        [
            "a.yaml and b.yaml: found ownership.discounting \"end of year\" and \"evenly over the year\"; accepted: one convention",
            "a.yaml and b.yaml: found ownership.money \"nominal\" and \"real\"; accepted: both nominal or both real",
        ], found);
    }

    [Fact]
    public void WhatIf_OfAPrice_IsTheStudyAtThatPrice()
    {
        var study = Study(OptionText.Lamp, OptionText.Led);
        var row = study.WhatIf.Rows.Single(r => r.Path == "costs.purchase" && r.Options == "LED");
        Assert.Equal((2700.0, 8300.0), (row.Low!.Value, row.High!.Value), (x, y) => Math.Abs(x.Item1 - y.Item1) + Math.Abs(x.Item2 - y.Item2) < 1e-9);

        // Equipment is paid once at the start: 5600 between both ends, and even where the mean difference is used up.
        Assert.Equal(5600.0, row.AtHigh!.Get() - row.AtLow!.Get(), 1e-8);
        Assert.Equal(row.BreakEven!.Value, row.Low!.Value - row.AtLow.Get(), 1e-8);
        Assert.Contains(study.WhatIf.Rows, r => r.Path == "costs.lost_hour" && r.Options == "LED and lamp");
    }

    [Fact]
    public void Scenario_WithAQuantityReplaced_ChangesThatOneOnly()
    {
        var (cell, _) = OptionText.Read(OptionText.Lamp, "source.failure={ weibull: { shape: 4, scale: 4000 h }, unknown_factor: { lognormal: { median: 1, gsd: 1.2 } } }",
            "disturbances=[ { name: slip, rate: { events: 2, in: 9000 h }, distance: 0.5 mm, cleared_by: fixture check } ]", "run.worlds=2", "run.lifetimes=2");
        Assert.Equal(["disturbances.slip.rate", "source.failure"], ScenarioQuantities.Unknown(cell).Select(q => q.Path).Order(StringComparer.Ordinal));
        foreach (string path in new[] { "disturbances.slip.rate", "source.failure" })
        {
            var changed = ScenarioQuantities.With(cell, path, q => q with { Unknown = null });
            Assert.DoesNotContain(path, ScenarioQuantities.Unknown(changed).Select(q => q.Path));
            Assert.Single(ScenarioQuantities.Unknown(changed));
            Assert.Equal(cell.Checks, changed.Checks);
        }

        Assert.Equal(2, ScenarioQuantities.Unknown(cell).Length);
        Assert.Same(cell, ScenarioQuantities.With(cell, "source.failure", q => q));
    }
}
