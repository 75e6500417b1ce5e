namespace CureSim.Scenarios;

/// <summary>All keys of the scenario format.</summary>
internal static class ScenarioKeys
{
    public static readonly BlockTable Root = new("", "A cell.",
    [
        Key.Count("curesim", 1, 1, "Version of the scenario format.").Such("1"),
        Key.Text("name", "Name of the cell.").LeftOut("the file's name"),
        Key.Block(ProductionKeys.Table),
        Key.Block(SourceKeys.Table),
        Key.Block(SourceKeys.Loop).LeftOut("no loop, no ripple"),
        Key.Block(PathKeys.Guide).LeftOut("no guide"),
        Key.Block(PathKeys.Tip).LeftOut("no fouling"),
        Key.Block(FixtureKeys.Table).LeftOut("distance, aim and tilt do not matter"),
        Key.List("disturbances", new BlockShape(CheckKeys.Disturbance), CheckKeys.Disturbance.Meaning).LeftOut("none"),
        Key.Block(PathKeys.Substrate).LeftOut("the bond is open"),
        Key.Block(BondKeys.Exposure),
        Key.Block(BondKeys.Cure).LeftOut("degree of cure is not computed"),
        Key.Block(CheckKeys.Checks).LeftOut("no checks; the drive stays"),
        Key.Block(CheckKeys.Radiometer).LeftOut("typical, when there are checks"),
        Key.Block(CheckKeys.Downtime).LeftOut("no downtime"),
        Key.Block(BondKeys.Window),
        Key.Block(CheckKeys.Requalification).LeftOut("the defaults of its keys"),
        Key.Block(RunKeys.Now).LeftOut("everything new"),
        Key.List("qualification", new BlockShape(QualificationKeys.Plan), QualificationKeys.Plan.Meaning).LeftOut("two plans at 95 % and 95 %: success run and tolerance interval"),
        Key.Block(IntervalKeys.Study).LeftOut("the calendar ladder, 95 % in tolerance"),
        Key.Block(WindowStudyKeys.Study).LeftOut("ranges are found, and the defaults of its keys"),
        Key.Block(OwnershipKeys.Costs).LeftOut("costs are not counted"),
        Key.Block(OwnershipKeys.Ownership).LeftOut("the scenario is no option of \"ownership\""),
        Key.Block(RunKeys.Run).LeftOut("the defaults of its keys"),
        Key.Block(RunKeys.Origin).LeftOut("everything written is yours"),
    ]);
}
