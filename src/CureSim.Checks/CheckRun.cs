using System.Collections.Immutable;

namespace CureSim.Checks;

/// <summary>A check with what it found.</summary>
/// <param name="Check">The check.</param>
/// <param name="Outcome">What it found.</param>
public sealed record CheckRun(Check Check, CheckOutcome Outcome)
{
    /// <summary>Makes checks side by side. Each is made on one thread with draws of its own, so the outcomes do not depend on the number of threads.</summary>
    /// <param name="checks">What to check; the outcomes come in the same order.</param>
    /// <param name="threads">Threads, at least 1.</param>
    /// <param name="done">Told after each check how many are done; from any thread.</param>
    /// <param name="cancel">Looked at before each check.</param>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static ImmutableArray<CheckRun> Of(IReadOnlyList<Check> checks, int threads, Action<int>? done = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(checks);
        ArgumentOutOfRangeException.ThrowIfLessThan(threads, 1);
        var runs = new CheckRun[checks.Count];
        int next = -1, made = 0;
        void Work()
        {
            for (int i = Interlocked.Increment(ref next); i < runs.Length && !cancel.IsCancellationRequested; i = Interlocked.Increment(ref next))
            {
                runs[i] = new CheckRun(checks[i], checks[i].Run());
                done?.Invoke(Interlocked.Increment(ref made));
            }
        }

        Thread[] others = [.. Enumerable.Range(1, Math.Min(threads, Math.Max(1, runs.Length)) - 1).Select(_ => new Thread(Work) { IsBackground = true })];
        Array.ForEach(others, t => t.Start());
        Work();
        Array.ForEach(others, t => t.Join());
        cancel.ThrowIfCancellationRequested();
        return [.. runs];
    }
}
