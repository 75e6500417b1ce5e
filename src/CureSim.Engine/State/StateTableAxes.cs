using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;

namespace CureSim.Engine.State;

/// <summary>Chooses the axes of a cell's state table: only what differs between states and does not simply multiply.</summary>
public static class StateTableAxes
{
    private const int DistanceNodes = 13;
    private const int OffsetNodes = 13;
    private const int MostOffsetNodes = 49;
    private const double OffsetStep = 0.25;
    private const int AbsorptionNodes = 7;

    /// <summary>Builds the table of a scenario in one world.</summary>
    public static OwnFactorTable Build(Scenario scenario, WorldValues world, OwnFactors factors) =>
        new(factors, Distance(scenario, world, factors), Offset(scenario, world, factors), Absorption(scenario, world, factors));

    private static TableAxis Distance(Scenario scenario, WorldValues world, OwnFactors factors)
    {
        var fixture = scenario.Fixture;
        double nominal = fixture.NominalDistanceMetres + (fixture.DistancePart.Varies.Mean * world.Factor(fixture.DistancePart));
        var (low, high) = Reach(fixture.DistanceSetup, world);
        foreach (var disturbance in scenario.Disturbances)
        {
            if (disturbance.DistanceShift is { } shift)
            {
                // Room for one large shift or a few usual ones; anything further is computed at the state itself.
                var (l, h) = Reach(shift, world, 1e-3);
                (low, high) = (low + Math.Min(0.0, l), high + Math.Max(0.0, h));
            }
        }

        if (!factors.DistanceMatters || !(high > low))
        {
            return TableAxis.Single(nominal + low);
        }

        return new(Math.Max(1e-6, nominal + low), nominal + high, DistanceNodes);
    }

    private static TableAxis Offset(Scenario scenario, WorldValues world, OwnFactors factors)
    {
        var (low, high) = Reach(scenario.Fixture.AimSetup, world);
        double most = Math.Sqrt(2.0) * Math.Max(Math.Abs(low), Math.Abs(high));
        foreach (var disturbance in scenario.Disturbances)
        {
            if (disturbance.AimShift is { } shift)
            {
                most += Math.Max(0.0, Reach(shift, world, 1e-3).High);
            }
        }

        if (!factors.AimMatters || most <= 0.0)
        {
            return TableAxis.Single(0.0);
        }

        // The score bends with the offset on the scale of the part's own aim: with nodes half a spread apart p was 4 % off, with a quarter it is 0.3 %.
        int wanted = 1 + (int)Math.Ceiling(Math.Min(most / (OffsetStep * factors.AimSpread), MostOffsetNodes));
        return new(0.0, most, Math.Clamp(wanted, OffsetNodes, MostOffsetNodes));
    }

    private static TableAxis Absorption(Scenario scenario, WorldValues world, OwnFactors factors)
    {
        if (!factors.ThicknessMatters)
        {
            return TableAxis.Single(scenario.Substrate?.Absorption.Mean ?? 0.0);
        }

        var (low, high) = Reach(scenario.Substrate!.Absorption, world);
        return high > low ? new(Math.Max(0.0, low), high, AbsorptionNodes) : TableAxis.Single(low);
    }

    private static (double Low, double High) Reach(Quantity quantity, WorldValues world, double tail = 1e-5)
    {
        double factor = world.Factor(quantity);
        if (quantity.Varies is FixedValue value)
        {
            return (value.Value * factor, value.Value * factor);
        }

        double a = factor * quantity.Varies.Quantile(tail), b = factor * quantity.Varies.Quantile(1.0 - tail);
        return (Math.Min(a, b), Math.Max(a, b));
    }
}
