using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic binomial-ci.</summary>
internal static class BinomialRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        // The page's pu = 0.401029 comes from an optimiser stopped early; the exact limit is 0.4010281173.
        ["BIN-01"] = row =>
        {
            ConfidenceInterval found = BinomialInterval.ClopperPearson(4, 20, 0.90);
            row.CheckList(string.Empty, [found.Lower!.Value, found.Upper!.Value]);
            row.Check("published pl", found.Lower!.Value);
        },

        // The page rounds z to 1.645, which moves the sixth decimal: its figure is held to 1e-5, ours to the exact one.
        ["BIN-02"] = row =>
        {
            double lower = BinomialInterval.WilsonLower(26, 200, 0.95).Lower!.Value;
            row.Compare("Wilson lower", row.ExpectedText.Split(' ')[0], lower);
            row.Check("published", lower, looser: 1e-5);
        },
        ["BIN-"] = row =>
        {
            long x = (long)row.Input("x");
            long n = (long)row.Input("n");
            ConfidenceInterval exact = BinomialInterval.ClopperPearson(x, n);
            row.CheckList("Clopper-Pearson", [exact.Lower!.Value, exact.Upper!.Value]);
            row.Check("one-sided 95 % upper", BinomialInterval.ClopperPearsonUpper(x, n).Upper!.Value);
            ConfidenceInterval score = BinomialInterval.Wilson(x, n);
            row.CheckList("Wilson", [score.Lower!.Value, score.Upper!.Value]);
            if (x == 0)
            {
                row.Check("exact 1-0.05^(1/n)", BinomialInterval.ZeroCountUpper(n));
            }
        },
    };
}
