namespace CureSim.Core.Numerics;

public static partial class BlockMath
{
    /// <summary>e^x − 1 within 4 ulp, also for small x. Alone only: no kernel needs it eight at a time.</summary>
    public static double ExpMinusOne(double x) => Math.Abs(x) <= 0.3465 ? ExpTail(x) : Exp(x) - 1.0;
}
