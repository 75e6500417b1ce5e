namespace CureSim.Engine.Runs;

/// <summary>Count, mean and Σ(x − mean)² of the parts taken, kept up value by value.</summary>
/// <remarks>Source: B. P. Welford, Technometrics 4 (1962) 419.</remarks>
public struct RunningSample
{
    /// <summary>Values.</summary>
    public int Count;

    /// <summary>Mean.</summary>
    public double Mean;

    /// <summary>Σ(x − mean)².</summary>
    public double M2;

    /// <summary>Standard deviation (n − 1); 0 below two values.</summary>
    public readonly double StandardDeviation => Count > 1 ? Math.Sqrt(M2 / (Count - 1)) : 0.0;

    /// <summary>Adds a value.</summary>
    public void Add(double x)
    {
        Count++;
        double d = x - Mean;
        Mean += d / Count;
        M2 += d * (x - Mean);
    }
}

/// <summary>What a qualification saw in one lifetime.</summary>
/// <remarks>Values are in the units of the window: true values, or those of the study meter when the window is referred to it.</remarks>
public sealed class TakenSample(int responses, int positions)
{
    /// <summary>Occasions used so far.</summary>
    public int Occasions { get; set; }

    /// <summary>Parts taken.</summary>
    public int Parts { get; set; }

    /// <summary>Production clock at the first occasion, s.</summary>
    public double FirstSeconds { get; set; } = double.NaN;

    /// <summary>Production clock at the last occasion, s.</summary>
    public double LastSeconds { get; set; } = double.NaN;

    /// <summary>Parts with a bond truly outside a limit.</summary>
    public int Nonconforming { get; set; }

    /// <summary>Parts with a bond outside a limit as the radiometer indicates it.</summary>
    public int NonconformingRead { get; set; }

    /// <summary>Σ over parts of p(state) of the state they were made in.</summary>
    public double ProbabilitySum { get; set; }

    /// <summary>True values, by limited response (in the window's order) × position in the part.</summary>
    public RunningSample[] True { get; } = new RunningSample[responses * positions];

    /// <summary>Indicated values, in the same order.</summary>
    public RunningSample[] Read { get; } = new RunningSample[responses * positions];

    /// <summary>Bonds of a part.</summary>
    public int Positions { get; } = positions;
}
