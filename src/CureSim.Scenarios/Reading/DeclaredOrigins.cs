using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>Paths that the scenario's origin block says are not the user's own findings.</summary>
internal sealed record DeclaredOrigins(ImmutableArray<string> Typical, ImmutableArray<string> Default)
{
    public static readonly DeclaredOrigins None = new([], []);

    /// <summary>Origin of a written value: that of the longest declared path that is, or leads to, it; yours when there is none.</summary>
    public Origin Of(string path)
    {
        int typical = Longest(Typical, path);
        int otherwise = Longest(Default, path);
        return typical < 0 && otherwise < 0 ? Origin.Yours : typical >= otherwise ? Origin.Typical : Origin.Default;
    }

    private static int Longest(ImmutableArray<string> declared, string path) =>
        declared.Where(d => path == d || path.StartsWith(d + ".", StringComparison.Ordinal)).Select(d => d.Length).DefaultIfEmpty(-1).Max();

    /// <summary>Takes the lists out of the origin block without judging it; the block is read in its turn.</summary>
    public static DeclaredOrigins From(MapNode root) => root["origin"] is MapNode origin
        ? new(Texts(origin["typical"]), Texts(origin["default"]))
        : None;

    private static ImmutableArray<string> Texts(ScenarioNode? node) =>
        node is ListNode list ? [.. list.Items.OfType<ScalarNode>().Select(s => s.Text)] : [];
}
