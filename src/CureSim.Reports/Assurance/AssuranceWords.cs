using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Assurance;

namespace CureSim.Reports.Assurance;

/// <summary>Plans and shares in words.</summary>
internal static class AssuranceWords
{
    /// <summary>What a plan takes and accepts: "59 parts, none nonconforming".</summary>
    public static string Accepts(AcceptanceRule rule)
    {
        var plan = rule.Plan;
        string by = plan.Reading == PartReading.Radiometer ? " as the radiometer reads them" : "";
        return Format.Count(plan.Parts) + " parts, " + plan.Accept switch
        {
            Acceptance.Attribute => (plan.Allowed == 0 ? "none" : $"at most {Format.Count(plan.Allowed)}") + " nonconforming" + by,
            Acceptance.ToleranceInterval => $"mean ± {Format.Value(rule.Factors.Max())} s inside the limits" + by,
            _ => $"lower {Format.PerCent(plan.Confidence)} limit of Ppk at least {Format.Value(plan.RequiredPpk)}" + by,
        };
    }

    /// <summary>What the textbook states when such a plan has passed.</summary>
    public static string Textbook(AcceptanceRule rule)
    {
        var plan = rule.Plan;
        string shown = plan.Accept == Acceptance.Capability ? $"Ppk is at least {Format.Value(plan.RequiredPpk)}" : $"{Format.PerCent(plan.Reliability)} of the parts conform";
        double confidence = 1.0 - rule.TextbookRisk;
        return $"with {Format.PerCent(confidence)} confidence {shown}, if parts are independent";
    }

    /// <summary>When a cell is good.</summary>
    public static string Good(AcceptanceRule rule)
    {
        string over = rule.Plan.Good == GoodOver.Horizon ? "over its horizon" : "while the parts are taken";
        return $"at most {Ppm(rule.Claimed)} of its parts are nonconforming, {over}";
    }

    /// <summary>A fraction of parts: per cent, or ppm when it is small.</summary>
    public static string Ppm(double fraction) => fraction < 1e-3 ? Format.PartsPerMillion(fraction) : Format.PerCent(fraction);

    /// <summary>A share with its interval and band, in per cent.</summary>
    public static string Share(AssuranceShare share)
    {
        string band = share.Band is { Lower05: { } low, Upper95: { } high } ? $" [{Format.Fixed(100 * low, 1)} to {Format.Fixed(100 * high, 1)}]" : "";
        return FigureText.Of(share.Estimate.Scale(100.0), "%") + band;
    }

    /// <summary>Lower case letters, digits and underscores of a name, for the names of files.</summary>
    public static string Slug(string name, int number)
    {
        string slug = string.Concat(name.ToLowerInvariant().Select(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) ? c : '_')).Trim('_');
        return FormattableString.Invariant($"{number}_{(slug.Length > 40 ? slug[..40] : slug)}").TrimEnd('_');
    }
}
