namespace CureSim.Core.Statistics;

/// <summary>Specification limits and target of one response, in its unit; null where there is none. A missing limit is not zero.</summary>
/// <param name="Lower">Lower limit L.</param>
/// <param name="Upper">Upper limit U.</param>
/// <param name="Target">Target value T.</param>
public sealed record LimitPair(double? Lower, double? Upper, double? Target = null)
{
    /// <summary>Why these limits cannot be used; null when they can.</summary>
    public string? Fault => this switch
    {
        { Lower: null, Upper: null } => "there is neither a lower nor an upper limit",
        { Lower: double l } when !double.IsFinite(l) => "the lower limit is not a finite number",
        { Upper: double u } when !double.IsFinite(u) => "the upper limit is not a finite number",
        { Target: double t } when !double.IsFinite(t) => "the target is not a finite number",
        { Lower: double l, Upper: double u } when l >= u => "the lower limit is not below the upper one",
        _ => null,
    };

    /// <summary>True when the value is inside or on the limits.</summary>
    public bool Contains(double value) => !(value < Lower) && !(value > Upper);
}
