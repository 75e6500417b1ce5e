using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic tolerance.</summary>
internal static class ToleranceRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        // The published figures are to four digits (2.217, 1.8752, 1.8740); the recomputed ones beside them are held to their own digits.
        ["TOL-01"] = row =>
        {
            row.Compare("Howe k2", row.ExpectedText.Split(' ')[0], NormalToleranceFactor.Howe(43, 0.90, 0.99));
            row.Compare("published", "2.217", NormalToleranceFactor.Howe(43, 0.90, 0.99));
        },
        ["TOL-02"] = row =>
        {
            var (a, b) = NormalToleranceFactor.NatrellaCoefficients(43, 0.90, 0.99);
            row.Check("a", a);
            row.Check("b", b);
            row.Check("k1", NormalToleranceFactor.OneSidedNatrella(43, 0.90, 0.99).Get());
        },
        ["TOL-03"] = row =>
        {
            double delta = NormalLaw.Quantile(0.90) * Math.Sqrt(43);
            row.Check("delta", delta);
            row.Check("t", NoncentralTLaw.Quantile(0.99, 42, delta));
            row.Check("k1", NormalToleranceFactor.OneSided(43, 0.90, 0.99));
        },
        ["TOL-04"] = row =>
        {
            row.Check("exact k1", NormalToleranceFactor.OneSided(6, 0.90, 0.99));
            row.Check("Natrella k1", NormalToleranceFactor.OneSidedNatrella(6, 0.90, 0.99).Get());
        },

        // The page's 0.9972 follows from neither tail of its own formula; ours is the lower one, and the page's figure must not be met.
        ["TOL-05"] = row =>
        {
            row.Check("with lower 5 % chi2 quantile w", NormalToleranceFactor.GuentherWeight(40, 0.95));
            row.Holds("the page's figure is not met", Math.Abs(NormalToleranceFactor.GuentherWeight(40, 0.95) - row.Expected("page states")) > 4e-3);
        },
        ["TOL-06"] = row =>
        {
            double w = NormalToleranceFactor.GuentherWeight(43, 0.99);
            row.Check("w", w);
            row.Check("w*k2", w * NormalToleranceFactor.Howe(43, 0.90, 0.99));
        },
        ["TOL-K-"] = row =>
        {
            int n = (int)row.Input("n");
            double confidence = row.Input("confidence");
            double coverage = row.Input("coverage");
            row.Check("k1 exact", NormalToleranceFactor.OneSided(n, coverage, confidence));
            row.Check("k2 Howe", NormalToleranceFactor.Howe(n, coverage, confidence));
            row.Check("k2 exact(quadrature)", NormalToleranceFactor.TwoSided(n, coverage, confidence));
        },
        ["TOL-W1-"] = row => Orders(row, SamplePlan.WilksOneSided),
        ["TOL-W2-"] = row => Orders(row, SamplePlan.WilksTwoSided),
        ["TOL-SR-"] = row =>
        {
            double c = row.Input("confidence C");
            double r = row.Input("reliability R");
            row.Check("ln(1-C)/ln R", SamplePlan.SuccessRunExact(c, r));
            row.CheckList("n(c=0,1,2,3)", [.. Enumerable.Range(0, 4).Select(a => (double)SamplePlan.Attribute(a, c, r))]);
        },
    };

    private static void Orders(PublishedRow row, Func<int, double, double, long> size)
    {
        int orders = row.Tokens(string.Empty).Length;
        row.CheckList(string.Empty, [.. Enumerable.Range(1, orders).Select(m => (double)size(m, row.Input("confidence"), row.Input("coverage")))]);
    }
}
