using System.Collections.Immutable;
using CureSim.Reports.Capability;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.Plans;

namespace CureSim.Reports.Plans;

/// <summary>A table of sample sizes with what it says and where it stands.</summary>
/// <param name="Table">The table.</param>
/// <param name="Caption">What it says, for above it.</param>
/// <param name="Source">Standard or paper of the method.</param>
public sealed record PlanTable(Table Table, string Caption, string Source);

/// <summary>Sample sizes and factors as tables that a protocol can quote.</summary>
public static class PlanTables
{
    /// <summary>What every table assumes.</summary>
    public const string Assumption =
        "All numbers assume independent parts. Parts made in one setup share emitter, setup, adhesive lot and meter: such a sample shows less than its number of parts says. "
        + "Take the parts over several setups, lots and emitter ages, or state the assumption in the protocol.";

    private const string Binomial = "binomial; the same inequality as the exact upper bound of Clopper and Pearson 1934";
    private const string Wilks = "Wilks 1941, 1942; ISO 16269-6 (distribution-free)";

    /// <summary>The tables in the order in which they are read.</summary>
    public static ImmutableArray<PlanTable> Of(SamplePlanTables plans)
    {
        ArgumentNullException.ThrowIfNull(plans);
        string pair = $"{IntervalText.Stated(plans.Confidence)} confidence, {IntervalText.Stated(plans.Reliability)} reliability";
        var tables = ImmutableArray.CreateBuilder<PlanTable>();
        tables.Add(new(
            Attribute(plans), $"Attribute plans, {pair}: least parts with at most c nonconforming (c = 0 is the success run, ln(1 − C)/ln R = {Format.Value(plans.SuccessRunExact)})",
            $"{Binomial}; success run: common practice, no source"));
        tables.Add(new(Orders(plans), $"Order statistics, {pair}: least parts at which the m-th value from the end bounds the output, any shape", Wilks));
        tables.Add(new(
            Factors(plans), $"Factors k of a normal output, {pair}: mean + k s or mean − k s (one-sided), mean ± k s (two-sided)",
            "ISO 16269-6; one-sided noncentral t, beside it Natrella 1963; two-sided exact integral (Odeh and Owen 1980), beside it Howe 1969"));
        tables.Add(new(
            Indices(plans), $"Least parts of a normal output at which an observed index at one limit shows {pair}: k one-sided no larger than 3 times the index",
            "from the exact one-sided factors above (ISO 16269-6)"));
        if (!plans.Shown.IsEmpty)
        {
            tables.Add(new(
                Shown(plans), $"What {Format.Count(plans.OwnParts!.Value)} parts show at {IntervalText.Stated(plans.Confidence)} confidence when c of them are nonconforming", "Clopper and Pearson 1934, one-sided"));
        }

        tables.Add(new(Risks(plans), "Usual pairs by risk: common practice, no source; the pair is for the protocol to choose and justify", $"{Binomial}; {Wilks}"));
        return tables.ToImmutable();
    }

    private static Table Attribute(SamplePlanTables plans)
    {
        var table = new Table("attribute_plans", new Column("accepted", ColumnKind.Whole, "c"), new Column("parts", ColumnKind.Whole, "parts"), Percent("confidence_percent", "confidence reached, %"));
        foreach (var p in plans.Attribute)
        {
            table.Add(p.Acceptance, p.Parts, 100.0 * p.Confidence);
        }

        return table;
    }

    private static Table Orders(SamplePlanTables plans)
    {
        var table = new Table(
            "order_statistics", new Column("sides", ColumnKind.Text), new Column("order", ColumnKind.Whole, "m"), new Column("bounds", ColumnKind.Text), new Column("parts", ColumnKind.Whole),
            Percent("confidence_percent", "confidence reached, %"));
        foreach (var o in plans.Orders)
        {
            string bound = (o.TwoSided, o.Order) switch
            {
                (false, 1) => "largest or smallest",
                (false, _) => "second largest or second smallest",
                (true, 1) => "smallest and largest",
                _ => "second smallest and second largest",
            };
            table.Add(o.TwoSided ? "two-sided" : "one-sided", o.Order, bound, o.Parts, 100.0 * o.Confidence);
        }

        return table;
    }

    private static Table Factors(SamplePlanTables plans)
    {
        Column K(string header, string heading) => new(header, ColumnKind.Number, heading, 4);
        var table = new Table(
            "normal_factors", new Column("parts", ColumnKind.Whole), K("k_one_sided", "k one-sided"), K("k_one_sided_natrella", "Natrella"), K("k_two_sided", "k two-sided"),
            K("k_two_sided_howe", "Howe"), new Column("own", ColumnKind.Text, " "));
        foreach (var f in plans.Factors)
        {
            table.Add(f.Parts, f.OneSided, f.Natrella, f.TwoSided, f.Howe, f.IsOwn ? "your parts" : "");
        }

        return table;
    }

    private static Table Indices(SamplePlanTables plans)
    {
        var table = new Table("index_plans", new Column("observed_index", ColumnKind.Number, "observed index", 2), new Column("parts", ColumnKind.Whole), new Column("remark", ColumnKind.Text, " "));
        foreach (var i in plans.Indices)
        {
            table.Add(i.ObservedIndex, i.Parts, i.Parts is null ? "never: this index stands for no more than the reliability" : "");
        }

        return table;
    }

    private static Table Shown(SamplePlanTables plans)
    {
        var table = new Table("own_parts", new Column("nonconforming", ColumnKind.Whole, "c"), new Column("reliability_percent", ColumnKind.Number, "reliability shown, %", 2));
        foreach (var s in plans.Shown)
        {
            table.Add(s.Acceptance, 100.0 * s.Reliability);
        }

        return table;
    }

    private static Table Risks(SamplePlanTables plans)
    {
        Column N(string header, string heading) => new(header, ColumnKind.Whole, heading);
        var table = new Table(
            "risk_pairs", new Column("risk", ColumnKind.Text), Percent("confidence_percent", "confidence, %", 0), Percent("reliability_percent", "reliability, %", 0),
            N("parts_c_0", "c = 0"), N("parts_c_1", "c = 1"), N("parts_c_2", "c = 2"), N("parts_c_3", "c = 3"), N("parts_wilks_one_sided", "Wilks, one-sided"), N("parts_wilks_two_sided", "two-sided"));
        foreach (var r in plans.Risks)
        {
            table.Add(
                r.Risk, 100.0 * r.Confidence, 100.0 * r.Reliability, r.Attribute[0].Parts, r.Attribute[1].Parts, r.Attribute[2].Parts, r.Attribute[3].Parts, r.WilksOneSided, r.WilksTwoSided);
        }

        return table;
    }

    private static Column Percent(string header, string heading, int decimals = 2) => new(header, ColumnKind.Number, heading, decimals);
}
