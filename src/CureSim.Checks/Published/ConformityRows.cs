using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic conformity.</summary>
internal static class ConformityRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["CON-Z"] = row =>
        {
            double[] probabilities = [0.80, 0.90, 0.95, 0.99, 0.999];
            row.CheckList(string.Empty, [.. probabilities.Select(p => GuardBand.ForConformance(1.0, new LimitPair(null, 10.0), p).Width)]);
            double[] table = [0.84, 1.28, 1.64, 2.33, 3.09];

            // The table is rounded to two decimals.
            foreach (var (probability, printed) in probabilities.Zip(table))
            {
                row.Equal(FormattableString.Invariant($"table at {probability}"), printed, GuardBand.ForConformance(1.0, new LimitPair(0.0, null), probability).Width, 5e-3);
            }
        },
        ["CON-EX1"] = row =>
        {
            double p = ConformanceProbability.Of(row.Input("v"), row.Input("u"), new LimitPair(null, row.Input("T_U")));
            row.Compare("p_c", row.ExpectedText.Split('=')[^1].Split(' ')[0], p);
            row.Check("JCGM", p, 5e-3);
        },
        ["CON-EX2"] = row =>
        {
            double p = ConformanceProbability.Of(row.Input("y"), row.Input("u"), new LimitPair(row.Input("T_L"), null));
            row.Compare("p_c", row.ExpectedText.Split('=')[^1].Split(' ')[0], p);
            row.Check("JCGM", p, 5e-3);
        },
        ["CON-2S-"] = row =>
        {
            double p = ConformanceProbability.Of(row.Input("y"), row.Input("u"), new LimitPair(5, 10));
            row.Check("p_c", p);

            // Turned round: the guard band for this probability must end at this reading.
            if (p > 0.5)
            {
                row.Equal("end of the guard band for it", row.Input("y"), GuardBand.ForConformance(row.Input("u"), new LimitPair(5, 10), p).Limits!.Upper!.Value, 1e-9);
            }
        },
        ["CON-GLOB-"] = row =>
        {
            var specification = new LimitPair(1499.8, 1500.2);
            double w = row.Input("acceptance shrunk by w");
            GlobalRisk risk = GlobalRisk.Normal(
                1500, 0.12, row.Input("u"), specification, GuardBand.FromExpanded(w, specification).Limits!);

            // 1500 ± 0.2 is stored with an error of 1e-13, a tenth of a digit of the last place printed.
            row.Check("P(conform)", risk.Conforming);
            row.Check("consumer risk R_C", risk.ConsumerRisk);
            row.Check("producer risk R_P", risk.ProducerRisk);
            row.Equal("accepted = conforming − R_P + R_C", risk.Accepted, risk.Conforming - risk.ProducerRisk + risk.ConsumerRisk, 1e-11);
        },
    };
}
