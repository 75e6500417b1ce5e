using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <content>Sampled parts: docs/model.md section 3, step 5.</content>
internal sealed partial class ReferenceLifetime
{
    private readonly bool _aimIsNormal;

    private IEnumerable<(double TimeSeconds, Action Do)> PartsOf(int k, List<PartRecord> parts)
    {
        for (int group = 0; group < _scenario.Production.PartsAtOnce; group++)
        {
            for (int j = 0; j < _scenario.Run.PartsAStep; j++)
            {
                double u = _draws.Uniform(DrawDomain.Part, "production.part_time", group, Draw.PartIndex(k, j));
                var (g, number, time) = (group, j, (k + u) * Delta);
                yield return (time, () => parts.Add(Expose(g, number, time)));
            }
        }
    }

    // The part sees the state after what came before it: every happening of the step ends with a judgement, which settles the loops.
    private PartRecord Expose(int group, int number, double time)
    {
        double seconds = State().ExposureSeconds(_draws.OfPart(_scenario.Exposure.Error, group, _step, number));
        if (_down.Any(d => time >= d.From && time < d.To))
        {
            return new PartRecord(group, number, time, seconds, false, []);
        }

        var bonds = _sites.Where(s => s.Group == group).Select(s => Bond(s, seconds, number)).ToArray();
        _history.SampledParts++;
        _history.SampledBonds += bonds.Length;
        _history.NonconformingBonds += bonds.Count(b => b.Nonconforming);
        _history.NonconformingParts += bonds.Any(b => b.Nonconforming) ? 1 : 0;
        return new PartRecord(group, number, time, seconds, true, bonds);
    }

    private BondRecord Bond(SitePlace site, double seconds, int number)
    {
        var state = State();
        var (x, y) = AimOfPart(site.Number, number);
        double e = state.Irradiance(
            site.Number,
            _draws.OfPart(_scenario.Fixture.DistancePart, site.Number, _step, number),
            x,
            y,
            _draws.OfPart(_scenario.Fixture.Tilt, site.Number, _step, number),
            _scenario.Substrate is { } substrate ? _draws.OfPart(substrate.Thickness, site.Number, _step, number) : 0,
            _draws.OfPart(_scenario.Loop.Ripple, site.Emitter.Place, _step, number));
        double cure = state.DegreeOfCure(e, seconds, _scenario.Cure is { } c ? _draws.OfPart(c.RatePart, site.Number, _step, number) : 0);
        return new BondRecord(site.Number, e, e * seconds, cure, !state.Conforms(e, seconds, cure));
    }

    // Normal about 0: radius σ√(−2 ln u) and direction 2πu. Any other distribution: each axis by quantile.
    private (double X, double Y) AimOfPart(int site, int number)
    {
        var aim = _scenario.Fixture.AimPart;
        if (!_aimIsNormal)
        {
            return (_draws.OfPart(aim, aim.Path + ".x", site, _step, number), _draws.OfPart(aim, aim.Path + ".y", site, _step, number));
        }

        long index = Draw.PartIndex(_step, number);
        double u = _draws.Uniform(DrawDomain.Part, aim.Path + ".radius", site, index);
        double radius = _draws.Unknown(aim) * aim.Varies.StandardDeviation * Math.Sqrt(-2 * BlockMath.Log(u));
        var (sine, cosine) = BlockMath.SinCos2Pi(_draws.Uniform(DrawDomain.Part, aim.Path + ".direction", site, index));
        return (radius * cosine, radius * sine);
    }
}
