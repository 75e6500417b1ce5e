namespace CureSim.Scenarios;

/// <summary>What a parameter of a distribution is.</summary>
internal enum ParameterRole
{
    /// <summary>A value of the quantity, with its unit.</summary>
    Location,

    /// <summary>A value of the quantity that is more than 0, with its unit.</summary>
    PositiveLocation,

    /// <summary>A standard deviation, with the quantity's unit or in % of the mean.</summary>
    Spread,

    /// <summary>A number above 0.</summary>
    Shape,

    /// <summary>A factor, 1 or more.</summary>
    Factor,

    /// <summary>Text.</summary>
    Text,
}

/// <summary>One parameter of a distribution.</summary>
internal sealed record Parameter(string Name, ParameterRole Role, string Meaning);

/// <summary>A distribution as it is written.</summary>
/// <param name="Name">Its word.</param>
/// <param name="Sets">Sets of parameters that it may be written with; all of one set.</param>
/// <param name="Meaning">For the documentation.</param>
/// <param name="Sample">For the documentation.</param>
internal sealed record DistributionForm(string Name, Parameter[][] Sets, string Meaning, string Sample)
{
    private static readonly Parameter Mean = new("mean", ParameterRole.Location, "mean");
    private static readonly Parameter PositiveMean = new("mean", ParameterRole.PositiveLocation, "mean");
    private static readonly Parameter Sd = new("sd", ParameterRole.Spread, "standard deviation");
    private static readonly Parameter From = new("from", ParameterRole.Location, "lower end");
    private static readonly Parameter Peak = new("peak", ParameterRole.Location, "most likely value");
    private static readonly Parameter To = new("to", ParameterRole.Location, "upper end");
    private static readonly Parameter Shape = new("shape", ParameterRole.Shape, "shape");
    private static readonly Parameter Scale = new("scale", ParameterRole.PositiveLocation, "scale");

    public static readonly DistributionForm[] All =
    [
        new("normal", [[Mean, Sd]], "Mean may be left out where the quantity may have either sign: it is then 0.", "{ normal: { mean: 3 mm, sd: 0.2 mm } }"),
        new("lognormal", [[new("median", ParameterRole.PositiveLocation, "median"), new("gsd", ParameterRole.Factor, "geometric standard deviation")], [PositiveMean, Sd]],
            "By median and geometric standard deviation, or by mean and standard deviation.", "{ lognormal: { median: 2 %/1000 h, gsd: 1.5 } }"),
        new("uniform", [[From, To]], "All values between its ends alike.", "{ uniform: { from: 2 mm, to: 4 mm } }"),
        new("triangular", [[From, Peak, To]], "Straight lines up to its peak and down.", "{ triangular: { from: 2 mm, peak: 3 mm, to: 5 mm } }"),
        new("beta_pert", [[From, Peak, To]], "Smooth, mean (from + 4 peak + to)/6.", "{ beta_pert: { from: 2 mm, peak: 3 mm, to: 5 mm } }"),
        new("weibull", [[Shape, Scale]], "Scale is the value that 63.2 % stay below.", "{ weibull: { shape: 4, scale: 3400 h } }"),
        new("gamma", [[Shape, Scale], [PositiveMean, Sd]], "By shape and scale, or by mean and standard deviation.", "{ gamma: { mean: 3 mm, sd: 20 % } }"),
        new("beta", [[new("a", ParameterRole.Shape, "first shape"), new("b", ParameterRole.Shape, "second shape"), From, To]],
            "Between from and to, which may be left out for a percentage (0 % to 100 %) or a number (0 to 1).", "{ beta: { a: 2, b: 5, from: 0 %, to: 100 % } }"),
        new("exponential", [[PositiveMean]], "By its mean.", "{ exponential: { mean: 500 h } }"),
        new("discrete", [], "Some values with weights, which need not add up to 1.", "{ discrete: [ { value: 1 mm, weight: 3 }, { value: 2 mm, weight: 1 } ] }"),
        new("empirical", [[new("csv", ParameterRole.Text, "data file in the scenario's folder"), new("column", ParameterRole.Text, "its column"), new("unit", ParameterRole.Text, "unit, when the column's header does not end in one")]],
            "Measured values, each as likely: a list, or a column of a CSV file whose header ends in the unit (distance_mm) unless unit says it.",
            "{ empirical: { csv: distances.csv, column: distance_mm } }"),
    ];

    /// <summary>Words beside the distribution's.</summary>
    public static readonly string[] Limits = ["at_least", "at_most"];

    public static DistributionForm? Named(string name) => All.FirstOrDefault(f => f.Name == name);
}
