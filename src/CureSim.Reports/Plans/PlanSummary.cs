using System.Text.Json.Nodes;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Studies.Plans;

namespace CureSim.Reports.Plans;

/// <summary>The document of sample sizes and factors.</summary>
public static class PlanSummary
{
    /// <summary>The document, its real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static SummaryDocument Of(SamplePlanTables plans)
    {
        ArgumentNullException.ThrowIfNull(plans);
        var document = new SummaryDocument("plan", "");
        var root = document.Root;
        root.Number("confidence", plans.Confidence).Number("reliability", plans.Reliability).Text("assumption", PlanTables.Assumption);
        if (plans.OwnParts is { } parts)
        {
            root.Count("parts", parts);
        }

        root.Number("successRunExact", plans.SuccessRunExact);
        var tables = root.Object("tables");
        foreach (var plan in PlanTables.Of(plans))
        {
            var target = tables.Object(plan.Table.Name).Text("caption", plan.Caption).Text("source", plan.Source);
            var rows = target.Array("rows");
            foreach (var row in plan.Table.Rows)
            {
                var members = new JsonObject();
                for (int i = 0; i < row.Length; i++)
                {
                    members.Add(plan.Table.Columns[i].Header, row[i].Raw switch
                    {
                        long whole => JsonValue.Create(whole),
                        double number => JsonValue.Create(number),
                        string text => JsonValue.Create(text),
                        _ => null,
                    });
                }

                rows.Add(members);
            }
        }

        MachineDigits.Apply(root);
        return document;
    }
}
