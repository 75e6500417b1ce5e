using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>All streams of a run. Two names that hash to one stream are refused, since their draws would be the same.</summary>
public sealed class StreamTable
{
    private readonly Dictionary<uint, (DrawDomain Domain, string Path, int Site)> owners = [];

    /// <summary>Streams in use: what each is of.</summary>
    public IEnumerable<(StreamKey Stream, DrawDomain Domain, string Path, int Site)> All =>
        owners.Select(o => (new StreamKey(o.Key), o.Value.Domain, o.Value.Path, o.Value.Site));

    /// <summary>The stream of a quantity at a place; throws <see cref="InvalidOperationException"/> on a clash.</summary>
    public StreamKey Of(DrawDomain domain, string path, int site = StreamKey.WholeCell)
    {
        var key = StreamKey.Of(domain, path, site);
        var owner = (domain, path, site);
        if (owners.TryGetValue(key.Word, out var known))
        {
            if (known != owner)
            {
                throw new InvalidOperationException(
                    $"'{path}' (site {site}) and '{known.Path}' (site {known.Site}) fall on the same random stream; rename one of them");
            }
        }
        else
        {
            owners.Add(key.Word, owner);
        }

        return key;
    }
}
