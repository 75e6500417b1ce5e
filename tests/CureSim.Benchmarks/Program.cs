using System.Diagnostics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Scenarios;
var reading = ScenarioReader.Read(args[0], args.Skip(2).ToArray());
if (reading.Cell is null) { foreach (var m in reading.Problems) Console.WriteLine(m); return 2; }
var plan = new RunPlan(reading.Cell);
new LocalRunner(new RunPlan(reading.Cell with { Run = reading.Cell.Run with { LifetimesPerWorld = 256 } }), 1).Run();
double best = 0;
for (int i = 0; i < int.Parse(args[1]); i++)
{
    var p = Process.GetCurrentProcess(); p.Refresh(); var a = p.TotalProcessorTime;
    var r = new LocalRunner(plan, 1).Run();
    p.Refresh(); double s = (p.TotalProcessorTime - a).TotalSeconds;
    best = Math.Max(best, r.BondExposures / s);
    Console.WriteLine($"{r.BondExposures / s:E4} exposures/cpu-s  {1e9 * s / r.BondExposures:F1} ns  cpu {s:F2} s");
}
Console.WriteLine($"best {best:E4}");
return 0;
