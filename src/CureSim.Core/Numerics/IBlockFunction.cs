using System.Runtime.Intrinsics;

namespace CureSim.Core.Numerics;

/// <summary>A function of one double in two forms that give the same bits: alone, and eight at a time.</summary>
/// <remarks>
/// Implemented by structs, so that <see cref="BlockLoop"/> compiles a loop of its own for each. Both forms take the same steps,
/// with fused multiply-add written out, and call no library function whose last bit depends on the machine.
/// </remarks>
public interface IBlockFunction
{
    /// <summary>The function at one point.</summary>
    double Invoke(double x);

    /// <summary>The function at eight points, bit-equal to <see cref="Invoke(double)"/> lane by lane.</summary>
    Vector512<double> Invoke(Vector512<double> x);
}
