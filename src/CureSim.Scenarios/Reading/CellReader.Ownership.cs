using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Scenarios;

/// <content>Costs and the options of the ownership study.</content>
internal sealed partial class CellReader
{
    private const int LongestLabel = 40;

    private static Costs? ReadCosts(BlockReader? block) => block is null
        ? null
        : new Costs
        {
            Currency = block.Text("currency") ?? "",
            Check = block.Quantity("check"),
            LostHour = block.Quantity("lost_hour"),
            SuspectPart = block.Quantity("suspect_part"),
            NonconformingPart = block.Quantity("nonconforming_part"),
            Emitter = block.Quantity("emitter"),
            Guide = block.Quantity("guide"),
            Requalification = block.Quantity("requalification"),
            Calibration = block.Quantity("calibration"),
            Purchase = block.Quantity("purchase"),
            PurchasePerEmitter = block.Quantity("purchase_per_emitter"),
            ChangeControl = block.Quantity("change_control"),
            FirstQualification = block.Quantity("first_qualification"),
            RadiometerPurchase = block.Quantity("radiometer"),
            KilowattHour = block.Quantity("kwh"),
            Disposal = block.Quantity("disposal"),
            ExposureSecond = block.Quantity("exposure_second"),
            BridgingStock = block.Quantity("bridging_stock"),
            DelayWeek = block.Quantity("delay_week"),
            ForcedChange = block.Quantity("forced_change"),
            ResidualValue = block.Quantity("residual_value"),
        };

    private static Ownership? ReadOwnership(BlockReader? block, Source source)
    {
        if (block is null)
        {
            return null;
        }

        block.Variant = source.Kind;
        string? label = block.Text("label", optional: true);
        if (label?.Length > LongestLabel)
        {
            block.Problem("label", FormattableString.Invariant($"{label.Length} characters"), FormattableString.Invariant($"at most {LongestLabel}: it stands in tables and pictures"));
        }

        bool installed = block.YesNo("installed");
        Quantity rate = block.Quantity("discount_rate");
        FlowTiming timing = Words.Discounting(block.Choice("discounting"));
        MoneyTerms money = block.Choice("money") == "real" ? MoneyTerms.Real : MoneyTerms.Nominal;
        Quantity growth = block.Quantity("price_growth"), energyGrowth = block.Quantity("energy_price_growth");
        double lit = block.Value("lit_power"), standby = block.Value("standby_power"), warmUp = block.Value("warm_up");
        double cooled = block.Value("cooled_share"), performance = block.Value("cooling_cop");
        double? emission = block.ValueOrWord("emission_factor").Value;
        int? year = (int?)block.ValueOrWord("emission_year").Value;
        bool mercury = block.YesNo("holds_mercury");
        double? limit = block.ValueOrWord("nonconforming_limit").Value;
        ChangeProject? project = block.Block("project") is { } p ? new(p.Quantity("duration"), p.Value("validation_fails"), p.Quantity("repeat")) : null;
        Quantity? ends = block.QuantityOrNone("supply_ends");
        return new(label, installed, rate, timing, money, growth, energyGrowth, lit, standby, warmUp, cooled, performance, emission, year, mercury, limit, project, ends);
    }
}
