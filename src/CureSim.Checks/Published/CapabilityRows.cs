using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic capability.</summary>
internal static class CapabilityRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["CAP-01"] = Moments,
        ["CAP-02"] = row => row.Check("Cpm", MomentCapability.Of(
            row.Input("mean"), row.Input("sd"), new LimitPair(row.Input("LSL"), row.Input("USL"), row.Input("T"))).Cpm!.Value),
        ["CAP-PPM-"] = row =>
        {
            double index = row.Input("Cp=Cpk");
            row.Check("one-sided ppm", 1e6 * NonconformingFraction.OneSided(index));
            row.Check("two-sided ppm", 1e6 * NonconformingFraction.TwoSided(index, index).Total);
            row.Equal("index of that fraction", index, NonconformingFraction.EquivalentIndex(NonconformingFraction.OneSided(index)).Get(), 1e-12);
        },
        ["CAP-OFF-"] = row =>
        {
            var (near, far, total) = NonconformingFraction.TwoSided(row.Input("Cp"), row.Input("Cpk"));
            row.Check("near-side ppm", 1e6 * near);
            row.Check("far-side ppm", 1e6 * far);
            row.Check("total ppm", 1e6 * total);
        },
        ["CAP-CPCI-"] = row =>
        {
            int n = (int)row.Input("n");
            double cp = row.Input("Cp_hat");
            ConfidenceInterval interval = CapabilityInterval.Cp(cp, n);
            row.CheckList("two-sided", [interval.Lower!.Value, interval.Upper!.Value]);
            row.Check("one-sided 95 % lower", CapabilityInterval.CpLower(cp, n).Lower!.Value);
            double least = CapabilityInterval.LeastObservedCp(1.0, n);
            row.Equal("lower limit of the least observed Cp", 1.0, CapabilityInterval.CpLower(least, n).Lower!.Value, 1e-12);
        },
        ["CAP-CPK-"] = row =>
        {
            int n = (int)row.Input("n");
            double cpk = row.Input("Cpk_hat(=Cpu_hat)");
            row.Check("Bissell SE", CapabilityInterval.BissellError(cpk, n));
            ConfidenceInterval two = CapabilityInterval.Cpk(cpk, n);
            row.CheckList("Bissell two-sided 95 %", [two.Lower!.Value, two.Upper!.Value]);
            row.Check("Bissell one-sided 95 % lower", CapabilityInterval.CpkLower(cpk, n).Lower!.Value);
            row.Check("EXACT noncentral-t one-sided 95 % lower for Cpu/Cpl", CapabilityInterval.OneSidedLower(cpk, n).Lower!.Value);
        },
        ["CAP-REQ-"] = row =>
        {
            int n = (int)row.Input("n");
            double required = PublishedRow.Parse(row.Inputs.Split(">=")[1].Split(' ')[0]);
            double least = CapabilityInterval.LeastObserved(required, n);
            row.Check("min Cpu_hat", least);
            row.Equal("lower limit of that index", required, CapabilityInterval.OneSidedLower(least, n).Lower!.Value, 1e-10);
        },
        ["CAP-NN-Weibull"] = row => Percentiles(row, p => row.Input("scale") * Math.Pow(-Math.Log(1 - p), 1 / row.Input("shape"))),
        ["CAP-NN-exponential"] = row => Percentiles(row, p => -Math.Log(1 - p)),
        ["CAP-NN-gamma"] = row => Percentiles(row, p => 0.5 * row.Input("scale") * ChiSquareLaw.Quantile(p, 2 * row.Input("shape"))),
        ["CAP-Q"] = row =>
        {
            row.Compare("Phi(-3)", row.ExpectedText.Split(' ')[0], NormalLaw.Cdf(-3));
            row.Compare("Phi^-1(0.00135)", row.ExpectedText.Split("=")[1].TrimEnd(')'), NormalLaw.Quantile(0.00135));
        },
    };

    private static void Moments(PublishedRow row)
    {
        CapabilityIndices found = MomentCapability.Of(row.Input("mean"), row.Input("sd"), new LimitPair(row.Input("LSL"), row.Input("USL")));
        row.Check("Cp", found.Cp!.Value);
        row.Check("Cpu", found.Cpu!.Value);
        row.Check("Cpl", found.Cpl!.Value);
        row.Check("Cpk", found.Cpk!.Value);
        row.Check("k", found.OffCentre!.Value);
    }

    private static void Percentiles(PublishedRow row, Func<double, double> quantile)
    {
        double low = quantile(PercentileCapability.LowProbability);
        double median = quantile(0.5);
        double high = quantile(PercentileCapability.HighProbability);
        row.Check("q0.00135", low);
        row.Check("median", median);
        row.Check("q0.99865", high);
        CapabilityIndices found = PercentileCapability.Of(low, median, high, new LimitPair(row.Input("LSL"), row.Input("USL")));
        row.Check("Cnp", found.Cp!.Value);
        row.Check("Cnpu", found.Cpu!.Value);
        row.Check("Cnpl", found.Cpl!.Value);
        row.Check("Cnpk", found.Cpk!.Value);
    }
}
