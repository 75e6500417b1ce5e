using System.Globalization;
using CureSim.Core.Statistics;
using CureSim.Reports.Capability;
using CureSim.Scenarios;
using CureSim.Studies.Capability;

namespace CureSim.Cli;

/// <summary>A sample as a command line names it: the file, its column and what it is judged against. All problems of file and options are told at once.</summary>
internal sealed class CapabilityInput
{
    public static readonly OptionInfo Column = new("--column", "HEADER", "Column of the values, with or without its unit. Left out: the only column of numbers.");
    public static readonly OptionInfo Group = new("--group", "HEADER", "Column that names the setup, lot or site of each value; the spread within gives Cp and Cpk.");
    public static readonly OptionInfo UnitOfColumn = new("--unit", "UNIT", "Unit of the column where its header has none, such as J/cm2.");
    public static readonly OptionInfo Lower = new("--lower", "VALUE", "Lower limit with its unit, such as \"5 J/cm2\"; units of the same kind are converted.");
    public static readonly OptionInfo Upper = new("--upper", "VALUE", "Upper limit with its unit. One limit is enough.");
    public static readonly OptionInfo Target = new("--target", "VALUE", "Target value with its unit.");
    public static readonly OptionInfo Index = new("--capability", "INDEX", "Index that must be shown: its lower confidence limit must reach it.");
    public static readonly OptionInfo Uncertainty = new("--uncertainty", "VALUE", "Expanded uncertainty of a reading, in % of the reading or in the column's unit; adds acceptance limits.");
    public static readonly OptionInfo CoverageFactor = new("--k", "FACTOR", "Coverage factor of --uncertainty. Left out: 2.");

    private const double LeastFactor = 0.1, MostFactor = 100.0; // wide enough for any coverage factor in use; beyond lies a slip

    private readonly Call call;
    private readonly List<string> problems = [];

    private CapabilityInput(Call call) => this.call = call;

    /// <summary>Reads everything that a call says.</summary>
    /// <exception cref="InputException">All problems.</exception>
    public static (CapabilitySample Sample, CapabilitySettings Settings, CapabilityContext Context) Read(Call call)
    {
        string path = call.Argument(0)!;
        var reading = SampleFile.Read(path, new(call.Text(Column), call.Text(Group), call.Text(UnitOfColumn)));
        var input = new CapabilityInput(call);
        var settings = input.Settings(reading.Sample);
        if (reading.Sample is not { } sample || input.problems.Count > 0)
        {
            throw new InputException([.. reading.Problems.Select(p => p.ToString()), .. input.problems]) { IsLocated = !reading.Problems.IsEmpty };
        }

        return (
            new(sample.Values, sample.Groups), settings,
            new(ScenarioInput.StemOf(path), Path.GetFileName(sample.File), sample.Sha256, sample.Header, sample.Name, sample.Unit.Shown, sample.Unit.Suffix, sample.GroupHeader, sample.Lines));
    }

    private CapabilitySettings Settings(MeasuredSample? sample)
    {
        double confidence = Probability.Read(call, Probability.Confidence, 0.95, problems), reliability = Probability.Read(call, Probability.Reliability, 0.99, problems);
        double? index = Plain(Index, 0.0, 100.0), k = Plain(CoverageFactor, LeastFactor, MostFactor);
        if (call.Has(CapabilityCommand.Require) && call.Text(Index) is null)
        {
            problems.Add("--require: no index is required; give one with --capability");
        }

        if (call.Text(CoverageFactor) is not null && call.Text(Uncertainty) is null)
        {
            problems.Add("--k: it belongs to --uncertainty, which was not given");
        }

        var limits = sample is null ? new LimitPair(null, null) : Limits(sample);
        return new(limits, confidence, reliability, index, sample is null ? null : Reading(sample, limits, k ?? 2.0));
    }

    private LimitPair Limits(MeasuredSample sample)
    {
        int before = problems.Count;
        double? lower = Value(Lower, sample), upper = Value(Upper, sample), target = Value(Target, sample);
        if (problems.Count == before)
        {
            if (lower is null && upper is null)
            {
                string unit = sample.Unit.Shown is { } shown ? $" in {shown}" : "";
                problems.Add($"--lower, --upper: neither was given; accepted: one limit or both{unit}");
            }

            if (lower >= upper)
            {
                problems.Add($"--lower: found \"{call.Text(Lower)}\", which is not below --upper \"{call.Text(Upper)}\"");
            }
            else if (target < lower || target > upper)
            {
                problems.Add($"--target: found \"{call.Text(Target)}\"; accepted: a value between the limits");
            }
        }

        return new(lower, upper, target);
    }

    private ReadingUncertainty? Reading(MeasuredSample sample, LimitPair limits, double k)
    {
        if (call.Text(Uncertainty) is not { } text)
        {
            return null;
        }

        var percent = SampleUnit.Find("%")!;
        bool relative = sample.Unit.Suffix != percent.Suffix && percent.TryRead(text, out _, out _);
        var unit = relative ? percent : sample.Unit;
        if (!unit.TryRead(text, out double value, out string? problem))
        {
            problems.Add($"--uncertainty: {problem}; or in % of the reading");
            return null;
        }

        if (!(value > 0.0) || !SampleFile.HasUsableSize(value) || (relative && value >= 100.0))
        {
            problems.Add($"--uncertainty: found \"{text}\"; accepted: above zero{(relative ? " and below 100 %" : "")}");
            return null;
        }

        if (relative && (sample.Values.Any(v => !(v > 0.0)) || limits.Lower <= 0.0 || limits.Upper <= 0.0))
        {
            problems.Add("--uncertainty: found a percentage of readings or limits that are not all above zero; accepted: a value in the column's unit");
            return null;
        }

        return new(relative ? value / 100.0 : value, relative, k);
    }

    private double? Value(OptionInfo option, MeasuredSample sample)
    {
        if (call.Text(option) is not { } text)
        {
            return null;
        }

        if (!sample.Unit.TryRead(text, out double value, out string? problem))
        {
            string hint = sample.Unit.IsNone ? $"; the column \"{sample.Header}\" has no unit, --unit gives it one" : "";
            problems.Add($"{option.Name}: {problem}{hint}");
            return null;
        }

        if (!SampleFile.HasUsableSize(value))
        {
            problems.Add($"{option.Name}: found \"{text}\"; accepted: zero, or a number between 1e-60 and 1e60 in size");
            return null;
        }

        if (value < 0.0 && !sample.Unit.AllowsNegative)
        {
            problems.Add($"{option.Name}: found \"{text}\"; accepted: {sample.Unit.Kind} of zero or more");
            return null;
        }

        return value;
    }

    private double? Plain(OptionInfo option, double above, double most)
    {
        if (call.Text(option) is not { } text)
        {
            return null;
        }

        if (double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double number) && number > above && number <= most)
        {
            return number;
        }

        problems.Add(FormattableString.Invariant($"{option.Name}: found \"{text}\"; accepted: a number above {above} and at most {most}"));
        return null;
    }
}
