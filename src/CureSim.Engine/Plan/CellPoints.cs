using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>Where the uniforms of draws above part level come from: each lifetime's own, or a Latin hypercube over its leaf.</summary>
/// <remarks>
/// Stratified are the first draws of every quantity that belongs to an installation, a set-up, a cleaning, a lot, a calibration, a purchase or an arrival.
/// Sessions and readings of the radiometer and fouling are stratified at commissioning only: later ones are many and made for many lifetimes at once.
/// What decides (missed and late checks, harm by interventions), the steps that are judged and wander after its start stay each lifetime's own.
/// </remarks>
/// <param name="plan">The run, which gives keys and the points of a design.</param>
/// <param name="world">World.</param>
/// <param name="leafSize">Lifetimes that share out the strata; 0: every lifetime draws for itself.</param>
public sealed class CellPoints(RunPlan plan, int world, int leafSize)
{
    /// <summary>Draws of one stream that are stratified: later ones are made by few lifetimes, at moments of their own.</summary>
    public const long Indices = 16;

    /// <summary>The uniform at an address.</summary>
    /// <param name="lifetime">Lifetime within its world.</param>
    /// <param name="stream">Stream of the quantity at its place.</param>
    /// <param name="index">Number of the event that draws it.</param>
    /// <param name="indices">Draws of the stream that are stratified.</param>
    public double Uniform(uint lifetime, StreamKey stream, long index, long indices = Indices) => leafSize > 0 && index < indices
        ? LatinHypercube.Uniform(plan.SeedOf(stream), world, lifetime, stream, index, leafSize)
        : plan.Redraw?.Leading(world, lifetime, stream, index) ?? Draw.Uniform(plan.SeedOf(stream), world, lifetime, stream, index);
}
