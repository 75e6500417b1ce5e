namespace CureSim.Core.Cell;

/// <summary>The part that the light passes before the bond; null in the scenario when the bond is open.</summary>
/// <param name="Reflectance">R of one face, ratio.</param>
/// <param name="Thickness">m; level part, one a site.</param>
/// <param name="Absorption">α, 1/m; level substrate lot.</param>
/// <param name="LotSteps">Steps in a substrate lot; 0 when there is only one lot.</param>
public sealed record Substrate(double Reflectance, Quantity Thickness, Quantity Absorption, int LotSteps);

/// <summary>Exposure time t = setting + offset + error, s.</summary>
/// <param name="SettingSeconds">The time that is set.</param>
/// <param name="Offset">Constant offset, s; level world (fixed or unknown).</param>
/// <param name="Error">Error of one exposure, s; level part, one an exposure.</param>
public sealed record Exposure(double SettingSeconds, Quantity Offset, Quantity Error);

/// <summary>Degree of cure X = Xmax·(1 − exp(−k·(E/1 W cm⁻²)^p·max(0, t − H_ind/E))), k = k_lot·exp(part).</summary>
/// <param name="Maximum">Xmax, ratio.</param>
/// <param name="RateLot">k_lot, 1/s at 1 W/cm²; level adhesive lot.</param>
/// <param name="RatePart">ln of the factor within a lot; level part, one a site.</param>
/// <param name="Exponent">p; level world (fixed or unknown).</param>
/// <param name="InductionDose">H_ind, J/m²; level world (fixed or unknown).</param>
/// <param name="LotSteps">Steps in an adhesive lot; 0 when there is only one lot.</param>
public sealed record Cure(double Maximum, Quantity RateLot, Quantity RatePart, Quantity Exponent, Quantity InductionDose, int LotSteps);
