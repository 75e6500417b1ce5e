using CureSim.Core.Summaries;
using CureSim.Engine.Plan;

namespace CureSim.Studies.Runs;

/// <summary>A set of lifetimes of one plan: a whole run, one batch, or one world.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Summary">What is kept of their parts.</param>
/// <param name="Records">Their records.</param>
public sealed record RunPiece(RunPlan Plan, CellSummary Summary, ReadOnlyMemory<LifetimeRecord> Records);
