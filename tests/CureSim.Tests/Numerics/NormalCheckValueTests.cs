using CureSim.Core.Numerics;

namespace CureSim.Tests.Numerics;

/// <summary>The normal quantile beside its check values, which the catalogue of checks compares (rows RNG-INV-* and RNG-PHI-*).</summary>
public class NormalCheckValueTests
{
    [Fact]
    public void Upper_half_mirrors_the_lower()
    {
        // 1 − p is exact from ½ up, so the two halves must agree to the bit.
        for (double p = 0.5; p < 1.0; p += 1.0 / 1024.0)
        {
            Assert.Equal(-BlockMath.NormalQuantile(1.0 - p), BlockMath.NormalQuantile(p));
        }
    }
}
