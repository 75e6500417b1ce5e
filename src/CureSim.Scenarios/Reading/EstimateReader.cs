using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Reads what was fitted to data: { estimate, se, correlation }.</summary>
/// <param name="context">Shared by all readers.</param>
/// <param name="quantity">Path of the quantity, which correlations name.</param>
/// <param name="dimension">Dimension of the estimate.</param>
/// <param name="bounds">Its range.</param>
internal sealed class EstimateReader(ReadContext context, string quantity, Dimension dimension, Bounds bounds)
{
    /// <summary>For schema and documentation.</summary>
    public const string Meaning =
        "A fitted value with its standard error: lognormal when the standard error is in % of the estimate, normal when it has the quantity's unit (a quantity in % takes it in %). "
        + "correlation names other fitted values by their paths.";

    private static readonly string[] Keys = ["estimate", "se", "correlation"];

    /// <summary>Distribution of the unknown; null after a problem.</summary>
    public IDistribution? Read(MapNode map, string path)
    {
        foreach (MapEntry stranger in map.Entries.Where(e => !Keys.Contains(e.Key)))
        {
            context.Findings.Problem(stranger.KeyPlace, path, $"the unknown key \"{stranger.Key}\"", string.Join(", ", Keys), NearestWord.OfKey(stranger.Key, Keys));
        }

        double estimate = Value(map["estimate"], path + ".estimate", dimension) is { } e ? e : double.NaN;
        if (!double.IsNaN(estimate) && !bounds.Allows(estimate))
        {
            context.Findings.Problem(map["estimate"]!.Place, path + ".estimate", map["estimate"]!.Found, bounds.Words);
            estimate = double.NaN;
        }

        if (map["correlation"] is { } ties)
        {
            ReadTies(ties, path + ".correlation");
        }

        string where = path + ".se";
        if (map["se"] is not { } error)
        {
            context.Findings.Problem(map.Place, where, "nothing", "a standard error" + (dimension.IsPercent ? " in %" : " with the quantity's unit, or in % of the estimate"));
            return null;
        }

        bool relative = !dimension.IsPercent && error is ScalarNode text && ValueText.TryRead(text.Text, Dimension.Ratio, context.Clock, out _, out _) && text.Text.Contains('%', StringComparison.Ordinal);
        double se = Value(error, where, relative ? Dimension.Ratio : dimension) ?? double.NaN;
        if (!double.IsNaN(se) && !(se > 0.0))
        {
            context.Findings.Problem(error.Place, where, error.Found, "more than 0: what is known exactly is not unknown");
            return null;
        }

        if (relative && !(estimate > 0.0) && !double.IsNaN(estimate))
        {
            context.Findings.Problem(error.Place, where, $"{error.Found} of an estimate that is not above 0", "a standard error with the quantity's unit");
            return null;
        }

        return double.IsNaN(estimate + se) ? null : relative ? new LognormalDistribution(estimate, Math.Exp(se)) : new NormalDistribution(estimate, se);
    }

    private double? Value(ScenarioNode? node, string where, Dimension of)
    {
        if (node is ScalarNode scalar && ValueText.TryRead(scalar.Text, of, context.Clock, out ReadValue read, out _) && !read.PlusMinus)
        {
            return read.Si;
        }

        context.Findings.Problem(node?.Place ?? context.PlaceOf(where), where, node?.Found ?? "nothing", of.Accepted);
        return null;
    }

    private void ReadTies(ScenarioNode node, string path)
    {
        if (node is not MapNode ties)
        {
            context.Findings.Problem(node.Place, path, node.Found, "{ path of another fitted value: coefficient }");
            return;
        }

        foreach (MapEntry tie in ties.Entries)
        {
            if (tie.Value is ScalarNode scalar && ValueText.TryRead(scalar.Text, Dimension.Number, context.Clock, out ReadValue r, out _) && r.Si > -1.0 && r.Si < 1.0)
            {
                context.Correlations.Add((quantity, tie.Key, r.Si, tie.KeyPlace));
            }
            else
            {
                context.Findings.Problem(tie.Value.Place, $"{path}.{tie.Key}", tie.Value.Found, "a coefficient between -1 and 1");
            }
        }
    }
}
