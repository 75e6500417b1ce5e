using System.Diagnostics;
using System.Globalization;

namespace CureSim.Benchmarks;

/// <summary>Runs the NumPy script on one core.</summary>
internal static class Yardstick
{
    /// <summary>Bond exposures a second; null where no Python with NumPy is found.</summary>
    public static double? ExposuresPerSecond(string style, int lifetimes, int steps)
    {
        foreach (string python in (string[])["python3", "/usr/bin/python3"])
        {
            var start = new ProcessStartInfo(python) { RedirectStandardOutput = true, RedirectStandardError = true };
            foreach (string argument in (string[])[Path.Combine(AppContext.BaseDirectory, "yardstick.py"), style, Text(lifetimes), Text(steps)])
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
                if (process.ExitCode == 0 && output.Split(' ') is [var exposures, var seconds, ..])
                {
                    return double.Parse(exposures, CultureInfo.InvariantCulture) / double.Parse(seconds, CultureInfo.InvariantCulture);
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
