using System.Collections.Immutable;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;

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
/// The parts of the band that single inputs make are not separated here. So the share is known in two cases only: none of the unknown inputs is typical
/// (0 %), or all are (100 %). Without worlds there is no band: typical quantities enter as if they were known, and nothing says how far they may be off; then
/// the share counts as above the bound. The bound itself is common practice, no source.
/// </remarks>
public sealed record TypicalBasis(int Inputs, int Typical, int TypicalQuantities, int Unknown, int TypicalUnknown, bool HasBand)
{
    /// <summary>Share of the band that may rest on typical inputs.</summary>
    public const double MostOfBand = 0.20;

    /// <summary>Share of the band that rests on typical inputs; null when it cannot be said.</summary>
    public double? ShareOfBand => !HasBand || Unknown == 0 ? null : TypicalUnknown == 0 ? 0.0 : TypicalUnknown == Unknown ? 1.0 : null;

    /// <summary>True when a requirement that is reached may be called met.</summary>
    public bool MayMeet => TypicalQuantities == 0 || ShareOfBand <= MostOfBand;

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
                0.0 => $"None of the {Format.Count(Unknown)} unknown inputs is among them, so 0 % of the band over worlds rests on typical inputs",
                1.0 => "All unknown inputs are among them, so all of the band over worlds rests on typical inputs",
                _ when HasBand && Unknown > 0 => "Some unknown inputs are among them, and what each adds to the band over worlds is not separated",
                _ => "Nothing is declared unknown, so there is no band that would show how far they may be off",
            };
            string rule = MayMeet
                ? $"; up to {Format.PerCent(MostOfBand)} a requirement that is reached is called met."
                : $"; as this may be more than {Format.PerCent(MostOfBand)}, a requirement that is reached is called provisional, not met. Replace them with your own, or write them as unknown.";
            return $"{counts}. {share}{rule}";
        }
    }

    /// <summary>The basis of inputs.</summary>
    /// <param name="rows">Every input.</param>
    /// <param name="worlds">Worlds simulated.</param>
    public static TypicalBasis Of(ImmutableArray<InputRow> rows, int worlds)
    {
        static bool IsTypical(InputRow row) => string.Equals(row.Origin, "typical", StringComparison.OrdinalIgnoreCase);
        static bool IsUnknown(InputRow row) => row.Value.Contains("unknown", StringComparison.Ordinal) || row.Value.Contains("events:", StringComparison.Ordinal);
        return new(
            rows.Length, rows.Count(IsTypical), rows.Count(r => IsTypical(r) && r.Level is not null), rows.Count(IsUnknown), rows.Count(r => IsUnknown(r) && IsTypical(r)), worlds > 1);
    }

    /// <summary>The judgement of a requirement that is reached or not.</summary>
    public Judgement Judge(bool isReached) => !isReached ? Judgement.Missed : MayMeet ? Judgement.Met : Judgement.Provisional;
}
