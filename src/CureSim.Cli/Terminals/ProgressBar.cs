using System.Diagnostics;
using CureSim.Engine.Runs;
using CureSim.Reports.Text;

namespace CureSim.Cli;

/// <summary>How far a run is, drawn over one line of standard error; nothing at all where that is no terminal.</summary>
internal sealed class ProgressBar : IDisposable
{
    private const int Cells = 24;
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(100);

    private readonly Terminal? terminal;
    private readonly string label;
    private readonly Lock gate = new();
    private long drawn;
    private bool closed;

    /// <summary>Starts a bar.</summary>
    /// <param name="terminal">Where to draw.</param>
    /// <param name="label">What is going on.</param>
    /// <param name="quiet">True: draw nothing.</param>
    public ProgressBar(Terminal terminal, string label, bool quiet)
    {
        this.terminal = quiet || !terminal.HasLiveError ? null : terminal;
        this.label = label;
        this.terminal?.Redraw($"{label} …");
    }

    /// <summary>Called from any thread.</summary>
    public void Report(RunProgress progress)
    {
        if (terminal is null)
        {
            return;
        }

        lock (gate)
        {
            if (closed || (Stopwatch.GetElapsedTime(drawn) < Between && progress.LifetimesDone < progress.LifetimesPlanned))
            {
                return;
            }

            drawn = Stopwatch.GetTimestamp();
            terminal.Redraw(Line(label, progress));
        }
    }

    /// <summary>Says what is going on now.</summary>
    public void Say(string what)
    {
        lock (gate)
        {
            if (!closed)
            {
                terminal?.Redraw($"{what} …");
            }
        }
    }

    /// <summary>Clears the line.</summary>
    public void Dispose()
    {
        lock (gate)
        {
            if (!closed)
            {
                closed = true;
                terminal?.Redraw("");
            }
        }
    }

    private static string Line(string label, RunProgress progress)
    {
        double done = (double)progress.LifetimesDone / progress.LifetimesPlanned, seconds = progress.Elapsed.TotalSeconds;
        double rate = seconds > 0.0 ? progress.LifetimesDone / seconds : 0.0;
        int filled = (int)(done * Cells);
        string left = rate > 0.0 ? Left((progress.LifetimesPlanned - progress.LifetimesDone) / rate) : "";
        return $"{label}  [{new string('#', filled)}{new string('.', Cells - filled)}] {Format.Fixed(100.0 * done, 0, "%")}  "
            + $"{Format.Count(progress.LifetimesDone)} of {Format.Count(progress.LifetimesPlanned)} lifetimes, {Format.Value(rate, null, 3)}/s, {left} left";
    }

    private static string Left(double seconds)
    {
        int whole = (int)Math.Ceiling(seconds);
        return whole < 90 ? $"{whole} s" : whole < 5400 ? $"{(whole + 30) / 60} min" : $"{Format.Fixed(whole / 3600.0, 1)} h";
    }
}
