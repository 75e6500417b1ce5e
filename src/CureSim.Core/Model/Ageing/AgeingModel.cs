using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.Core.Model.Ageing;

/// <summary>Relative output r(h) of an emitter after burn time h, for the laws of <see cref="AgeingLaw"/>.</summary>
/// <remarks>
/// exponential e^(−h/τ) · two-stage f·e^(−h/τ1) + (1−f)·e^(−h/τ2) · stretched e^(−(h/τ)^β) · table by monotone cubic. h and τ in s.
/// Valid: h ≥ 0, regulated lamp power or LED current; one r for the whole useful band (what falls faster is band ageing).
/// Source: bi-exponential and stretched forms as used for discharge lamps (common practice, no source) and, bi-exponential,
/// for LEDs in Microelectronics Reliability 54 (2014) 1307.
/// </remarks>
public sealed class AgeingModel
{
    private readonly AgeingLaw law;
    private readonly MonotoneCubic? table;

    /// <summary>Prepares a law for evaluation.</summary>
    public AgeingModel(AgeingLaw law)
    {
        this.law = law;
        Parameters = law switch
        {
            ExponentialAgeing a => [a.TimeConstant],
            TwoStageAgeing a => [a.EarlyPart, a.EarlyTime, a.LateTime],
            StretchedAgeing a => [a.TimeConstant, a.Shape],
            TableAgeing a => [a.HoursScale],
            _ => throw new ArgumentException($"ageing law {law.GetType().Name} is not known", nameof(law)),
        };
        table = law is TableAgeing t ? new MonotoneCubic([.. t.BurnSeconds], [.. t.Output]) : null;
    }

    /// <summary>The law's quantities, in the order in which their values are passed to the evaluation (one to three).</summary>
    public IReadOnlyList<Quantity> Parameters { get; }

    /// <summary>r(h) for one emitter; unused parameters are ignored.</summary>
    public double Output(double h, double p0, double p1, double p2) => law switch
    {
        ExponentialAgeing => BlockMath.Exp(-(h / p0)),
        TwoStageAgeing => (p0 * BlockMath.Exp(-(h / p1))) + ((1.0 - p0) * BlockMath.Exp(-(h / p2))),
        StretchedAgeing => h > 0.0 ? BlockMath.Exp(-BlockMath.Pow(h / p0, p1)) : 1.0,
        _ => table!.At(h / p0),
    };

    /// <summary>Block form, bit-equal to the scalar one. All spans have equal length, a multiple of eight.</summary>
    [MethodImpl(Kernel.Options)]
    public void Outputs(ReadOnlySpan<double> h, ReadOnlySpan<double> p0, ReadOnlySpan<double> p1, ReadOnlySpan<double> p2, Span<double> r)
    {
        switch (law)
        {
            case ExponentialAgeing:
                for (int i = 0; i < r.Length; i += 8)
                {
                    BlockMath.Exp(-(Lanes.Load(h, i) / Lanes.Load(p0, i))).CopyTo(r[i..]);
                }

                break;
            case TwoStageAgeing:
                TwoStage(h, p0, p1, p2, r);
                break;
            default:
                for (int i = 0; i < r.Length; i++)
                {
                    r[i] = Output(h[i], p0[i], p1[i], p2[i]);
                }

                break;
        }
    }

    [MethodImpl(Kernel.Options)]
    private static void TwoStage(ReadOnlySpan<double> h, ReadOnlySpan<double> f, ReadOnlySpan<double> early, ReadOnlySpan<double> late, Span<double> r)
    {
        for (int i = 0; i < r.Length; i += 8)
        {
            BlockMath.Exp(-(Lanes.Load(h, i) / Lanes.Load(early, i))).CopyTo(r[i..]);
        }

        for (int i = 0; i < r.Length; i += 8)
        {
            var part = Lanes.Load(f, i);
            var slow = BlockMath.Exp(-(Lanes.Load(h, i) / Lanes.Load(late, i)));
            ((part * Lanes.Load(r, i)) + ((Vector512<double>.One - part) * slow)).CopyTo(r[i..]);
        }
    }
}
