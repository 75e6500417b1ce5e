using CureSim.Reports.Runs;
using CureSim.Reports.Text;

namespace CureSim.Reports.Pages;

/// <summary>The largest assumption of an answer in one sentence: what it is, whose value it is, and what becomes of the answer when it is wrong.</summary>
internal static class Assumption
{
    private const int LongestValue = 160; // a list of a hundred points is read in the table of inputs

    /// <summary>Of an input of the scenario.</summary>
    /// <param name="row">The input.</param>
    /// <param name="ifWrong">What happens to the answer, with direction and size: "were it twice as large, …".</param>
    /// <param name="of">Whose input, where several scenarios are compared.</param>
    public static string Of(InputRow row, string ifWrong, string? of = null)
    {
        string value = row.Said.Length <= LongestValue ? row.Said : row.Said[..LongestValue].TrimEnd() + "…";
        return Of($"{row.Name}{(of is null ? "" : $" of {of}")}", value, Whose(row.Origin), ifWrong);
    }

    /// <summary>Of something that is no input.</summary>
    /// <param name="what">What is taken for granted: "the values are independent".</param>
    /// <param name="value">Its value; null when it has none.</param>
    /// <param name="whose">Whose value it is, as a predicate: "is common practice, nobody's measurement".</param>
    /// <param name="ifWrong">What happens to the answer.</param>
    public static string Of(string what, string? value, string whose, string ifWrong) =>
        $"{PlainText.Capital(what)}{(value is null ? "" : $" ({value})")} {whose}: {ifWrong}.";

    /// <summary>Whose value it is.</summary>
    public static string Whose(string origin) => origin switch
    {
        "yours" => "is your own value",
        "typical" => "is a value typical of the trade, not yours",
        _ => "is common practice, taken because nothing was given",
    };
}
