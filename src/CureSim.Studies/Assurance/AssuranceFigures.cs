using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Assurance;

/// <summary>A share of lifetimes with its interval and, with several worlds, its band over them.</summary>
/// <param name="Estimate">Fraction, 0 … 1.</param>
/// <param name="Band">5–95 % band over worlds; null with one world.</param>
public sealed record AssuranceShare(Estimate Estimate, WorldBand? Band);

/// <summary>What a plan does to good cells and to cells that are not good.</summary>
/// <param name="Pass">Chance that the plan passes (its assurance).</param>
/// <param name="NotGood">Chance that the cell is not good.</param>
/// <param name="PassAndNotGood">Chance that the plan passes while the cell is not good.</param>
/// <param name="PassIfNotGood">Chance that a cell that is not good passes; the textbook says 1 − confidence at most.</param>
/// <param name="NotGoodIfPass">Chance that a cell that passed is not good.</param>
/// <param name="PassIfGood">Chance that a good cell passes.</param>
public sealed record AssuranceFigures(
    AssuranceShare Pass, AssuranceShare NotGood, AssuranceShare PassAndNotGood, AssuranceShare PassIfNotGood, AssuranceShare NotGoodIfPass, AssuranceShare PassIfGood);

/// <summary>The same parts spread in one way.</summary>
/// <param name="Label">How, in words.</param>
/// <param name="Taking">How parts are taken; null for the row in which every part comes from a moment of its own.</param>
/// <param name="IsOwn">True for the plan as it is stated.</param>
/// <param name="CarriedOut">Share of lifetimes whose horizon holds all its occasions.</param>
/// <param name="Withheld">Why there are no figures; null when there are.</param>
/// <param name="Horizon">Good over the whole horizon.</param>
/// <param name="AtQualification">Good in the states in which the parts were taken; null for the row without occasions.</param>
/// <param name="EquivalentParts">Parts, each from a moment of its own in the life of the cell, with which as many cells that are not good would pass; null for measured plans.</param>
/// <param name="FirstHours">Median production hours at the first occasion.</param>
/// <param name="LastHours">Median production hours at the last occasion.</param>
public sealed record AssuranceRow(
    string Label,
    PartTaking? Taking,
    bool IsOwn,
    double CarriedOut,
    string? Withheld,
    AssuranceFigures? Horizon,
    AssuranceFigures? AtQualification,
    Estimate? EquivalentParts,
    double? FirstHours,
    double? LastHours)
{
    /// <summary>The figures that the plan asks for.</summary>
    public AssuranceFigures? Figures(GoodOver good) => good == GoodOver.Horizon ? Horizon : AtQualification;
}

/// <summary>Chance to pass of the lifetimes whose own fraction nonconforming lies in one bin.</summary>
/// <param name="Nonconforming">Mean fraction nonconforming of these lifetimes.</param>
/// <param name="Lifetimes">How many they are.</param>
/// <param name="Pass">Chance to pass.</param>
public sealed record OperatingPoint(double Nonconforming, int Lifetimes, Estimate Pass);

/// <summary>An operating characteristic as simulated.</summary>
/// <param name="Label">How the parts are spread.</param>
/// <param name="Points">By rising fraction.</param>
public sealed record OperatingCurve(string Label, ImmutableArray<OperatingPoint> Points);

/// <summary>All that is found of one plan.</summary>
/// <param name="Rule">The plan and what it accepts.</param>
/// <param name="Rows">The plan as stated first, then the same parts spread otherwise.</param>
/// <param name="Curves">The plan as stated, then the most spread row.</param>
public sealed record PlanAssurance(AcceptanceRule Rule, ImmutableArray<AssuranceRow> Rows, ImmutableArray<OperatingCurve> Curves)
{
    /// <summary>The plan as stated.</summary>
    public AssuranceRow Own => Rows[0];

    /// <summary>The row whose occasions are the most set-ups, among those with figures; null when only one has.</summary>
    public AssuranceRow? MostSpread =>
        Rows.Where(r => r.Withheld is null && r.Taking is { } t && t.Setups > (Own.Taking?.Setups ?? 1)).MaxBy(r => r.Taking!.Setups);
}
