using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic economics.</summary>
internal static class EconomicsRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["ECO-NPV"] = row => row.Compare(
            "NPV", row.ExpectedText.Split(' ')[0], CashFlow.NetPresentValue(0.08, [-40000, 5000, 8000, 12000, 30000])),
        ["ECO-IRR"] = row =>
        {
            double rate = CashFlow.InternalRate([-100, 39, 59, 55, 20]).Get();
            row.Compare("IRR", row.ExpectedText.Split(' ')[0], rate);
            row.Equal("present value at that rate", 0.0, CashFlow.NetPresentValue(rate, [-100, 39, 59, 55, 20]), 1e-11);
        },

        // Ours has the sign of a cash flow: a loan received is repaid by negative payments, as the published figure.
        ["ECO-PMT"] = row =>
        {
            double payment = Annuity.Payment(0.075 / 12, 12 * 15, 200000);
            row.Compare("payment", row.ExpectedText.Split(' ')[0], -payment);
            row.Compare("published", "-1854.0247200054619", payment, 1e-9);
        },
        ["ECO-PV"] = row =>
        {
            double value = Annuity.PresentValue(0.05 / 12, 120, -100, 15692.93);
            row.Compare("present value", row.ExpectedText.Split(' ')[0], value);

            // The sum of two terms near 9500 cancels to 100: 1e-9 is the row's tolerance.
            row.Compare("published", "-100.00067131625819", value, 1e-9);
        },
        ["ECO-NPER"] = row => row.Compare("periods", row.ExpectedText.Split(' ')[0], Annuity.PeriodCount(0.07 / 12, -150, 8000).Get()),
        ["ECO-UPV-"] = row =>
        {
            double i = row.Input("uniform present value factor i");
            double n = row.Input("n");
            row.Check("P/A", Annuity.PresentValueFactor(i, n));
            row.Check("A/P", Annuity.RecoveryFactor(i, n));
            row.Check("P/F", Annuity.SingleFactor(i, n));
            row.Check("mid-year P/A", Annuity.PresentValueFactor(i, n, FlowTiming.Middle));
            row.Check("begin-of-year P/A", Annuity.PresentValueFactor(i, n, FlowTiming.Begin));
            row.Check("continuous (annual flow) P/A", Annuity.PresentValueFactor(i, n, FlowTiming.Continuous));
        },
    };
}
