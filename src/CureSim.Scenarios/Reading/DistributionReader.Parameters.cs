namespace CureSim.Scenarios;

/// <content>Parameters: values of the quantity, spreads (also in % of the mean), shapes.</content>
internal sealed partial class DistributionReader
{
    private bool MayBeLeftOut(string form, Parameter parameter) =>
        (form == "normal" && parameter.Name == "mean" && bounds.Signed)
        || (form == "beta" && parameter.Name is "from" or "to" && (dimension.IsPercent || dimension.Form == DimensionForm.Bare));

    private double? Read(MapNode map, Parameter parameter, string path)
    {
        if (map[parameter.Name] is not { } node)
        {
            return null;
        }

        string where = $"{path}.{parameter.Name}";
        switch (parameter.Role)
        {
            case ParameterRole.Location:
                return Number(node, where, dimension, Bounds.Any);
            case ParameterRole.PositiveLocation:
                return Number(node, where, dimension, Bounds.Positive);
            case ParameterRole.Shape:
                return Number(node, where, Dimension.Number, Bounds.Positive);
            case ParameterRole.Factor:
                return Number(node, where, Dimension.Number, AtLeastOne);
            case ParameterRole.Spread when !dimension.IsPercent && node is ScalarNode relative
                && ValueText.TryRead(relative.Text, Dimension.Ratio, context.Clock, out ReadValue share, out _):
                return RelativeSpread(map, share.Si, node, where);
            case ParameterRole.Spread:
                return Number(node, where, dimension, Bounds.NotNegative, dimension.IsPercent ? "" : ", or % of the mean");
            default:
                throw new InvalidOperationException($"{parameter.Name} is no number");
        }
    }

    private static readonly Bounds AtLeastOne = new(1, true, double.PositiveInfinity, "1 or more");

    private double RelativeSpread(MapNode map, double share, ScenarioNode node, string where)
    {
        // The mean itself is judged where it is read.
        double mean = map["mean"] is ScalarNode text && ValueText.TryRead(text.Text, dimension, context.Clock, out ReadValue value, out _) ? value.Si
            : map["mean"] is null ? 0 : double.NaN;
        if (mean == 0 || share < 0)
        {
            Findings.Problem(
                node.Place, where, mean == 0 ? $"{node.Found} of a mean of 0" : node.Found,
                mean == 0 ? $"a standard deviation with its unit ({dimension.UnitsListed})" : "0 % or more");
            return double.NaN;
        }

        return share * Math.Abs(mean);
    }

    private double Number(ScenarioNode node, string where, Dimension of, Bounds within, string orElse = "")
    {
        if (node is not ScalarNode scalar || !ValueText.TryRead(scalar.Text, of, context.Clock, out ReadValue value, out string? suggestion))
        {
            suggestion = node is ScalarNode text && !ValueText.TryRead(text.Text, of, context.Clock, out _, out string? near) ? near : null;
            Findings.Problem(node.Place, where, node.Found, of.Accepted + orElse, suggestion);
            return double.NaN;
        }

        if (value.PlusMinus || !within.Allows(value.Si))
        {
            Findings.Problem(node.Place, where, node.Found, value.PlusMinus ? "a value without ±" : within.Words);
            return double.NaN;
        }

        return value.Si;
    }
}
