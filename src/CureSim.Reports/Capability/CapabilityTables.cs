using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>Tables about a sample.</summary>
public static class CapabilityTables
{
    /// <summary>All tables.</summary>
    public static ImmutableArray<Table> Of(CapabilityAnalysis analysis, CapabilityContext context)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(context);
        var tables = ImmutableArray.CreateBuilder<Table>();
        tables.Add(Figures(analysis, context));
        tables.Add(Normality(analysis));
        tables.Add(Tolerance(analysis, context));
        if (analysis.Groups is { } groups)
        {
            tables.Add(Groups(groups, context));
        }

        if (analysis.Conformity is { } conformity)
        {
            tables.Add(Acceptance(conformity, analysis.Settings.Limits, context));
        }

        tables.Add(Screening(analysis.Screening, context));
        tables.Add(Values(analysis, context));
        return tables.ToImmutable();
    }

    private static Table Figures(CapabilityAnalysis analysis, CapabilityContext context)
    {
        var table = new Table("figures", Text("figure"), Number("value"), Number("lower"), Number("upper"), Number("confidence"), Text("unit"), Text("withheld"), Text("meaning"), Text("method"), Text("source"));
        foreach (var row in CapabilityRows.Of(analysis, context))
        {
            var f = row.Figure;
            table.Add(row.Id, f.Withheld is null ? f.Value : null, f.Lower, f.Upper, f.Confidence, row.Unit.Length > 0 ? row.Unit : null, f.Withheld, row.Meaning, row.Method, row.Source);
        }

        return table;
    }

    private static Table Normality(CapabilityAnalysis analysis)
    {
        var table = new Table("normality", Text("values"), Text("test"), Number("statistic"), Number("modified"), Number("p"), Text("withheld"), Text("source"));
        void Add(string values, NormalityFinding n)
        {
            table.Add(values, "Anderson-Darling", n.AndersonDarling.Statistic, n.AndersonDarling.Modified, n.AndersonDarling.PValue, n.AndersonDarling.Withheld, "Anderson and Darling 1952; p after D'Agostino and Stephens 1986");
            table.Add(values, "Shapiro-Wilk", n.ShapiroWilk.Statistic, Cell.Missing, n.ShapiroWilk.PValue, n.ShapiroWilk.Withheld, "Shapiro and Wilk 1965; weights and p after Royston 1995; ISO 5479 (recalled from memory) has the test");
        }

        Add("as read", analysis.Normality);
        if (analysis.Power.Normality is { } transformed)
        {
            Add("after the Box-Cox power", transformed);
        }

        return table;
    }

    private static Table Tolerance(CapabilityAnalysis analysis, CapabilityContext context)
    {
        var table = new Table(
            "tolerance_intervals", Text("method"), Text("sides"), Number("confidence"), Number("reliability"), Number("factor"), Number("factor_howe"), Whole("order"),
            Number(context.Header("lower")), Number(context.Header("upper")), Text("within_limits"), Text("withheld"), Text("source"));
        var t = analysis.Tolerance;
        bool two = analysis.Settings.Limits is { Lower: not null, Upper: not null };
        void Add(ToleranceInterval i, double? howe, string? withheld, string source) => table.Add(
            CapabilityWords.Method(i), two ? "two-sided" : "one-sided", analysis.Settings.Confidence, analysis.Settings.Reliability, i.Factor, howe, (long?)i.Order,
            withheld is null ? i.Lower : null, withheld is null ? i.Upper : null,
            withheld is null && i.LiesWithin(analysis.Settings.Limits) is { } within ? (within ? "yes" : "no") : null, withheld, source);
        Add(t.Normal, t.Howe, analysis.Normality.Refused is true ? "normality is refused" : null, two ? "ISO 16269-6; exact integral (Odeh and Owen 1980), beside it Howe 1969" : "ISO 16269-6; noncentral t");
        Add(t.Wilks, null, t.Wilks.Withheld, "ISO 16269-6; Wilks 1941");
        return table;
    }

    private static Table Groups(GroupFinding groups, CapabilityContext context)
    {
        var table = new Table("groups", Text("group"), Whole("values"), Number(context.Header("mean")), Number(context.Header("standard_deviation")));
        foreach (var g in groups.Groups)
        {
            table.Add(g.Name, g.Moments.Count, g.Moments.Mean, g.Moments.StandardDeviation);
        }

        return table;
    }

    private static Table Acceptance(ConformityFinding conformity, LimitPair limits, CapabilityContext context)
    {
        var table = new Table("acceptance", Text("side"), Number(context.Header("limit")), Number(context.Header("acceptance_limit")), Number(context.Header("guard_band")), Text("withheld"), Text("source"));
        void Add(string name, double? limit, double? acceptance)
        {
            if (limit is { } l)
            {
                table.Add(name, l, acceptance, acceptance is { } a ? Math.Abs(a - l) : (double?)null, conformity.Withheld, "JCGM 106:2012, clause 8; ISO 14253-1");
            }
        }

        Add("lower", limits.Lower, conformity.Acceptance?.Lower);
        Add("upper", limits.Upper, conformity.Acceptance?.Upper);
        return table;
    }

    private static Table Screening(SampleScreening s, CapabilityContext context)
    {
        var table = new Table(
            "screening", Whole("values"), Whole("distinct"), Number(context.Header("step")), Number("rounding_share_of_variance"), Number(context.Header("most_repeated")), Whole("repeats"),
            Whole("longest_run"), Text("findings"));
        return table.Add(s.Count, s.Distinct, s.Resolution, s.RoundingShare, s.MostRepeated, s.Repeats, s.LongestRun, string.Join(" ", s.Findings));
    }

    private static Table Values(CapabilityAnalysis analysis, CapabilityContext context)
    {
        bool grouped = analysis.Sample.Groups.Count > 0;
        var judged = analysis.Conformity;
        var table = new Table(
            "values",
            [
                Whole("line"), .. grouped ? [Text("group")] : Array.Empty<Column>(), Number(context.Header("value")), Text("verdict"),
                .. judged is not null ? [Number(context.Header("standard_uncertainty")), Number("conformance_probability")] : Array.Empty<Column>(),
            ]);
        var limits = analysis.Settings.Limits;
        for (int i = 0; i < analysis.Sample.Values.Count; i++)
        {
            double x = analysis.Sample.Values[i];
            string verdict = x < limits.Lower ? "below" : x > limits.Upper ? "above" : judged?.Acceptance?.Contains(x) == false ? "in the guard band" : "inside";
            Cell[] row =
            [
                context.Lines[i], .. grouped ? [analysis.Sample.Groups[i]] : Array.Empty<Cell>(), x, verdict,
                .. judged is not null ? [judged.Readings[i].StandardUncertainty, judged.Readings[i].Conformance] : Array.Empty<Cell>(),
            ];
            table.Add(row);
        }

        return table;
    }

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);

    private static Column Whole(string header) => new(header, ColumnKind.Whole);
}
