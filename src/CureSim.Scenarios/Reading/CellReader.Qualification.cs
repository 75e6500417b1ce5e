using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Scenarios;

/// <content>Qualification plans.</content>
internal sealed partial class CellReader
{
    private const string DefaultMeasuredParts = "30";

    private ImmutableArray<QualificationPlan> ReadQualification(BlockReader blocks)
    {
        IReadOnlyList<ScenarioNode> items = blocks.Items("qualification", optional: true);
        if (items.Count == 0)
        {
            return [];
        }

        var plans = new List<QualificationPlan>();
        var nodes = new List<BlockReader>();
        foreach ((int i, ScenarioNode item) in items.Index())
        {
            string number = string.Create(CultureInfo.InvariantCulture, $"qualification.{i + 1}");
            if (item is not MapNode map)
            {
                Findings.Problem(item.Place, number, item.Found, "a block with name, accept, parts ...");
                continue;
            }

            var block = new BlockReader(context, QualificationKeys.Plan, map, number);
            var plan = ReadPlan(block);
            if (plans.Any(p => p.Name == plan.Name))
            {
                block.Problem("name", $"the name \"{plan.Name}\" a second time", "a name of its own for each plan");
            }

            plans.Add(plan);
            nodes.Add(block);
        }

        blocks.ResolveLater("qualification", () => new ListNode([.. nodes.Select(n => n.Resolved())], items[0].Place, Origin.Yours));
        return [.. plans];
    }

    private static QualificationPlan ReadPlan(BlockReader block)
    {
        string? kind = block.TextOf("accept");
        string name = block.Text("name", kind ?? "plan") ?? "plan";
        if (name.Contains('.', StringComparison.Ordinal))
        {
            block.Problem("name", $"\"{name}\"", "a name without dots");
        }

        kind = block.Choice("accept") ?? QualificationKeys.Attribute;
        block.Variant = kind;
        var accept = kind switch
        {
            QualificationKeys.ToleranceInterval => Acceptance.ToleranceInterval,
            QualificationKeys.Ppk => Acceptance.Capability,
            _ => Acceptance.Attribute,
        };
        int allowed = 0;
        if (accept == Acceptance.Attribute)
        {
            allowed = (int)(block.Count("nonconforming_allowed") ?? 0);
        }
        else
        {
            block.Refuse("nonconforming_allowed", "nonconforming_allowed beside \"accept: attribute\" only");
        }

        double confidence = block.Value("confidence"), reliability = double.NaN, ppk = double.NaN;
        if (accept == Acceptance.Capability)
        {
            block.Refuse("reliability", "no reliability beside \"accept: ppk\", which has that of its index");
            ppk = block.Value("ppk");
            reliability = Core.Numerics.BlockMath.NormalCdf(3.0 * ppk);
        }
        else
        {
            block.Refuse("ppk", "ppk beside \"accept: ppk\" only");
            reliability = block.Value("reliability");
        }

        int parts = (int)(block.Count("parts", FewestParts(accept, allowed, confidence, reliability)) ?? 1);
        int setups = (int)(block.Count("setups") ?? 1), lots = (int)(block.Count("lots") ?? 1), ages = (int)(block.Count("emitter_ages") ?? 1);
        var plan = new QualificationPlan(
            name, accept, parts, allowed, confidence, reliability, ppk, setups, lots, ages, Words.Gate(block.Choice("gate")),
            block.Choice("measured_by") == QualificationKeys.Radiometer ? PartReading.Radiometer : PartReading.TrueValue,
            block.Choice("good_over") == "qualification" ? GoodOver.Qualification : GoodOver.Horizon);
        if (parts < plan.Occasions)
        {
            block.Problem(
                "parts", string.Create(CultureInfo.InvariantCulture, $"{parts} parts over {plan.Occasions} occasions (the most of setups, lots and emitter_ages)"),
                "at least one part for each occasion");
        }

        if (accept != Acceptance.Attribute && parts < 2)
        {
            block.Problem("parts", "1 part, which shows no spread", "at least 2 parts");
        }

        if (accept == Acceptance.Attribute && parts <= allowed)
        {
            block.Problem(
                "parts", string.Create(CultureInfo.InvariantCulture, $"{parts} parts of which {allowed} may be nonconforming"), "more parts than may be nonconforming");
        }

        return plan;
    }

    private static string FewestParts(Acceptance accept, int allowed, double confidence, double reliability)
    {
        bool known = confidence is > 0 and < 1 && reliability is > 0 and < 1;
        return accept == Acceptance.Attribute && known
            ? Math.Min(10_000, SamplePlan.Attribute(allowed, confidence, reliability)).ToString(CultureInfo.InvariantCulture)
            : DefaultMeasuredParts;
    }
}
