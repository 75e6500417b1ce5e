using System.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>What was fitted as YAML that is pasted into a scenario.</summary>
public static class FitBlock
{
    /// <summary>The text.</summary>
    public static string Of(LogFit fit, FitContext context)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        var keys = FittedKeys.Of(fit);
        var text = new StringBuilder();
        text.Append($"# Fitted to {Text.PlainText.OneLine(context.File)} ({FitWords.Of(fit.Quantity)} against emitter hours). Put each key into the block of its name.\n");
        text.Append("# unknown and unknown_factor carry the error of the estimate into every world of a run.\n");
        foreach (var group in keys.GroupBy(k => k.Path.Split('.')[0]))
        {
            text.Append(group.Key).Append(":\n");
            foreach (var key in group)
            {
                text.Append($"  # {key.Comment}\n");
                text.Append(key.IsList ? $"  - {key.Text}\n" : $"  {key.Path[(group.Key.Length + 1)..]}: {key.Text}\n");
            }
        }

        double hours = FittedKeys.SiteHours(fit);
        if (fit.Steps.IsEmpty)
        {
            text.Append(FormattableString.Invariant($"# No unexplained step in {hours:0} h of sites; a disturbance of which nothing was seen has rate: {{ events: 0, in: {hours:0} h }}\n"));
        }

        if (fit.Life.Withheld is not null)
        {
            text.Append(FormattableString.Invariant($"# {fit.Failures} sudden failures in {fit.Hours:0} h: no law of failure was fitted\n"));
        }

        return text.ToString();
    }
}
