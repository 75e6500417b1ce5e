using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>Disturbances: arrivals, what interventions introduce, and what puts them right.</content>
internal sealed partial class ReferenceLifetime
{
    private const long IntroducedFrom = 1L << 40; // docs/model.md section 1, level arrival

    private readonly Dictionary<int, long> _replacementsAt = [];
    private readonly List<DisturbancePlace> _harm = [];
    private long _checksMade;
    private long _cleanings;

    // The gap is exponential: −ln(u)/rate.
    private void ScheduleArrival(DisturbancePlace d, double after)
    {
        double u = _draws.Uniform(DrawDomain.Cell, d.Kind.Path + ".gap", d.Place, d.Arrivals);
        d.NextArrival = d.Rate > 0 ? after - (BlockMath.Log(u) / d.Rate) : double.PositiveInfinity;
    }

    private IEnumerable<(double TimeSeconds, Action Do)> ArrivalsUntil(double end)
    {
        foreach (var d in _disturbances)
        {
            while (d.NextArrival <= end)
            {
                var (place, index, time) = (d, d.Arrivals, d.NextArrival);
                d.Arrivals++;
                ScheduleArrival(d, time);
                yield return (time, () =>
                {
                    PassTo(time);
                    Strike(place, index, time);
                    Judge(time);
                });
            }
        }
    }

    private void Strike(DisturbancePlace d, long index, double time)
    {
        double aim = d.Kind.AimShift is { } a ? _draws.At(a, d.Place, index) : 0;
        var (sine, cosine) = d.Kind.AimShift is null
            ? (0.0, 0.0)
            : BlockMath.SinCos2Pi(_draws.Uniform(DrawDomain.Cell, d.Kind.Path + ".aim_direction", d.Place, index));
        d.Effects.Add(new DisturbanceEffect(
            d.Kind.Factor is { } f ? _draws.At(f, d.Place, index) : 1.0,
            d.Kind.DistanceShift is { } shift ? _draws.At(shift, d.Place, index) : 0.0,
            aim * cosine,
            aim * sine));
        Say(time, HistoryKind.Arrival, d.Place, index, name: d.Kind.Name);
    }

    // Puts right what matches. The sites of one that moved the fixture are added to those to be set up.
    private void Clear(Func<DisturbancePlace, bool> matches, double time, SortedSet<int> toSetUp)
    {
        foreach (var d in _disturbances.Where(d => d.Effects.Count > 0 && matches(d)))
        {
            Say(time, HistoryKind.Cleared, d.Place, d.Effects.Count, name: d.Kind.Name);
            d.Effects.Clear();
            if (d.Kind.MovesFixture)
            {
                toSetUp.UnionWith(d.Sites);
            }
        }
    }

    // The harm of an intervention is decided when it is made and done when its routine is over.
    private void CheckDoesHarm() => InterventionDoesHarm(d => d.ByCheck, ".by_check", _checksMade++);

    private void CleaningDoesHarm() => InterventionDoesHarm(d => d.ByCleaning, ".by_cleaning", _cleanings++);

    private void InterventionDoesHarm(Func<Disturbance, double> probability, string stream, long number)
    {
        foreach (var d in _disturbances)
        {
            if (_draws.Uniform(DrawDomain.Cell, d.Kind.Path + stream, d.Place, number) < probability(d.Kind))
            {
                _harm.Add(d);
            }
        }
    }

    // A replacement strikes its own sites, or the cell. Own emitters and guides count by place, which is the stream's place then too.
    private void ReplacementDoesHarm(int place, int[] sites)
    {
        long number = _replacementsAt.GetValueOrDefault(place);
        _replacementsAt[place] = number + 1;
        foreach (var d in _disturbances.Where(d => d.Sites.Intersect(sites).Any()))
        {
            int stream = d.Kind.WholeCell ? place : d.Place;
            if (_draws.Uniform(DrawDomain.Cell, d.Kind.Path + ".by_replacement", stream, number) < d.Kind.ByReplacement)
            {
                _harm.Add(d);
            }
        }
    }

    private void DoHarm(double time)
    {
        foreach (var d in _harm)
        {
            Strike(d, IntroducedFrom + d.Introduced++, time);
        }

        _harm.Clear();
    }
}
