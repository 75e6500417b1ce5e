using System.Diagnostics;
using System.Globalization;

namespace CureSim.Benchmarks;

/// <summary>A figure of the script's own cell and its standard error from the spread of batches.</summary>
internal sealed record ScriptFigure(double Value, double StandardError);

/// <summary>What one run of the script took and found.</summary>
internal sealed record ScriptRun(double Exposures, double Seconds, ScriptFigure? Mean, ScriptFigure? Ppk, ScriptFigure? Ppm);

/// <summary>Runs the NumPy script on one core.</summary>
internal static class Yardstick
{
    /// <summary>Bond exposures a second; null where no Python with NumPy is found.</summary>
    public static double? ExposuresPerSecond(string style, int lifetimes, int steps) => Run(style, lifetimes, steps, 1) is { } run ? run.Exposures / run.Seconds : null;

    /// <summary>Runs the script over lifetimes in so many batches; null where no Python with NumPy is found. One batch alone has no spread, so gives no figures.</summary>
    public static ScriptRun? Run(string style, int lifetimes, int steps, int batches)
    {
        foreach (string python in (string[])["python3", "/usr/bin/python3"])
        {
            var start = new ProcessStartInfo(python) { RedirectStandardOutput = true, RedirectStandardError = true };
            foreach (string argument in (string[])[Path.Combine(AppContext.BaseDirectory, "yardstick.py"), style, Text(lifetimes), Text(steps), Text(batches)])
            {
                start.ArgumentList.Add(argument);
            }

            start.Environment["OMP_NUM_THREADS"] = start.Environment["OPENBLAS_NUM_THREADS"] = "1";
            try
            {
                using var process = Process.Start(start)!;
                var errors = process.StandardError.ReadToEndAsync();
                string output = process.StandardOutput.ReadToEnd();
                process.WaitForExit();
                _ = errors.Result;
                double[] numbers = process.ExitCode == 0 ? [.. output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Select(n => double.Parse(n, CultureInfo.InvariantCulture))] : [];
                switch (numbers)
                {
                    case [var exposures, var seconds]:
                        return new(exposures, seconds, null, null, null);
                    case [var exposures, var seconds, var mean, var meanError, var ppk, var ppkError, var ppm, var ppmError]:
                        return new(exposures, seconds, new(mean, meanError), new(ppk, ppkError), new(ppm, ppmError));
                }
            }
            catch (System.ComponentModel.Win32Exception)
            {
                // Not installed under this name.
            }
        }

        return null;
    }

    private static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);
}
