namespace CureSim.StatisticalTests.Reference;

/// <summary>Accounts of one yes-or-no property of the cell (qualified; nominal inside): how long it was lost, and how long nobody knew.</summary>
internal sealed class OutOfBounds
{
    public bool Out { get; private set; }

    /// <summary>True once the property held; only then is its loss an excursion.</summary>
    public bool EverIn { get; private set; }

    public bool Known { get; private set; }

    public double StartSeconds { get; private set; }

    /// <summary>Parts made by the cell when it was lost.</summary>
    public double PartsAtStart { get; private set; }

    public double TotalSeconds { get; private set; }

    public double UndetectedSeconds { get; private set; }

    /// <summary>True while in an excursion that nothing has told of.</summary>
    public bool IsUndetectedExcursion => Out && EverIn && !Known;

    public void Pass(double seconds)
    {
        if (Out)
        {
            TotalSeconds += seconds;
            UndetectedSeconds += Known ? 0 : seconds;
        }
    }

    public void Detect() => Known |= Out;

    /// <summary>Takes a judgement; true when it changed.</summary>
    public bool Judge(bool holds, double time, double parts)
    {
        bool changed = Out == holds;
        if (!holds && !Out)
        {
            (Known, StartSeconds, PartsAtStart) = (false, time, parts);
        }

        Out = !holds;
        EverIn |= holds;
        return changed;
    }
}
