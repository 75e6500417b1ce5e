namespace CureSim.Core.Cell;

/// <summary>Light guide between source and bond. With a shared emitter it has one leg a site; else each site has a guide of its own.</summary>
/// <param name="Transmission">ln of this guide's transmission relative to the nominal guide; level guide.</param>
/// <param name="Imbalance">ln of a leg's raw share; the shares of n legs are divided by their mean; level guide; shared emitter only.</param>
/// <param name="Reseat">ln of the factor of re-seating the guide; level setup, one a site.</param>
/// <param name="Loss">Loss rate λ of ln transmission, 1/s of lit time; level guide.</param>
/// <param name="Lit">When light is in the guide: exposures only (a shutter stands before it) or as the emitter (WholeShift means 'as the emitter').</param>
/// <param name="ReplaceAtLitSeconds">Planned replacement, or null.</param>
public sealed record Guide(Quantity Transmission, Quantity Imbalance, Quantity Reseat, Quantity Loss, LitDuring Lit, double? ReplaceAtLitSeconds);

/// <summary>The tip (last surface before the bond), one a site.</summary>
/// <param name="Fouling">κ, loss of ln transmission for each exposure since cleaning; level cleaning.</param>
/// <param name="CleaningEffect">ρ: cleaning leaves N ← (1 − ρ)·N; level cleaning.</param>
public sealed record Tip(Quantity Fouling, Quantity CleaningEffect);
