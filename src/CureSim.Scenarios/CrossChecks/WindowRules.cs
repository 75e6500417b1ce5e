using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Specification limits.</summary>
internal static class WindowRules
{
    public static string KeyOf(Response response) => response switch
    {
        Response.Irradiance => "irradiance",
        Response.Dose => "dose",
        _ => "degree_of_cure",
    };

    public static void Run(Scenario cell, ReadContext context)
    {
        if (cell.Window.Limits.IsEmpty && Written(context, "window.referred_to"))
        {
            context.Problem("window", "no limits", "limits of irradiance, dose or degree_of_cure", "such as \"dose: { lower: 5 J/cm2 }\"");
        }

        foreach (SpecificationLimits limits in cell.Window.Limits)
        {
            string path = "window." + KeyOf(limits.Response);
            if (limits is { Lower: null, Upper: null })
            {
                context.Problem(path, "neither lower nor upper", "at least one of them");
            }

            if (limits.Lower >= limits.Upper)
            {
                context.Problem(path, "a lower limit that is not below the upper", "lower below upper");
            }
            else if (limits.Target <= limits.Lower || limits.Target >= limits.Upper)
            {
                context.Problem(path + ".target", "a target that is not between the limits", "lower < target < upper");
            }
        }

        if (cell.Window.For(Response.DegreeOfCure) is { } cure)
        {
            if (cell.Cure is null)
            {
                context.Problem("window.degree_of_cure", "limits of the degree of cure without a cure block", "a cure block, or limits of irradiance or dose only");
            }
            else if (cure.Lower >= cell.Cure.Maximum)
            {
                context.Problem("window.degree_of_cure.lower", "a lower limit that is not below cure.maximum", "less than cure.maximum");
            }
        }

        if (cell.Window.InStudyMeterUnits && cell.Checks is null && !Written(context, "radiometer.meter"))
        {
            context.Problem("window.referred_to", "\"study meter\" without a radiometer", "a radiometer block, or \"true values\"");
        }
    }

    // A block has been read when its first key is noted.
    private static bool Written(ReadContext context, string path) => context.Inputs.Any(i => i.Path == path);
}
