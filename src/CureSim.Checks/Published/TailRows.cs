using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic tail.</summary>
internal static class TailRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["TAIL-IS-"] = row =>
        {
            double c = PublishedRow.Parse(row.Id["TAIL-IS-".Length..]);
            ShiftedNormalGain found = ImportanceSampling.ShiftedNormal(c, c);
            row.Check("p", found.Probability);
            row.Check("per-sample variance", found.SampleVariance);
            row.Check("CV per sample", found.Variation);
            row.Check("crude-MC CV per sample", found.PlainVariation);
            row.Check("variance reduction factor", found.Gain);
        },
        ["TAIL-GPD-EXP"] = row =>
        {
            var law = new GeneralisedPareto(row.Expected("xi"), row.Expected("beta"));
            row.Compare("P(X>8)", row.ExpectedText.Split('=')[^1], law.TailProbability(8, 2, Math.Exp(-2)));
        },
        ["TAIL-GPD-PAR"] = row =>
        {
            var law = new GeneralisedPareto(row.Text("xi") == "0.25" ? 0.25 : double.NaN, 0.5);
            row.Compare("quantile 0.9999", "10", law.TailQuantile(1e-4, 2, row.Expected("zeta_u")), 1e-12);
            foreach (double x in new[] { 2.0, 3.0, 5.0, 40.0 })
            {
                row.Equal(FormattableString.Invariant($"tail at {x} over x^-4"), 1.0, law.TailProbability(x, 2, 0.0625) / Math.Pow(x, -4), 1e-12);
            }
        },
        ["TAIL-GPD-UNI"] = row =>
        {
            var law = new GeneralisedPareto(row.Expected("xi"), row.Expected("beta"));
            row.Check("endpoint", 0.9 + law.UpperEnd!.Value);
            row.Equal("tail at 0.97", 0.03, law.TailProbability(0.97, 0.9, 0.1), 1e-12);
            row.Equal("tail beyond the end", 0.0, law.TailProbability(1.0001, 0.9, 0.1), 0);
        },
    };
}
