namespace CureSim.Core.Summaries;

/// <summary>A summary that can be made in pieces: on other threads, in other processes, later.</summary>
/// <remarks>Law: merging the summaries of two pieces equals the summary of the whole; an empty summary changes nothing.</remarks>
/// <typeparam name="TSelf">The summary itself.</typeparam>
public interface IMergeable<TSelf>
    where TSelf : IMergeable<TSelf>
{
    /// <summary>Adds what <paramref name="later"/> has seen. The order of merging is the caller's and must be fixed where bits matter.</summary>
    void Merge(TSelf later);
}
