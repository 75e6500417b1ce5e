using CureSim.Core.Cell;

namespace CureSim.Engine.Plan;

/// <summary>Which sampling a run takes when it is left to the program.</summary>
public static class SamplingRule
{
    /// <summary>Lifetimes in a leaf from which on strata are shared out: with fewer the gain is lost in the scatter of the batches.</summary>
    public const int LeastLeaf = 8;

    /// <summary>True when the run is stratified: asked for, or left open and worlds hold 512 lifetimes or more (leaves of eight).</summary>
    public static bool IsStratified(RunSettings run)
    {
        ArgumentNullException.ThrowIfNull(run);
        int leaf = Leaves.Size(run.LifetimesPerWorld);
        return run.Sampling switch
        {
            Sampling.Stratified => leaf > 1,
            Sampling.Auto => leaf >= LeastLeaf,
            _ => false,
        };
    }
}
