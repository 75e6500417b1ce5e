using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Pages;

/// <summary>
/// How much of a conclusion rests on inputs that are typical of the trade instead of the user's own. A conclusion may be called met only when at most
/// <see cref="MostOfBand"/> of its band over worlds comes from typical inputs.
/// </summary>
/// <param name="Inputs">Inputs in all.</param>
/// <param name="Typical">Of these typical.</param>
/// <param name="TypicalQuantities">Of the typical ones those that are physical quantities (drawn at a level), not settings.</param>
/// <param name="Unknown">Inputs that are unknown, so that they differ from world to world.</param>
/// <param name="TypicalUnknown">Of these typical.</param>
/// <param name="HasBand">True when several worlds were simulated.</param>
/// <remarks>
/// Where none of the unknown inputs is typical the share is 0 %, where all are it is 100 %. Between the two it is what the user's own unknown inputs do not make, each alone, of the
/// variance between worlds (<see cref="Separated"/>), and its upper end counts; where a run has too few worlds for that, or a study does not ask, it is not separated and counts as
/// above the bound. Without worlds there is no band: typical quantities enter as if they were known, and nothing says how far they may be off; then
/// the share counts as above the bound. The bound itself is common practice, no source.
/// </remarks>
public sealed record TypicalBasis(int Inputs, int Typical, int TypicalQuantities, int Unknown, int TypicalUnknown, bool HasBand)
{
    /// <summary>Share of the band that may rest on typical inputs.</summary>
    public const double MostOfBand = 0.20;

    /// <summary>Share of the variance between worlds that rests on typical inputs, when some unknown inputs are typical and some are not; withheld with the reason; null when it was not asked for.</summary>
    public Estimate? Separated { get; init; }

    /// <summary>Share of the band that rests on typical inputs; null when it cannot be said.</summary>
    public double? ShareOfBand => Share?.Value;

    /// <summary>True when a requirement that is reached may be called met: the share's upper end counts.</summary>
    public bool MayMeet => TypicalQuantities == 0 || Share?.Upper95 <= MostOfBand;

    /// <summary>The share with its interval; null when there is no band, or nothing unknown.</summary>
    public Estimate? Share => !HasBand || Unknown == 0 ? null : TypicalUnknown == 0 ? Estimate.Exact(0.0) : TypicalUnknown == Unknown ? Estimate.Exact(1.0) : Separated;

    /// <summary>Why what is reached is provisional, in a few words.</summary>
    public string Brief => Separated is { Value: { } share } part && Share == Separated ? $"{PerCent(share, part)} of the variance between worlds rests on typical inputs" : "it rests on typical inputs";

    /// <summary>In a sentence or two.</summary>
    public string Words
    {
        get
        {
            string counts = $"{Format.Count(Typical)} of {Format.Count(Inputs)} inputs are typical of the trade, not yours ({Format.Count(TypicalQuantities)} of them physical quantities)";
            if (TypicalQuantities == 0)
            {
                return $"{counts}: no physical quantity of this scenario is a typical one.";
            }

            string share = ShareOfBand switch
            {
                0.0 when Unknown == 1 => "The one unknown input is not among them, so 0 % of the band over worlds rests on typical inputs",
                0.0 => $"None of the {Format.Count(Unknown)} unknown inputs is among them, so 0 % of the band over worlds rests on typical inputs",
                1.0 => "All unknown inputs are among them, so all of the band over worlds rests on typical inputs",
                { } part => $"{Format.Count(TypicalUnknown)} of {Format.Count(Unknown)} unknown inputs are among them: {PerCent(part, Separated!)} of the variance between worlds is not made by your own unknown inputs alone and counts as resting on typical ones",
                _ when HasBand && Unknown > 0 => "Some unknown inputs are among them, and what each adds to the band over worlds is not separated" + (Separated?.Withheld is { } why ? $": {why}" : ""),
                _ => "Nothing is declared unknown, so there is no band that would show how far they may be off",
            };
            string rule = MayMeet
                ? $"; up to {Format.PerCent(MostOfBand)} a requirement that is reached is called met."
                : $"; as this may be more than {Format.PerCent(MostOfBand)}, a requirement that is reached is called provisional, not met. Replace them with your own, or write them as unknown.";
            return $"{counts}. {share}{rule}";
        }
    }

    private static string PerCent(double share, Estimate interval) =>
        $"{Format.Fixed(100.0 * share, 0)} ({Format.Fixed(100.0 * interval.Lower95!.Value, 0)} to {Format.Fixed(100.0 * interval.Upper95!.Value, 0)}) %";

    /// <summary>True when an unknown input is the user's own: all of its rows are. The form of the ageing law always is, for its candidates have no defaults.</summary>
    public static bool IsOwn(UnknownInput input, ImmutableArray<InputRow> rows)
    {
        ArgumentNullException.ThrowIfNull(input);
        return input.Paths.All(p => rows.Any(r => r.Path == p && !IsTypical(r)));
    }

    /// <summary>The basis of a run: with the share of the band of the figure that is asked for first.</summary>
    /// <param name="rows">Every input.</param>
    /// <param name="run">The run.</param>
    public static TypicalBasis Of(ImmutableArray<InputRow> rows, RunAnalysis run)
    {
        ArgumentNullException.ThrowIfNull(run);
        var basis = Of(rows, run.Scenario.Run.Worlds);
        return run.BandShares is not [var first, ..] ? basis : basis with
        {
            Unknown = first.Inputs.Length, TypicalUnknown = first.Inputs.Count(i => !IsOwn(i, rows)), Separated = first.NotFrom(i => IsOwn(i, rows)),
        };
    }

    /// <summary>The basis of inputs.</summary>
    /// <param name="rows">Every input.</param>
    /// <param name="worlds">Worlds simulated.</param>
    public static TypicalBasis Of(ImmutableArray<InputRow> rows, int worlds)
    {
        static bool IsUnknown(InputRow row) => row.Value.Contains("unknown", StringComparison.Ordinal) || row.Value.Contains("events:", StringComparison.Ordinal);
        return new(
            rows.Length, rows.Count(IsTypical), rows.Count(r => IsTypical(r) && r.Level is not null), rows.Count(IsUnknown), rows.Count(r => IsUnknown(r) && IsTypical(r)), worlds > 1);
    }

    private static bool IsTypical(InputRow row) => string.Equals(row.Origin, "typical", StringComparison.OrdinalIgnoreCase);

    /// <summary>The judgement of a requirement that is reached or not.</summary>
    public Judgement Judge(bool isReached) => !isReached ? Judgement.Missed : MayMeet ? Judgement.Met : Judgement.Provisional;
}
