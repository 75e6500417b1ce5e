namespace CureSim.Scenarios;

/// <summary>Who a value comes from.</summary>
public enum Origin
{
    /// <summary>Written in the scenario.</summary>
    Yours,

    /// <summary>Left out; the format's default, which says that nothing unusual happens.</summary>
    Default,

    /// <summary>Left out; a value typical of the trade (common practice, no source), to be replaced with one's own.</summary>
    Typical,
}
