using CureSim.Core.Cell;
using CureSim.Scenarios;

namespace CureSim.Tests.Studies.Ownership;

/// <summary>Small invented options as scenario text.</summary>
internal static class OptionText
{
    public const string Lamp = """
        curesim: 1
        name: lamp
        production: { rate: 100 /h, horizon: 3 yr, step: 8 h }
        source: { kind: arc lamp, irradiance: { normal: { mean: 6 W/cm2, sd: 5 % } }, replace_at: 2000 h }
        loop: { kind: output sensor }
        exposure: { time: 3 s }
        checks: { interval: 1 month, target: 3 W/cm2, action: 6 %, adjust: 3 % }
        downtime: { check: 20 min, emitter_replacement: 1 h, failure: 2 h, requalification: 8 h }
        window: { dose: { lower: 5 J/cm2, upper: 12 J/cm2 } }
        costs: { currency: EUR, check: 30, lost_hour: { uniform: { from: 100, to: 300 } }, emitter: 900, requalification: { triangular: { from: 2000, peak: 4000, to: 9000 } }, kwh: 0.15, nonconforming_part: 5 }
        ownership: { installed: true, lit_power: 300 W, cooled_share: 100 % }
        run: { lifetimes: 40, seed: 7 }
        """;

    public const string Led = """
        curesim: 1
        name: LED
        production: { rate: 100 /h, horizon: 3 yr, step: 8 h }
        source: { kind: LED, irradiance: { normal: { mean: 5 W/cm2, sd: 5 % } } }
        exposure: { time: 3 s }
        checks: { interval: 1 month, target: 3 W/cm2, action: 6 %, adjust: 3 % }
        downtime: { check: 20 min, emitter_replacement: 1 h, failure: 2 h, requalification: 8 h }
        window: { dose: { lower: 5 J/cm2, upper: 12 J/cm2 } }
        costs: { currency: EUR, check: 30, lost_hour: { uniform: { from: 100, to: 300 } }, emitter: 2500, requalification: { triangular: { from: 2000, peak: 4000, to: 9000 } }, kwh: 0.15, nonconforming_part: 5, purchase: { uniform: { from: 2000, to: 9000 } } }
        ownership: { lit_power: 60 W, standby_power: 10 W, cooled_share: 100 % }
        run: { lifetimes: 40, seed: 7 }
        """;

    /// <summary>Reads one; any problem fails the test.</summary>
    public static (Scenario Cell, string Sha256) Read(string text, params string[] sets)
    {
        var reading = ScenarioReader.ReadText(text, "test.yaml", sets);
        Assert.Empty(reading.Problems);
        return (reading.Cell!, reading.Sha256);
    }
}
