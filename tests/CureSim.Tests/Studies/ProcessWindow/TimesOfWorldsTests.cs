using CureSim.Core.Statistics;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Tests.Studies.ProcessWindow;

public class TimesOfWorldsTests
{
    [Fact]
    public void LifetimesThatOnlyRepeatTheirWorld_CountAsWorlds()
    {
        // Half of 20 worlds meet it, each with all of its 16 lifetimes: as much is known as from 20 lifetimes, not 320.
        var times = new TimesOfWorlds(Enumerable.Range(0, 320).Select(i => (i / 16, i / 16 < 10 ? 1.0 + (i / 16) : 100.0, i / 16 < 10)));
        var share = times.Share();
        var exact = BinomialInterval.ClopperPearson(10, 20);
        Assert.Equal((0.5, exact.Lower, exact.Upper), (share.Value!.Value, share.Lower95!.Value, share.Upper95!.Value));
        var tenth = times.Quantile(0.1);
        // The second world of ten; Clopper and Pearson for 2 of 20 end at 0.0123 and 0.3170: the first and the seventh world.
        Assert.Equal((2.0, 1.0, 7.0), (tenth.Value!.Value, tenth.Lower95!.Value, tenth.Upper95!.Value));
        Assert.Null(times.Quantile(0.6).Value);
    }

    [Fact]
    public void LifetimesThatDifferWithinWorldsAlike_CountThemselves()
    {
        // Every world has the same half: no spread between worlds beyond that of lifetimes, so all 320 count.
        var times = new TimesOfWorlds(Enumerable.Range(0, 320).Select(i => (i / 16, i % 2 == 0 ? 5.0 + i : 400.0, i % 2 == 0 && i % 16 < (i / 16 % 2 == 0 ? 16 : 14))));
        var share = times.Share();
        Assert.Equal(150.0 / 320.0, share.Value!.Value);
        var exact = BinomialInterval.ClopperPearson(150, 320);
        Assert.Equal((exact.Lower, exact.Upper), (share.Lower95!.Value, share.Upper95!.Value));
    }
}
