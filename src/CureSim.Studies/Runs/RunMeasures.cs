using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Engine.State;

namespace CureSim.Studies.Runs;

/// <summary>The figures of a run, in the order in which they are printed.</summary>
public static class RunMeasures
{
    /// <summary>Figures that a plan can give.</summary>
    public static ImmutableArray<Measure> For(RunPlan plan)
    {
        var measures = ImmutableArray.CreateBuilder<Measure>();
        for (int r = 0; r < plan.Layout.Responses.Length; r++)
        {
            AddDistribution(measures, plan, r);
        }

        double meanOverNominal = MeanOverNominal(plan);
        measures.Add(new("part_over_nominal_irradiance_ratio", "mean irradiance of parts over that of the nominal part (part quantities at their means, aim 0), by integration", null, _ => meanOverNominal));
        AddFractions(measures);
        AddStateIndex(measures, plan);
        AddRequalify(measures, plan);
        AddYearly(measures, plan);
        return measures.ToImmutable();
    }

    /// <summary>E[part]/E(nominal) of the nominal state: what working with means alone would miss.</summary>
    private static double MeanOverNominal(RunPlan plan)
    {
        var (scenario, model) = (plan.Scenario, plan.FirstWorld);
        return new OwnFactors(scenario, model.Values, ownRipple: true, ownTime: false)
            .MeanFactor(NominalState.Distance(scenario, model), 0.0, NominalState.Absorption(scenario, model));
    }

    /// <summary>Trade unit of a response and what SI is divided by to come to it.</summary>
    public static (string Suffix, string? Unit, double PerSi) UnitOf(Response response) => response switch
    {
        Response.Irradiance => ("w_per_cm2", "W/cm²", 1e-4),
        Response.Dose => ("j_per_cm2", "J/cm²", 1e-4),
        _ => ("ratio", null, 1.0),
    };

    /// <summary>Name of a response in identifiers.</summary>
    public static string NameOf(Response response) => response switch
    {
        Response.Irradiance => "irradiance",
        Response.Dose => "dose",
        _ => "degree_of_cure",
    };

    /// <summary>Limits of a response in trade units.</summary>
    public static LimitPair LimitsOf(Scenario scenario, Response response)
    {
        double k = UnitOf(response).PerSi;
        var limits = scenario.Window.For(response);
        return new(limits?.Lower * k, limits?.Upper * k, limits?.Target * k);
    }

    /// <summary>A quantile of a response over everything, in trade units; null when it lies outside the bins.</summary>
    public static double? Quantile(RunPiece piece, int r, double p)
    {
        var response = piece.Plan.Layout.Responses[r];
        var all = new LogHistogram(response.Bins);
        for (int s = 0; s < piece.Plan.Layout.SiteCount; s++)
        {
            all.Merge(piece.Summary.Histograms[r, s]);
        }

        // The degree of cure is kept as 1 − X, so its quantiles turn round.
        return response.Response == Response.DegreeOfCure ? 1.0 - all.Quantile(1.0 - p) : all.Quantile(p) * UnitOf(response.Response).PerSi;
    }

    /// <summary>Moments of a response over all sites, SI.</summary>
    public static Moments All(RunPiece piece, int r)
    {
        Moments all = default;
        for (int s = 0; s < piece.Plan.Layout.SiteCount; s++)
        {
            all.Merge(piece.Summary.BySite[r, s]);
        }

        return all;
    }

    /// <summary>Overall indices (Pp, Ppk, Cpm) of a response.</summary>
    public static CapabilityIndices Overall(RunPiece piece, int r)
    {
        var response = piece.Plan.Layout.Responses[r].Response;
        double k = UnitOf(response).PerSi;
        var all = All(piece, r);
        return MomentCapability.Of(all.Mean * k, all.StandardDeviation * k, LimitsOf(piece.Plan.Scenario, response));
    }

    /// <summary>Short-term indices (Cp, Cpk) of the worst site of a response; null when no step has two parts.</summary>
    public static (CapabilityIndices Indices, int Site)? ShortTerm(RunPiece piece, int r)
    {
        var response = piece.Plan.Layout.Responses[r].Response;
        double k = UnitOf(response).PerSi;
        (CapabilityIndices, int)? worst = null;
        double least = double.PositiveInfinity;
        for (int s = 0; s < piece.Plan.Layout.SiteCount; s++)
        {
            double groups = piece.Summary.WithinGroups[r, s];
            if (!(groups > 0.0))
            {
                return null;
            }

            double sd = Math.Sqrt(piece.Summary.WithinSum[r, s] / groups);
            var indices = MomentCapability.Of(piece.Summary.BySite[r, s].Mean * k, sd * k, LimitsOf(piece.Plan.Scenario, response));
            double cpk = indices.Cpk ?? double.PositiveInfinity;
            if (worst is null || cpk < least)
            {
                (worst, least) = ((indices, s), cpk);
            }
        }

        return worst;
    }

    /// <summary>Percentile indices of a response over everything.</summary>
    public static CapabilityIndices Percentile(RunPiece piece, int r) =>
        Quantile(piece, r, PercentileCapability.LowProbability) is { } low
        && Quantile(piece, r, 0.5) is { } middle
        && Quantile(piece, r, PercentileCapability.HighProbability) is { } high
            ? PercentileCapability.Of(low, middle, high, LimitsOf(piece.Plan.Scenario, piece.Plan.Layout.Responses[r].Response))
            : CapabilityIndices.Withhold(CapabilityMethod.Percentiles, "an outer quantile lies outside the bins");

    private static void AddDistribution(ImmutableArray<Measure>.Builder measures, RunPlan plan, int r)
    {
        var response = plan.Layout.Responses[r].Response;
        var (suffix, unit, k) = UnitOf(response);
        string name = NameOf(response), words = name.Replace('_', ' ');
        measures.Add(OfMoments($"{name}_mean_{suffix}", $"mean {words} over all bonds", unit, p => All(p, r).Mean * k));
        measures.Add(OfMoments($"{name}_sd_{suffix}", $"overall standard deviation of {words}", unit, p => All(p, r).StandardDeviation * k));
        measures.Add(OfMoments($"{name}_within_sd_{suffix}", $"short-term standard deviation of {words} (one lifetime, step and site), root mean over sites", unit, p => Within(p, r) * k));
        foreach (var (id, p0, label) in ((string, double, string)[])[("x0_135", 0.00135, "X0.135"), ("x50", 0.5, "X50"), ("x99_865", 0.99865, "X99.865")])
        {
            measures.Add(new($"{name}_{id}_{suffix}", $"quantile {label} of {words}", unit, p => Quantile(p, r, p0)));
        }

        if (plan.Scenario.Window.For(response) is null)
        {
            return;
        }

        measures.Add(OfMoments($"{name}_pp", $"Pp of {words}: overall spread against both limits", null, p => Overall(p, r).Cp));
        measures.Add(OfMoments($"{name}_ppk", $"Ppk of {words}: overall, nearer limit", null, p => Overall(p, r).Cpk));
        measures.Add(new($"{name}_pp_percentile", $"Pp of {words} by the percentile method of ISO 22514-2", null, p => Percentile(p, r).Cp));
        measures.Add(new($"{name}_ppk_percentile", $"Ppk of {words} by the percentile method of ISO 22514-2", null, p => Percentile(p, r).Cpk));
        measures.Add(OfMoments($"{name}_cp", $"Cp of {words}: short-term spread, worst site", null, p => ShortTerm(p, r)?.Indices.Cp));
        measures.Add(OfMoments($"{name}_cpk", $"Cpk of {words}: short-term spread, worst site", null, p => ShortTerm(p, r)?.Indices.Cpk));
        measures.Add(OfMoments($"{name}_cpm", $"Cpm of {words} about its target, overall spread", null, p => Overall(p, r).Cpm));
    }

    private static Measure OfMoments(string id, string meaning, string? unit, Func<RunPiece, double?> value) =>
        new(id, meaning, unit, value) { Error = ErrorBy.LeaveOneOut };

    private static double? Within(RunPiece piece, int r)
    {
        double sum = 0.0, groups = 0.0;
        for (int s = 0; s < piece.Plan.Layout.SiteCount; s++)
        {
            sum += piece.Summary.WithinSum[r, s];
            groups += piece.Summary.WithinGroups[r, s];
        }

        return groups > 0.0 ? Math.Sqrt(sum / groups) : null;
    }

    private static Measure Ratio(string id, string meaning, string? unit, double scale, Func<LifetimeRecord, (double, double)> ratio, bool fraction = false) =>
        new(id, meaning, unit, piece => Total(piece, ratio) is var (a, m) && m > 0.0 ? scale * a / m : null)
        {
            Error = ErrorBy.Lifetimes,
            Ratio = ratio,
            Scale = scale,
            IsShare = unit == "%",
            BandInLogs = fraction,
            NeedsSupport = fraction,
        };

    internal static (double Numerator, double Denominator) Total(RunPiece piece, Func<LifetimeRecord, (double, double)> ratio)
    {
        double a = 0.0, m = 0.0;
        foreach (ref readonly var record in piece.Records.Span)
        {
            var (x, y) = ratio(record);
            a += x;
            m += y;
        }

        return (a, m);
    }

    private static void AddFractions(ImmutableArray<Measure>.Builder measures)
    {
        measures.Add(Ratio("bonds_nonconforming_conditional_ppm", "nonconforming bonds, averaged over judged states", "ppm", 1e6, r => (r.ConditionalBonds, r.ConditionalStates), true) with { LeastSupport = MeasureEstimator.LeastConditionalSupport });
        measures.Add(Ratio("bonds_nonconforming_counted_ppm", "nonconforming bonds, counted", "ppm", 1e6, r => (r.BondsNonconforming, r.BondsSampled), true));
        measures.Add(Ratio("parts_nonconforming_conditional_ppm", "nonconforming parts (any bond outside), averaged over judged states", "ppm", 1e6, r => (r.ConditionalParts, r.ConditionalStates), true) with { LeastSupport = MeasureEstimator.LeastConditionalSupport });
        measures.Add(Ratio("parts_nonconforming_counted_ppm", "nonconforming parts, counted", "ppm", 1e6, r => (r.PartsNonconforming, r.PartsSampled), true));
    }

    private static void AddStateIndex(ImmutableArray<Measure>.Builder measures, RunPlan plan)
    {
        string[] ids = ["start", "before_check", "end"];
        string[] words = ["at the start", "just before a check", "at the end"];
        double required = plan.Scenario.Requalification.RequiredCapability ?? double.NaN;
        for (int m = 0; m < CellSummary.IndexMoments; m++)
        {
            if (m == 1 && !plan.Layout.BinEndsOnCheck.Contains(true))
            {
                continue;
            }

            int at = m;
            foreach (var (p, name) in ((double, string)[])[(0.05, "p05"), (0.5, "p50"), (0.95, "p95")])
            {
                measures.Add(new(
                    $"state_index_{ids[m]}_{name}", $"state index {words[m]}, {p * 100:0} % of cells below", null,
                    piece => Finite(SummaryLayout.IndexQuantile(piece.Summary.IndexAt[at], p))));
            }

            if (!double.IsNaN(required))
            {
                measures.Add(new($"cells_meeting_{ids[m]}_percent", $"cells that meet the required state index {words[m]}", "%", piece => Meeting(piece.Summary.IndexAt[at], required)) { IsShare = true });
            }
        }
    }

    private static double? Finite(double x) => double.IsFinite(x) ? x : null;

    private static double? Meeting(int[] slots, double required)
    {
        long total = 0, meeting = 0;
        for (int i = 0; i < slots.Length; i++)
        {
            total += slots[i];
            if (i > 0 && SummaryLayout.IndexLow + ((i - 1) * SummaryLayout.IndexWidth) >= required - 1e-9)
            {
                meeting += slots[i];
            }
        }

        return total > 0 ? 100.0 * meeting / total : null;
    }

    private static void AddRequalify(ImmutableArray<Measure>.Builder measures, RunPlan plan)
    {
        measures.Add(Ratio("never_qualified_percent", "cells not qualified after commissioning", "%", 100.0, r => (r.NeverQualified ? 1.0 : 0.0, 1.0)));
        if (plan.Scenario.Requalification.On.IsEmpty)
        {
            return;
        }

        double horizon = plan.Scenario.Production.HorizonSeconds;
        measures.Add(Curve("requalify_median_hours", "median time to requalify (Kaplan–Meier, first cycles)", "h", curve => curve.Quantile(0.5).Scale(1.0 / 3600.0), curve => curve.Quantile(0.5).Value));
        measures.Add(Curve("requalify_b10_hours", "time by which 10 % must be requalified", "h", curve => curve.Quantile(0.1).Scale(1.0 / 3600.0), curve => curve.Quantile(0.1).Value));
        measures.Add(Curve("requalify_restricted_mean_hours", "mean time without requalification up to the horizon", "h", curve => curve.RestrictedMean(horizon).Scale(1.0 / 3600.0)));
        measures.Add(Ratio("requalify_within_horizon_percent", "cells (qualified ones) to requalify within the horizon", "%", 100.0, r => r.NeverQualified ? (0.0, 0.0) : (double.IsNaN(r.RequalifySeconds) ? 0.0 : 1.0, 1.0)));
    }

    /// <summary>A figure of the Kaplan–Meier curve of first cycles.</summary>
    internal static Measure Curve(string id, string meaning, string unit, Func<SurvivalCurve, Estimate> curve, Func<SurvivalCurve, double?>? at = null) =>
        new(id, meaning, unit, piece => curve(FirstCycles.Survival(piece)).Value) { Error = ErrorBy.SurvivalCurve, Curve = curve, CurveAt = at };

    private static void AddYearly(ImmutableArray<Measure>.Builder measures, RunPlan plan)
    {
        double years = plan.Scenario.Production.HorizonSeconds / plan.Scenario.Production.YearSeconds;
        double share = 100.0 / plan.Scenario.Production.HorizonSeconds;
        void Yearly(string id, string meaning, Func<LifetimeRecord, double> count) =>
            measures.Add(Ratio(id, meaning, null, 1.0 / years, r => (count(r), 1.0)));

        Yearly("excursions_per_year", "excursions from the qualified state a year", r => r.Excursions);
        measures.Add(Ratio("time_out_percent", "production time out of the qualified state", "%", share, r => (r.OutSeconds, 1.0)));
        measures.Add(Ratio("time_out_undetected_percent", "… before anybody knows", "%", share, r => (r.OutUndetectedSeconds, 1.0)));
        measures.Add(Ratio("time_outside_window_percent", "production time with a nominal bond outside the window", "%", share, r => (r.OutOfWindowSeconds, 1.0)));
        measures.Add(Ratio("time_outside_window_undetected_percent", "… before anybody knows", "%", share, r => (r.OutOfWindowUndetectedSeconds, 1.0)));
        Yearly("parts_made_per_year", "parts made a year", r => r.PartsMade);
        if (plan.Scenario.Checks is not null)
        {
            Yearly("suspect_parts_per_year", "suspect parts a year", r => r.SuspectParts);
            Yearly("checks_per_year", "checks a year", r => r.Checks);
            measures.Add(Ratio("found_leave_percent", "checks that left the cell as found", "%", 100.0, r => (r.FoundLeave, r.Checks)));
            measures.Add(Ratio("found_out_of_tolerance_percent", "checks that found the cell out of tolerance", "%", 100.0, r => (r.FoundOutOfTolerance, r.Checks)));
        }

        Yearly("requalifications_per_year", "requalifications made a year", r => r.Requalifications);
        Yearly("emitters_per_year", "emitters replaced a year", r => r.EmittersPlanned + r.EmittersFailed + r.EmittersShort);
        Yearly("emitter_failures_per_year", "emitters that failed suddenly a year", r => r.EmittersFailed);
        if (plan.Scenario.Guide is not null)
        {
            Yearly("guides_per_year", "guides replaced a year", r => r.GuidesPlanned + r.GuidesShort);
        }

        if (!plan.Scenario.Disturbances.IsEmpty)
        {
            Yearly("disturbances_per_year", "disturbances a year", r => r.Disturbances);
        }

        measures.Add(Ratio("downtime_percent", "production time lost", "%", share, r => (r.DowntimeSeconds, 1.0)));
    }
}
