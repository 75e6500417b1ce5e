using CureSim.Core.Statistics;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>Words for what was fitted.</summary>
internal static class FitWords
{
    public static string Of(FittedQuantity quantity) => quantity switch
    {
        FittedQuantity.Drive => "drive",
        FittedQuantity.ReadingOverDrive => "reading over drive",
        _ => "reading",
    };

    public static string Name(AgeingForm form) => form.Name.Replace('_', '-');

    public static string Name(FormParameter parameter) => parameter.Key.Replace('_', ' ');

    /// <summary>Median over emitters with its 95 % interval.</summary>
    public static string Median(FormFit form, int j)
    {
        var p = form.Form.Parameters[j];
        var m = form.Median(j);
        return m.Value is { } v && m.Lower95 is { } low && m.Upper95 is { } high ? Format.Interval(v * p.PerUnit, low * p.PerUnit, high * p.PerUnit, p.Unit) : m.Withheld ?? "";
    }

    public static string All(FormFit form) => string.Join(", ", form.Form.Parameters.Select((p, j) => $"{Name(p)} {Median(form, j)}"));

    /// <summary>A small ratio and its interval in per cent.</summary>
    public static string PerCent(Estimate ratio) => ratio.Value is not { } v ? $"withheld: {ratio.Withheld}"
        : ratio.Lower95 is { } low && ratio.Upper95 is { } high ? Format.Interval(100.0 * v, 100.0 * low, 100.0 * high, "%") : Format.Value(100.0 * v, "%", 2);
}
