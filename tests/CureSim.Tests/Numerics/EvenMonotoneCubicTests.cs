using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Tests.Numerics;

public class EvenMonotoneCubicTests
{
    private static readonly double[] Values = [.. Enumerable.Range(0, 17).Select(i => Math.Exp(-0.3 * i) + (i > 8 ? 0.0 : 0.1 * i))];
    private static readonly EvenMonotoneCubic Even = new(-2, 0.25, Values);

    [Fact]
    public void Curve_IsThatOfTheGeneralForm()
    {
        var general = new MonotoneCubic([.. Values.Select((_, i) => -2 + (0.25 * i))], Values);
        for (double x = -2.7; x < 2.7; x += 0.01)
        {
            // The same cubic, multiplied out: rounding only.
            Assert.Equal(general.At(x), Even.At(x), 1e-14);
        }
    }

    [Fact]
    public void EightAtOnce_AreTheSameBits()
    {
        for (double x = -2.7; x < 2.7; x += 0.07)
        {
            var eight = Vector512.Create(x, x + 0.01, x - 3, x + 3, -2, 2, x * x, 0.25 * Math.Round(x));
            var found = Even.At(eight);
            for (int k = 0; k < 8; k++)
            {
                Assert.Equal(BitConverter.DoubleToInt64Bits(Even.At(eight.GetElement(k))), BitConverter.DoubleToInt64Bits(found.GetElement(k)));
            }
        }
    }
}
