using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Scenarios;

/// <summary>The words of scenario files for the choices of a cell. A null word (after a problem) gives the first choice.</summary>
internal static class Words
{
    public static EmitterArrangement Arrangement(string? word) => word == "one a site" ? EmitterArrangement.OnePerSite : EmitterArrangement.Shared;

    public static LitDuring Lit(string? word) => word == "exposures only" ? LitDuring.Exposures : LitDuring.WholeShift;

    public static MeasuredAt MeasuredAt(string? word) => word == "bond fixture" ? Core.Cell.MeasuredAt.BondFixture : Core.Cell.MeasuredAt.TipAdapter;

    public static LegIndication SetBy(string? word) => word == "weakest" ? LegIndication.Weakest : LegIndication.Mean;

    public static WhenShort WhenShort(string? word) => word switch
    {
        "emitter" => Core.Cell.WhenShort.Emitter,
        "guide" => Core.Cell.WhenShort.Guide,
        "larger loss" => Core.Cell.WhenShort.LargerLoss,
        _ => Core.Cell.WhenShort.Nothing,
    };

    public static ClearedBy ClearedBy(string? word) => word switch
    {
        "fixture check" => Core.Cell.ClearedBy.FixtureCheck,
        "bad indication" => Core.Cell.ClearedBy.BadIndication,
        "guide replacement" => Core.Cell.ClearedBy.GuideReplacement,
        _ => Core.Cell.ClearedBy.Nothing,
    };

    public static FlowTiming Discounting(string? word) => word switch
    {
        "middle of year" => FlowTiming.Middle,
        "beginning of year" => FlowTiming.Begin,
        "evenly over the year" => FlowTiming.Continuous,
        _ => FlowTiming.End,
    };

    public static QualificationGate Gate(string? word) => word switch
    {
        "none" => QualificationGate.None,
        "as left within adjust" => QualificationGate.AsLeftWithinAdjust,
        _ => QualificationGate.AfterCheck,
    };

    public static RequalifyEvent? Event(string word) =>
        Array.IndexOf(CheckKeys.Events, word) is >= 0 and var at ? (RequalifyEvent)at : null;
}
