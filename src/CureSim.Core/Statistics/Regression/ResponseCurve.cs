namespace CureSim.Core.Statistics;

/// <summary>What a regression fits: n values as a function of p parameters, with the derivatives.</summary>
/// <param name="parameters">p numbers.</param>
/// <param name="values">Filled: n fitted values.</param>
/// <param name="derivatives">Filled when given: n rows of p derivatives, row by row.</param>
public delegate void ResponseCurve(ReadOnlySpan<double> parameters, Span<double> values, Span<double> derivatives);
