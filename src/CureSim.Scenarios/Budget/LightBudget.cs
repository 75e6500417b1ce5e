using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Model.Bond;
using CureSim.Core.Model.Geometry;
using CureSim.Core.Model.Loop;

namespace CureSim.Scenarios;

/// <summary>One factor between the source and the bond.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Factor">Ratio; for the first line 1.</param>
/// <param name="RunningWattsPerSquareMetre">Irradiance after it, W/m².</param>
public sealed record BudgetLine(string Name, double Factor, double RunningWattsPerSquareMetre);

/// <summary>A nominal response against its limits.</summary>
/// <param name="Response">Which.</param>
/// <param name="Value">SI (W/m², J/m², ratio).</param>
/// <param name="Limits">Its limits; null when it has none.</param>
public sealed record NominalResponse(Response Response, double Value, SpecificationLimits? Limits)
{
    /// <summary>True when it has limits and is outside them.</summary>
    public bool IsOutside => Value < Limits?.Lower || Value > Limits?.Upper;
}

/// <summary>
/// The nominal light budget, factor by factor: a new emitter, a new guide, clean tips, every quantity at its mean (a relative error at 1),
/// the part at its nominal place with aim 0.
/// </summary>
/// <param name="Lines">From the stated irradiance to the bond.</param>
/// <param name="FullDriveAtRadiometer">W/m² where the radiometer is held, at full drive; the highest indication that a setting can reach.</param>
/// <param name="Drive">Drive that the first setting chooses, or the scenario's own without checks.</param>
/// <param name="Responses">Irradiance, dose and (with a cure block) degree of cure at the bond.</param>
public sealed record LightBudget(
    ImmutableArray<BudgetLine> Lines, double FullDriveAtRadiometer, double Drive, ImmutableArray<NominalResponse> Responses)
{
    /// <summary>Headroom: full drive over the drive that is set.</summary>
    public double Headroom => 1 / Drive;

    /// <summary>The budget of a cell.</summary>
    public static LightBudget Nominal(Scenario cell)
    {
        var lines = ImmutableArray.CreateBuilder<BudgetLine>();
        double e = cell.Source.Irradiance.Mean;
        lines.Add(new BudgetLine("irradiance, new, full drive, reference distance", 1, e));
        void Times(string name, double factor)
        {
            e *= factor;
            lines.Add(new BudgetLine(name, factor, e));
        }

        if (cell.Source.Arrangement == EmitterArrangement.Shared && cell.Source.StatedLegs != cell.Production.SiteCount)
        {
            Times(FormattableString.Invariant($"{cell.Production.SiteCount} legs, stated for {cell.Source.StatedLegs}"), (double)cell.Source.StatedLegs / cell.Production.SiteCount);
        }

        if (cell.Guide is { } guide)
        {
            Times("guide, new", Math.Exp(guide.Transmission.Mean));
        }

        double atTip = e;
        (double distance, double tilt, double beam) = Geometry(cell.Fixture);
        double atRadiometer = cell.Checks is { MeasuredAt: MeasuredAt.BondFixture } ? atTip * distance * tilt * beam : atTip;
        double drive = DriveFor(cell, atRadiometer);
        Times("drive", drive);
        Times("working distance", distance);
        Times("tilt", tilt);
        Times("beam, judged " + (cell.Fixture.JudgeAtWorstPoint && cell.Fixture.BondRadiusMetres > 0 ? "at the edge of the bond" : "at the centre"), beam);
        if (cell.Substrate is { } s)
        {
            Times("substrate", SubstrateModel.Transmission(s.Reflectance, s.Absorption.Mean, s.Thickness.Mean));
        }

        double seconds = cell.Exposure.SettingSeconds + cell.Exposure.Offset.Mean + cell.Exposure.Error.Mean;
        var responses = ImmutableArray.CreateBuilder<NominalResponse>();
        void Add(Response response, double value) => responses.Add(new NominalResponse(response, value, cell.Window.For(response)));
        Add(Response.Irradiance, e);
        Add(Response.Dose, e * seconds);
        if (cell.Cure is { } cure)
        {
            double rate = cure.RateLot.Mean * Math.Exp(cure.RatePart.Mean);
            Add(Response.DegreeOfCure, CureModel.Degree(cure.Maximum, rate, cure.Exponent.Mean, cure.InductionDose.Mean, e, seconds));
        }

        return new LightBudget(lines.ToImmutable(), atRadiometer, drive, responses.ToImmutable());
    }

    private static (double Distance, double Tilt, double Beam) Geometry(Fixture f)
    {
        double d = f.NominalDistanceMetres + f.DistanceSetup.Mean + f.DistancePart.Mean;
        double spread = IsDrawable(f.Spread) ? new SpreadModel(f.Spread, f.ReferenceDistanceMetres).At(d) : 1;
        return (spread, Math.Cos(f.Tilt.Mean), Math.Exp(new BeamModel(f.Beam, f.BondRadiusMetres, f.JudgeAtWorstPoint).Log(0)));
    }

    // A table that has a problem of its own cannot be interpolated; what else there is to say is said all the same.
    private static bool IsDrawable(SpreadLaw law) => law is not TableSpread table
        || (table.DistanceMetres.Length > 1 && table.DistanceMetres.Zip(table.DistanceMetres.Skip(1)).All(p => p.First < p.Second)
            && table.Relative.All(double.IsFinite));

    private static double DriveFor(Scenario cell, double atRadiometer)
    {
        if (cell.Checks is not { } checks)
        {
            return cell.Now?.Drive is { } present ? present.Average() : cell.Source.Drive;
        }

        return new DriveModel(cell.Source.DriveStep, cell.Source.DriveMinimum).Grid(checks.TargetWattsPerSquareMetre / atRadiometer);
    }
}
