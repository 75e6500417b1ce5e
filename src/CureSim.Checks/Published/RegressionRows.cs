using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic regression: NIST StRD, each from both of its starts.</summary>
internal static class RegressionRows
{
    private const double SixDigits = 0.5e-6, FourDigits = 0.5e-4; // relative: the digits that the rows ask for

    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["STRD-Misra1a"] = row => Fit(row, "Misra1a.dat", Saturation, SixDigits),
        ["STRD-BoxBOD"] = row => Fit(row, "BoxBOD.dat", Saturation, SixDigits),
        ["STRD-MGH17"] = row => Fit(row, "MGH17.dat", TwoExponentials, SixDigits),

        // Three exponentials over so short a range: the certified values themselves hang on the data's sixth digit, so four digits are asked for.
        ["STRD-Lanczos3"] = row => Fit(row, "Lanczos3.dat", ThreeExponentials, FourDigits),
        ["REG-RE-BCG"] = row =>
        {
            var found = RandomEffects.Of(row.InputList("y"), row.InputList("v"));
            row.Check("mean", found.Mean.Get());

            // Printed to eight digits by an optimiser.
            row.Check("se", found.Mean.StandardError!.Value, 1e-6 * row.Expected("se"));
            row.Check("tau", found.Spread.Get(), 1e-6 * row.Expected("tau"));
            row.CheckList("tau interval", [found.Spread.Lower95!.Value, found.Spread.Upper95!.Value], 1e-7);
        },
        ["STRD-Chwirut2"] = row => Fit(row, "Chwirut2.dat", ExponentialOverLine, SixDigits),
    };

    private delegate double Curve(double x, ReadOnlySpan<double> b, Span<double> derivatives);

    private static void Fit(PublishedRow row, string file, Curve curve, double relative)
    {
        (double X, double Y)[] data = PublishedData.ReferenceRegression(file);
        row.Holds($"n={data.Length} readings", row.Inputs.Contains($"n={data.Length})", StringComparison.Ordinal));
        double[] y = [.. data.Select(d => d.Y)];
        foreach (string start in new[] { "start1", "start2" })
        {
            double[] from = row.InputList(start);
            int p = from.Length;
            var fit = NonlinearFit.Fit(
                (b, values, derivatives) =>
                {
                    for (int i = 0; i < data.Length; i++)
                    {
                        values[i] = curve(data[i].X, b, derivatives.Slice(i * p, p));
                    }
                },
                y, [], from);
            row.Holds($"a fit from {start}", fit.Withheld is null);
            Compare(row, "b", fit.Parameters, relative, start);
            Compare(row, "sd", [.. Enumerable.Range(0, p).Select(j => fit.DeviationOf(j) ?? double.NaN)], FourDigits, start);
            row.Check("RSS", fit.SumOfSquares, relative * row.Expected("RSS"));
            row.Check("RSD", fit.ResidualDeviation ?? double.NaN, relative * row.Expected("RSD"));
            row.Compare("degrees of freedom", row.Text("dof"), fit.DegreesOfFreedom);
        }
    }

    private static void Compare(PublishedRow row, string label, double[] found, double relative, string start)
    {
        string[] tokens = row.Tokens(label);
        for (int j = 0; j < tokens.Length; j++)
        {
            row.Compare($"{label}{j + 1} from {start}", tokens[j], found[j], relative * Math.Abs(PublishedRow.Parse(tokens[j])));
        }
    }

    private static double Saturation(double x, ReadOnlySpan<double> b, Span<double> d)
    {
        double e = Math.Exp(-b[1] * x);
        d[0] = 1.0 - e;
        d[1] = b[0] * x * e;
        return b[0] * (1.0 - e);
    }

    private static double TwoExponentials(double x, ReadOnlySpan<double> b, Span<double> d)
    {
        double e4 = Math.Exp(-b[3] * x), e5 = Math.Exp(-b[4] * x);
        d[0] = 1.0;
        d[1] = e4;
        d[2] = e5;
        d[3] = -b[1] * x * e4;
        d[4] = -b[2] * x * e5;
        return b[0] + (b[1] * e4) + (b[2] * e5);
    }

    private static double ThreeExponentials(double x, ReadOnlySpan<double> b, Span<double> d)
    {
        double sum = 0.0;
        for (int k = 0; k < 6; k += 2)
        {
            double e = Math.Exp(-b[k + 1] * x);
            d[k] = e;
            d[k + 1] = -b[k] * x * e;
            sum += b[k] * e;
        }

        return sum;
    }

    private static double ExponentialOverLine(double x, ReadOnlySpan<double> b, Span<double> d)
    {
        double e = Math.Exp(-b[0] * x), line = b[1] + (b[2] * x);
        d[0] = -x * e / line;
        d[1] = -e / (line * line);
        d[2] = -x * e / (line * line);
        return e / line;
    }
}
