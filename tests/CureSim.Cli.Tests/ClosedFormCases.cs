namespace CureSim.Cli.Tests;

/// <summary>A closed form of docs/validation.md and the checks that hold the engine to it.</summary>
/// <param name="Case">What is simulated.</param>
/// <param name="Answer">The exact answer.</param>
/// <param name="Prefixes">Beginnings of its checks' names.</param>
internal sealed record ClosedFormCase(string Case, string Answer, params string[] Prefixes)
{
    /// <summary>All of them; every closed-form check belongs to exactly one.</summary>
    public static ClosedFormCase[] All { get; } =
    [
        new("every factor lognormal, at several levels", "ln dose is normal: medians multiply, variances of the logarithms add; percentiles, fraction outside, share of each level", "CF-LOGN-"),
        new("all spreads zero", "a timeline worked by hand equals `trace` to 10⁻¹²: t, h, N, u, indication, E, events, over two check intervals with a new guide and a new emitter", "CF-TIME-"),
        new("all spreads zero, one factor at work", "the factor's own formula at every step", "CF-FACTOR-"),
        new("ideal loop with headroom H, emitter ages", "saturates at the root of r(h) = 1/H: exponential, stretched, two-stage, parameters lognormal", "CF-SAT-"),
        new("the same with guide loss, set at every check", "first of saturated and short: r(h)·e^(−λh) = 1/H, to one interval", "CF-SATG-"),
        new("sudden failures", "exponential: Poisson with mean t/η; Weibull: t/μ + (CV² − 1)/2 at large t, renewal equation at small", "CF-FAIL-"),
        new("planned replacement at T with Weibull failure", "unplanned F(T); mean cycle ∫₀ᵀR; rates F(T) and R(T) over it", "CF-PLAN-"),
        new("disturbances only, found at checks every T", "as found in tolerance e^(−nλT); time out 1 − (1 − e^(−nλT))/(nλT), at T = one step too", "CF-DIST-"),
        new("log-dose drift between settings", "(σ/κT)[G(z_T) − G(z_0)], G(z) = zΦ(z) + φ(z); with a radiometer error σ² + u²", "CF-DRIFT-"),
        new("exact process set by a noisy radiometer only", "ln dose = ln target − (b_meter + b_cal + ε): spread between settings, none within one; no shorter interval lowers the floor", "CF-METER-"),
        new("aim offsets in a Gaussian beam", "factor U^(4σ²/w²): mean 1/(1 + 4σ²/w²), mean square 1/(1 + 8σ²/w²)", "CF-AIM-"),
        new("wander, no checks", "mean 1, log standard deviation σw, correlation e^(−Δ/τ)", "CF-WANDER-"),
        new("drive on a grid q", "output within half a step; residual standard deviation q/(u√12)", "CF-GRID-"),
        new("sensor drift under the loop", "e^(−drift·t) since the last setting", "CF-SENSOR-"),
        new("k heads, and k legs of one lamp", "highest site F^k, lowest 1 − (1 − F)^k; legs share the emitter's factor", "CF-HEADS-", "CF-LEGS-"),
        new("many small disturbances of both signs, never cleared", "first passage of the logarithm to a limit: inverse Gaussian, the step's overshoot allowed", "CF-PASS-"),
        new("calibrations with persistence ρ", "correlation ρ^j at j calibrations apart", "CF-CAL-"),
        new("unknown rate of a Poisson disturbance, e events in time T", "count over worlds is negative binomial", "CF-RATE-"),
        new("ownership without chance", "a yearly flow is an annuity at r, one replacement each m years an annuity at (1 + r)^m − 1; kWh = P·h, lit and standby, ×(1 + 1/COP)", "CF-OWN-"),
        new("window bounded by a lower limit of dose", "edge at ln(E·t) = ln L + max(z_q·√(c² + s²), 3·I·s + 1.6449·c)", "CF-WIN-"),
    ];

    /// <summary>True when a check belongs to it.</summary>
    public bool Has(string id) => Prefixes.Any(p => id.StartsWith(p, StringComparison.Ordinal));
}
