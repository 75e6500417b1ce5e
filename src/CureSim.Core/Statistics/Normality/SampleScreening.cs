namespace CureSim.Core.Statistics;

/// <summary>Signs in a sample that the readings were rounded, copied or stuck.</summary>
/// <param name="Count">Sample size.</param>
/// <param name="Distinct">Number of distinct values.</param>
/// <param name="Resolution">Largest step of the form 1, 2 or 5 · 10^k of which all values are multiples; null when none is seen.</param>
/// <param name="RoundingShare">q²/12 over the sample variance: the part of the variance that rounding to the step alone makes; null without a step or spread.</param>
/// <param name="MostRepeated">The value that occurs most often.</param>
/// <param name="Repeats">How often it occurs.</param>
/// <param name="LongestRun">Longest run of equal consecutive values in the order given.</param>
/// <param name="Findings">One sentence for each thing found; empty when nothing was.</param>
/// <remarks>
/// Rounding adds q²/12 (a rectangular error, JCGM 100, F.2.2.1). Flagged above 1 % of the variance.
/// A run of length L is expected n·π^(L−1) times among independent values, π = Σ(count/n)² the chance that two are equal; flagged below 0.01.
/// Both limits: common practice, no source. Checked against: samples made with a known step and a planted run.
/// </remarks>
public sealed record SampleScreening(
    long Count, long Distinct, double? Resolution, double? RoundingShare, double? MostRepeated, long Repeats, long LongestRun, IReadOnlyList<string> Findings)
{
    /// <summary>Share of the variance that rounding may make before it is flagged. Common practice, no source.</summary>
    public const double LargestRoundingShare = 0.01;

    private const double RareRun = 0.01;

    /// <summary>Screens values in the order in which they were read.</summary>
    public static SampleScreening Of(ReadOnlySpan<double> values)
    {
        SampleMoments moments = SampleMoments.Of(values);
        if (values.IsEmpty)
        {
            return new SampleScreening(0, 0, null, null, null, 0, 0, ["There are no values."]);
        }

        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        long distinct = 0;
        long repeats = 0;
        double most = sorted[0];
        double equalPair = 0.0;
        for (int i = 0; i < sorted.Length;)
        {
            int end = EventTimes.EndOfTie(sorted, i);
            distinct++;
            double share = (end - i) / (double)sorted.Length;
            equalPair += share * share;
            if (end - i > repeats)
            {
                repeats = end - i;
                most = sorted[i];
            }

            i = end;
        }

        long run = LongestRunOf(values);
        double? step = StepOf(sorted);
        double? share12 = step is double q && moments.StandardDeviation is double s and > 0.0 ? q * q / (12.0 * s * s) : null;
        return new SampleScreening(
            values.Length, distinct, step, share12, most, repeats, run, Describe(values.Length, distinct, step, share12, run, equalPair, moments));
    }

    private static List<string> Describe(int n, long distinct, double? step, double? share, long run, double equalPair, SampleMoments moments)
    {
        var findings = new List<string>();
        if (n > 1 && moments.StandardDeviation is 0.0)
        {
            findings.Add("All values are equal: the reading does not resolve the spread.");
            return findings;
        }

        if (share > LargestRoundingShare)
        {
            findings.Add(FormattableString.Invariant(
                $"Values are multiples of {step:G6}: rounding alone makes {100.0 * share!.Value:0.#} % of the variance; read more digits."));
        }

        if (run > 1 && n * Math.Pow(equalPair, run - 1) < RareRun)
        {
            findings.Add(FormattableString.Invariant(
                $"{run} equal values in a row among {distinct} distinct ones: a stuck reading or copied entries."));
        }

        return findings;
    }

    private static long LongestRunOf(ReadOnlySpan<double> values)
    {
        long longest = 1;
        long run = 1;
        for (int i = 1; i < values.Length; i++)
        {
            run = values[i] == values[i - 1] ? run + 1 : 1;
            longest = Math.Max(longest, run);
        }

        return longest;
    }

    private static double? StepOf(double[] sorted)
    {
        double largest = Math.Max(Math.Abs(sorted[0]), Math.Abs(sorted[^1]));
        if (largest == 0.0)
        {
            return null;
        }

        // From the size of the values down to a millionth of it; a finer step cannot be told from no step.
        int top = (int)Math.Floor(Math.Log10(largest));
        for (int exponent = top; exponent >= top - 6; exponent--)
        {
            foreach (double digit in new[] { 5.0, 2.0, 1.0 })
            {
                double q = digit * Math.Pow(10.0, exponent);
                if (Array.TrueForAll(sorted, x => Math.Abs((x / q) - Math.Round(x / q)) < 1e-7 * Math.Max(1.0, Math.Abs(x / q))))
                {
                    return q;
                }
            }
        }

        return null;
    }
}
