namespace CureSim.Engine.State;

/// <summary>How far a state may move before its verdict can change.</summary>
/// <param name="Fall">ln irradiance that every bond may lose, exclusive; ≥ 0.</param>
/// <param name="Rise">ln irradiance that every bond may gain, exclusive; ≥ 0.</param>
public readonly record struct StateBounds(double Fall, double Rise);
