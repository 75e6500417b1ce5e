using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Present state and run settings.</content>
internal sealed partial class CellReader
{
    private static PresentState? ReadNow(BlockReader? block, Source source, Production production)
    {
        if (block is null)
        {
            return null;
        }

        int sites = production.SiteCount;
        int emitters = source.Arrangement == EmitterArrangement.Shared ? 1 : sites;
        ImmutableArray<double>? Of(string key, int count) => block.Values(key, count) is { } values ? ImmutableArray.Create(values) : null;
        ImmutableArray<double>? hours = Of("emitter_hours", emitters);
        ImmutableArray<double>? guideHours = Of("guide_hours", emitters);
        ImmutableArray<double>? drive = Of("drive", emitters);
        ImmutableArray<double>? shares = null;
        if (emitters == 1 && sites > 1)
        {
            shares = Of("leg_shares", sites);
        }
        else
        {
            block.Refuse("leg_shares", "no leg_shares where a guide has one leg only");
        }

        if (shares is { } written)
        {
            // Readings in proportion will do: a share is relative to their mean.
            double mean = written.Average();
            shares = [.. written.Select(s => s / mean)];
        }

        return new PresentState(hours, guideHours, drive, shares, Of("exposures_since_cleaning", sites), Of("last_as_left", sites));
    }

    private static RunSettings ReadRun(BlockReader block, ImmutableArray<string> unknown)
    {
        int worlds = (int)(block.Count("worlds", unknown.IsEmpty ? "1" : "20") ?? 1);
        int lifetimes = (int)(block.Count("lifetimes", (worlds > 1 ? 250 : 2000).ToString(CultureInfo.InvariantCulture)) ?? 1);
        var run = new RunSettings(worlds, lifetimes, (int)(block.Count("parts_a_step") ?? 1), block.Count("seed") ?? 0);
        if (worlds == 1 && !unknown.IsEmpty)
        {
            block.Problem(
                "worlds", $"\"1\", although {Some(unknown)} {(unknown.Length == 1 ? "is" : "are")} unknown", "at least 2 worlds, so that what is unknown is drawn more than once",
                "write \"worlds: 20\"");
        }
        else if (worlds > 1 && unknown.IsEmpty)
        {
            block.Problem("worlds", $"\"{worlds.ToString(CultureInfo.InvariantCulture)}\", although nothing is unknown", "1 world, or something that is { unknown: distribution }");
        }

        return run;
    }

    private static string Some(ImmutableArray<string> paths) =>
        paths.Length <= 3 ? string.Join(", ", paths) : FormattableString.Invariant($"{string.Join(", ", paths.Take(3))} and {paths.Length - 3} more");
}
