using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace CureSim.Core.Summaries;

/// <summary>Bins of a positive quantity whose relative width is nearly constant: the exponent and leading mantissa bits of the number itself.</summary>
/// <remarks>
/// With m mantissa bits a bin is 2⁻ᵐ of a power of two wide: relative width between 2⁻ᵐ⁻¹ and 2⁻ᵐ (m = 10: 0.05 % to 0.1 %; m = 7: 0.4 % to 0.8 %).
/// Finding the bin needs no logarithm and gives the same bin on every machine.
/// </remarks>
public sealed record LogBins
{
    /// <summary>Bins from about <paramref name="from"/> to about <paramref name="to"/> (both positive), widened to whole bins.</summary>
    public LogBins(double from, double to, int mantissaBits)
    {
        if (!(from > 0.0) || !(to > from) || mantissaBits is < 1 or > 20)
        {
            throw new ArgumentException($"bins need 0 < from < to and 1 to 20 bits; got {from}, {to}, {mantissaBits}", nameof(from));
        }

        Shift = 52 - mantissaBits;
        FirstKey = BitConverter.DoubleToInt64Bits(from) >> Shift;
        Count = (int)((BitConverter.DoubleToInt64Bits(to) >> Shift) - FirstKey) + 1;
    }

    /// <summary>Bits to drop from a number to get its key.</summary>
    public int Shift { get; }

    /// <summary>Key of the first bin.</summary>
    public long FirstKey { get; }

    /// <summary>Number of inner bins; slot 0 holds what lies below, slot Count + 1 what lies above.</summary>
    public int Count { get; }

    /// <summary>Slot of a value, 0 … Count + 1.</summary>
    public int Slot(double x)
    {
        long slot = (BitConverter.DoubleToInt64Bits(x) >> Shift) - FirstKey + 1;
        return slot < 0 ? 0 : slot > Count + 1 ? Count + 1 : (int)slot;
    }

    /// <summary>Slots of eight values.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector512<long> Slots(Vector512<double> x)
    {
        var slot = (x.AsInt64() >> Shift) - Vector512.Create(FirstKey - 1);
        return Vector512.Min(Vector512.Create(Count + 1L), Vector512.Max(Vector512<long>.Zero, slot));
    }

    /// <summary>Lower edge of an inner bin, from 0; LowerEdge(Count) is the upper end.</summary>
    public double LowerEdge(int bin) => BitConverter.Int64BitsToDouble((FirstKey + bin) << Shift);
}

/// <summary>Integer counts in <see cref="LogBins"/>.</summary>
public sealed class LogHistogram(LogBins bins) : IMergeable<LogHistogram>
{
    /// <summary>The bins.</summary>
    public LogBins Bins { get; } = bins;

    /// <summary>Counts by slot: below, the inner bins, above.</summary>
    public long[] Counts { get; } = new long[bins.Count + 2];

    /// <summary>All values counted.</summary>
    public long Total
    {
        get
        {
            long sum = 0;
            foreach (long c in Counts)
            {
                sum += c;
            }

            return sum;
        }
    }

    /// <inheritdoc/>
    public void Merge(LogHistogram later)
    {
        if (later.Bins != Bins)
        {
            throw new ArgumentException("histograms with different bins cannot be merged", nameof(later));
        }

        for (int i = 0; i < Counts.Length; i++)
        {
            Counts[i] += later.Counts[i];
        }
    }

    /// <summary>The value below which a proportion p of the counts lies, linear inside its bin; null when it lies outside the bins or nothing was counted.</summary>
    public double? Quantile(double p)
    {
        long total = Total;
        if (total == 0)
        {
            return null;
        }

        double want = p * total;
        double seen = Counts[0];
        if (want < seen)
        {
            return null;
        }

        for (int bin = 0; bin < Bins.Count; bin++)
        {
            long c = Counts[bin + 1];
            if (c > 0 && seen + c >= want)
            {
                double low = Bins.LowerEdge(bin), high = Bins.LowerEdge(bin + 1);
                return low + ((high - low) * Math.Clamp((want - seen) / c, 0.0, 1.0));
            }

            seen += c;
        }

        return null;
    }
}
