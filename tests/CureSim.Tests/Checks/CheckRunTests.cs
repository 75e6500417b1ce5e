using CureSim.Checks;

namespace CureSim.Tests.Checks;

/// <summary>Checks made side by side.</summary>
public class CheckRunTests
{
    private static Check Named(int i, Func<CheckOutcome>? evaluate = null) => new(
        $"C{i}", "topic", "what", "source", Provenances.ClosedForm, CheckKind.Deterministic, false, evaluate ?? (() => new CheckOutcome($"{i}", $"{i}", "none", true, null, 1)));

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(64)]
    public void Runs_ComeInTheOrderOfTheChecks(int threads)
    {
        int last = 0;
        var runs = CheckRun.Of([.. Enumerable.Range(0, 40).Select(i => Named(i))], threads, done => Interlocked.Exchange(ref last, Math.Max(last, done)));
        Assert.Equal(Enumerable.Range(0, 40).Select(i => $"C{i}"), runs.Select(r => r.Check.Id));
        Assert.All(runs, r => Assert.Equal(r.Check.Id[1..], r.Outcome.Found));
        Assert.True(last > 0);
    }

    [Fact]
    public void CheckThatThrows_IsAMiss_AndTheOthersAreMade()
    {
        var runs = CheckRun.Of([Named(0), Named(1, () => throw new InvalidOperationException("broken")), Named(2)], 2);
        Assert.Equal([true, false, true], runs.Select(r => r.Outcome.Passed));
        Assert.Contains("broken", runs[1].Outcome.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Cancelled_Stops()
    {
        using var stop = new CancellationTokenSource();
        Assert.Throws<OperationCanceledException>(() => CheckRun.Of([.. Enumerable.Range(0, 10).Select(i => Named(i))], 1, _ => stop.Cancel(), stop.Token));
    }

    [Fact]
    public void Count_SampleSizes_CountAsOne()
    {
        string[] together = [.. CheckCatalogue.All.Where(c => c.CountedWith is not null).Select(c => c.Id)];
        Assert.Equal(["TOL-W1", "TOL-W2", "TOL-SR"], together);
        Assert.Equal(CheckCatalogue.All.Length - 2, CheckCatalogue.Count(CheckCatalogue.All));
    }
}
