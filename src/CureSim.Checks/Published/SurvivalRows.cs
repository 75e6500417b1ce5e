using System.Text.RegularExpressions;
using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic survival.</summary>
internal static partial class SurvivalRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        // The data themselves: their counts are those of the log-rank row (21 subjects and 9 events; 21 and 21).
        ["SUR-KM-DATA"] = row =>
        {
            var (times, events, groups) = Remission(row);
            row.Compare("subjects", "42", times.Length);
            row.Compare("events treated", "9", events.Zip(groups).Count(e => e.First && e.Second == 0));
            row.Compare("events control", "21", events.Zip(groups).Count(e => e.First && e.Second == 1));
        },
        ["SUR-KM-SUM"] = Summary,
        ["SUR-KM-"] = Point,
        ["SUR-WEI-MLE"] = WeibullFit,
        ["SUR-IG-"] = row =>
        {
            double drift = row.Input("nu");
            InverseGaussianLaw law = InverseGaussianLaw.FirstPassage(drift, row.Input("sigma"), row.Input("threshold a"));
            row.Check("mean a/nu", law.Mean);
            row.Check("var a*s^2/nu^3", law.Variance);
            row.Check("shape lambda=a^2/s^2", law.Shape);
            double[] times = [.. TimeList().Match(row.ExpectedText).Groups[1].Value.Split(';').Select(PublishedRow.Parse)];
            string[] expected = ProbabilityList().Match(row.ExpectedText).Groups[1].Value.Split(';', StringSplitOptions.TrimEntries);
            for (int i = 0; i < times.Length; i++)
            {
                row.Compare(FormattableString.Invariant($"F({times[i]})"), expected[i], law.Cdf(times[i]));
                row.Equal("F + S", 1.0, law.Cdf(times[i]) + law.Survival(times[i]), 1e-15);
                row.Equal("quantile of F", times[i], law.Quantile(law.Cdf(times[i])), 1e-9 * times[i]);
            }
        },
    };

    /// <summary>Remission times: group 0 treated (6-MP), group 1 control.</summary>
    public static (double[] Times, bool[] Events, int[] Groups) Remission() =>
        Remission(PublishedData.Rows["SUR-KM-DATA"]);

    private static (double[] Times, bool[] Events, int[] Groups) Remission(PublishedRow row)
    {
        string[] arms = row.ExpectedText.Split(';');
        var times = new List<double>();
        var events = new List<bool>();
        var groups = new List<int>();
        for (int g = 0; g < 2; g++)
        {
            string list = arms[g].Trim().Split(' ')[^1];
            foreach (string token in list.Split(','))
            {
                times.Add(PublishedRow.Parse(token.TrimEnd('+')));
                events.Add(!token.EndsWith('+'));
                groups.Add(g);
            }
        }

        return ([.. times], [.. events], [.. groups]);
    }

    private static void Point(PublishedRow row)
    {
        var (times, events, groups) = Remission();
        SurvivalCurve curve = KaplanMeier.Fit(
            times.Where((_, i) => groups[i] == 0).ToArray(), events.Where((_, i) => groups[i] == 0).ToArray());
        double t = row.Input("t");
        SurvivalStep step = curve.Steps.Single(s => s.Time == t);
        row.Equal("at risk", row.Input("at risk"), step.AtRisk, 0);
        row.Equal("events", row.Input("events"), step.Events, 0);
        Estimate logLog = curve.At(t);
        Estimate plain = curve.At(t, LimitForm.Plain);
        row.Check("S", logLog.Get());
        row.Check("Greenwood SE", logLog.StandardError!.Value);

        // The row's tolerance of 1e-10 is for S and its error. In two of its limits the last digit is off by one (0.431610223 and 0.746790717, where R and
        // ours give 0.4316102225 and 0.7467907176); the limits are held to one unit of that digit here and to R's digits in the tests.
        row.CheckList("95 % plain", [plain.Lower95!.Value, plain.Upper95!.Value], 1e-9);
        row.CheckList("log-log", [logLog.Lower95!.Value, logLog.Upper95!.Value], 1e-9);
    }

    private static void Summary(PublishedRow row)
    {
        var (times, events, groups) = Remission();
        SurvivalCurve treated = KaplanMeier.Fit(
            times.Where((_, i) => groups[i] == 0).ToArray(), events.Where((_, i) => groups[i] == 0).ToArray());
        row.Check("6-MP KM median", treated.Quantile(0.5).Get());
        LogRankResult test = LogRank.Test(times, events, groups);
        row.Check("log-rank chi2", test.ChiSquare!.Value);
        string[] oe = ObservedExpected().Matches(row.ExpectedText).Select(m => m.Groups[2].Value).ToArray();
        row.Compare("E treated", oe[0], test.Expected[0]);
        row.Compare("E control", oe[1], test.Expected[1]);
        double[,] control = new double[times.Length, 1];
        for (int i = 0; i < times.Length; i++)
        {
            control[i, 0] = groups[i];
        }

        // R stops its iteration at a relative change of 1e-9 in the log-likelihood, which leaves the coefficients good to 1e-6 (the row's tolerance).
        CensoredFitResult fit = CensoredFit.Fit(LifetimeFamily.Weibull, times, events, control);
        row.Check("intercept", fit.Coefficients[0].Get(), 1e-6);
        row.Compare("control", row.ExpectedText.Split(", control ")[^1].Split(',')[0], fit.Coefficients[1].Get(), 1e-6);
        row.Check("scale", fit.Scale.Get(), 1e-6);
        row.Check("loglik", fit.LogLikelihood);
        row.Check("null", CensoredFit.Fit(LifetimeFamily.Weibull, times, events).LogLikelihood);
    }

    private static void WeibullFit(PublishedRow row)
    {
        double[] failures = [.. row.Inputs.Split(';')[0].Replace("failures ", string.Empty).Split(',').Select(PublishedRow.Parse)];
        double[] times = [.. failures, .. Enumerable.Repeat(500.0, 10)];
        bool[] events = [.. times.Select(t => t < 500.0)];
        CensoredFitResult fit = CensoredFit.Fit(LifetimeFamily.Weibull, times, events);

        // R's iteration is good to about 1e-9; the variances come from its last step but one, so seven digits of them.
        row.Check("Weibull shape", fit.WeibullShape.Get(), 1e-8);
        row.Check("scale", fit.CharacteristicLife.Get(), 1e-5);
        row.Check("loglik", fit.LogLikelihood);
        row.Check("var(log scale)", fit.Covariance[0, 0], 1e-7);
        row.Check("var(log sigma)", fit.Covariance[1, 1], 1e-7);
        row.Check("cov", fit.Covariance[0, 1], 1e-7);

        // The page's 1.7207 / 606.5280 come from an optimiser stopped early: 5e-4 relative is the row's tolerance for them.
        row.Equal("shape as printed", 1.7207, fit.WeibullShape.Get(), 5e-4 * 1.7207);
        row.Equal("scale as printed", 606.5280, fit.CharacteristicLife.Get(), 5e-4 * 606.5280);
    }

    [GeneratedRegex(@"F\(t\) at t=\[([^\]]*)\]")]
    private static partial Regex TimeList();

    [GeneratedRegex(@"F\(t\) at t=\[[^\]]*\]: \[([^\]]*)\]")]
    private static partial Regex ProbabilityList();

    [GeneratedRegex(@"(?:6-MP|control) (\d+)/([\d.]+)")]
    private static partial Regex ObservedExpected();
}
