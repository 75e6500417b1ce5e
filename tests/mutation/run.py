#!/usr/bin/env python3
"""Shows that self-check can fail: breaks one formula at a time in a scratch copy, builds it, runs self-check and records which checks missed.

Run:  python3 tests/mutation/run.py [--only NAME ...]     (about a minute a mutant; needs the .NET SDK; the repository itself is not touched)
Writes results.csv beside itself: mutant, file, change, number of checks that missed, their names. docs/validation.md takes its table from there.
Exit code 1 when a mutant survives, or when the unchanged copy does not pass.
"""
import csv
import json
import os
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
RESULTS = os.path.join(HERE, "results.csv")

# name, what is changed in words, [(file, text, text in its place)]: every occurrence is replaced, and there must be one.
MUTANTS = [
    ("two-stage exponent", "late part of two-stage ageing falls with 0.9 of its time constant", [
        ("src/CureSim.Core/Model/Ageing/AgeingModel.cs", "((1.0 - p0) * BlockMath.Exp(-(h / p2)))", "((1.0 - p0) * BlockMath.Exp(-(h / (0.9 * p2))))"),
        ("src/CureSim.Core/Model/Ageing/AgeingModel.cs", "-(Lanes.Load(h, i) / Lanes.Load(late, i))", "-(Lanes.Load(h, i) / (0.9 * Lanes.Load(late, i)))")]),
    ("stretched exponent", "stretched ageing without its shape", [
        ("src/CureSim.Core/Model/Ageing/AgeingModel.cs", "BlockMath.Pow(h / p0, p1)", "(h / p0)")]),
    ("exponential ageing", "exponential ageing runs at 1.1 times its rate", [
        ("src/CureSim.Core/Model/Ageing/AgeingModel.cs", "BlockMath.Exp(-(h / p0))", "BlockMath.Exp(-1.1 * (h / p0))"),
        ("src/CureSim.Core/Model/Ageing/AgeingModel.cs", "-(Lanes.Load(h, i) / Lanes.Load(p0, i))", "-1.1 * (Lanes.Load(h, i) / Lanes.Load(p0, i))")]),
    ("cone mean law", "spot mean of a cone falls as 1/(a + d tan) in place of its square", [
        ("src/CureSim.Core/Model/Geometry/SpreadModel.cs", "return cone * cone;", "return cone;"),
        ("src/CureSim.Core/Model/Geometry/SpreadModel.cs", "v[i] = cone * cone;", "v[i] = cone;")]),
    ("cone axis law", "axis of a cone: a^2/(a^2 + d^2) without the square of d", [
        ("src/CureSim.Core/Model/Geometry/SpreadModel.cs", "a / (a + (d * d)) / b", "a / (a + (d * Math.Sqrt(a))) / b")]),
    ("inverse square law", "inverse square without the virtual distance", [
        ("src/CureSim.Core/Model/Geometry/SpreadModel.cs", "reference / (d + a)", "reference / d"),
        ("src/CureSim.Core/Model/Geometry/SpreadModel.cs", "Vector512.Max(v[i], least) + at", "Vector512.Max(v[i], least)")]),
    ("focused spot law", "focused spot: 1 + |z| in place of 1 + z^2", [
        ("src/CureSim.Core/Model/Geometry/SpreadModel.cs", "return reference / (1.0 + (z * z));", "return reference / (1.0 + Math.Abs(z));")]),
    ("beam profile", "Gaussian beam of 1/e radius in place of 1/e^2: -1 in place of -2", [
        ("src/CureSim.Core/Model/Geometry/BeamModel.cs", "-2.0 / (radius * radius)", "-1.0 / (radius * radius)")]),
    ("slab transmission", "slab with one face in place of two: 1 - R in place of (1 - R)^2", [
        ("src/CureSim.Core/Model/Bond/SubstrateModel.cs", "(1.0 - reflectance) * (1.0 - reflectance)", "(1.0 - reflectance)")]),
    ("slab absorption", "absorption of the slab counted half", [
        ("src/CureSim.Core/Model/Bond/SubstrateModel.cs", "-(absorption * thickness)", "-(0.5 * absorption * thickness)"),
        ("src/CureSim.Core/Model/Bond/SubstrateModel.cs", "-(alpha[i] * x[i])", "-(0.5 * (alpha[i] * x[i]))")]),
    ("guide loss sign", "guide gains in place of losing", [
        ("src/CureSim.Engine/Block/LifetimeBlock.Path.cs", "path -= guideLoss[g][lane] * guideLit[g][lane];", "path += guideLoss[g][lane] * guideLit[g][lane];"),
        ("src/CureSim.Engine/Block/LifetimeBlock.Path.cs", "path[i] -= loss[i] * lit[i];", "path[i] += loss[i] * lit[i];")]),
    ("sensor drift sign", "drift of the loop's sensor turned round", [
        ("src/CureSim.Engine/Block/LifetimeBlock.Source.cs", "BlockMath.Exp(sensorDrift[e][lane] * sensorAge[e][lane])", "BlockMath.Exp(-(sensorDrift[e][lane] * sensorAge[e][lane]))"),
        ("src/CureSim.Engine/Block/LifetimeBlock.Source.cs", "BlockMath.Exp(drift[i] * age[i])", "BlockMath.Exp(-(drift[i] * age[i]))")]),
    ("drive grid", "drive goes to twice its step", [
        ("src/CureSim.Core/Model/Loop/DriveModel.cs", "Math.Round(wanted / step, MidpointRounding.ToEven) * step", "Math.Round(wanted / (2 * step), MidpointRounding.ToEven) * (2 * step)"),
        ("src/CureSim.Core/Model/Loop/DriveModel.cs", "Vector512.Round(wanted / Vector512.Create(step), MidpointRounding.ToEven) * Vector512.Create(step)",
         "Vector512.Round(wanted / Vector512.Create(2 * step), MidpointRounding.ToEven) * Vector512.Create(2 * step)")]),
    ("radiometer error", "calibration error left out of a reading", [
        ("src/CureSim.Engine/Block/LifetimeBlock.Setting.cs", "meterError[lane] + calibrationError[lane] +", "meterError[lane] +")]),
    ("radiometer drift", "drift of the radiometer turned round", [
        ("src/CureSim.Engine/Block/LifetimeBlock.Setting.cs", "+ (meterDriftRate[lane] * (time - calibratedAt[lane]))", "- (meterDriftRate[lane] * (time - calibratedAt[lane]))")]),
    ("band ageing", "ageing of the useful band turned round, where lifetimes go in lock-step", [
        ("src/CureSim.Engine/Block/LifetimeBlock.Path.cs", "BlockMath.Exp(-(rate[i] * h[i]))", "BlockMath.Exp(rate[i] * h[i])")]),
    ("band ageing at a check", "ageing of the useful band turned round, where one lifetime is judged by itself", [
        ("src/CureSim.Engine/Block/LifetimeBlock.Source.cs", "BlockMath.Exp(-(bandRate[e][lane] * burnTime))", "BlockMath.Exp(bandRate[e][lane] * burnTime)")]),
    ("cure exponent", "degree of cure with the exponent of irradiance doubled", [
        ("src/CureSim.Core/Model/Bond/CureModel.cs", "BlockMath.Exp(exponent * BlockMath.Log(irradiance * (1.0 / ReferenceIrradiance)))", "BlockMath.Exp(2 * exponent * BlockMath.Log(irradiance * (1.0 / ReferenceIrradiance)))"),
        ("src/CureSim.Core/Model/Bond/CureModel.cs", "BlockMath.Exp(p * BlockMath.Log(e[i] * scale))", "BlockMath.Exp((p + p) * BlockMath.Log(e[i] * scale))")]),
    ("cure threshold", "irradiance for a degree of cure: exponent multiplies in place of dividing", [
        ("src/CureSim.Core/Model/Bond/CureModel.cs", "(BlockMath.Log(need / (rate * time)) / exponent)", "(BlockMath.Log(need / (rate * time)) * exponent)")]),
    ("state index", "p to the state index: divided by 3.1", [
        ("src/CureSim.Engine/State/StateJudge.cs", "-BlockMath.NormalQuantile(part) / 3.0", "-BlockMath.NormalQuantile(part) / 3.1")]),
    ("lognormal quantile", "lognormal with 1.02 of its log standard deviation", [
        ("src/CureSim.Core/Distributions/LognormalDistribution.cs", "BlockMath.Affine(z, SigmaLog, 0.0)", "BlockMath.Affine(z, 1.02 * SigmaLog, 0.0)"),
        ("src/CureSim.Core/Distributions/LognormalDistribution.cs", "BlockMath.Affine(z, SigmaLog, 0.0, x)", "BlockMath.Affine(z, 1.02 * SigmaLog, 0.0, x)")]),
    ("Philox key schedule", "second key word of the generator steps by 1 less", [
        ("src/CureSim.Core/Random/Philox4x32.cs", "0xBB67AE85", "0xBB67AE84")]),
    ("noncentral t factor", "one-sided tolerance factor from n in place of n - 1 degrees of freedom", [
        ("src/CureSim.Core/Statistics/Tolerance/NormalToleranceFactor.cs", "NoncentralTLaw.Quantile(confidence, count - 1,", "NoncentralTLaw.Quantile(confidence, count,")]),
    ("Bissell term", "standard error of Cpk with n in place of n - 1", [
        ("src/CureSim.Core/Statistics/Capability/CapabilityInterval.cs", "(2.0 * (count - 1.0))", "(2.0 * count)")]),
    ("Greenwood sum", "Greenwood's variance with n in place of n - d", [
        ("src/CureSim.Core/Statistics/Survival/KaplanMeier.cs", "(died / (n * (n - died)))", "(died / (n * n))")]),
    ("Clopper-Pearson", "upper limit with k in place of k + 1", [
        ("src/CureSim.Core/Statistics/BinomialInterval.cs", "BetaLaw.UpperQuantile(tail, seen + 1.0, trials - seen)", "BetaLaw.UpperQuantile(tail, seen, trials - seen)")]),
    ("annuity", "flow at the end of a period counted at its beginning", [
        ("src/CureSim.Core/Statistics/Economics/Annuity.cs", "FlowTiming.End => loss / rate,", "FlowTiming.End => loss / rate * (1.0 + rate),")]),
]


def copy_tree(target):
    skip = shutil.ignore_patterns("bin", "obj", "output", ".git", "pictures", "TestResults")
    for part in ("src", "docs", "LICENSE"):
        source = os.path.join(ROOT, part)
        if os.path.isdir(source):
            shutil.copytree(source, os.path.join(target, part), ignore=skip)
        else:
            shutil.copy(source, target)


def self_check(copy, run):
    """Names of the checks that missed; None when it does not build."""
    built = subprocess.run(["dotnet", "build", "src/CureSim.Cli", "-c", "Release", "-v", "q", "-nologo"], cwd=copy, capture_output=True, text=True)
    if built.returncode != 0:
        print(built.stdout[-2000:], file=sys.stderr)
        return None
    tool = os.path.join(copy, "src/CureSim.Cli/bin/Release/net10.0/curesim.dll")
    done = subprocess.run(["dotnet", tool, "self-check", "--json", "--out", os.path.join(copy, "records", run)], cwd=copy, capture_output=True, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"self-check ended with {done.returncode}: {done.stderr}")
    missed = [c["id"] for c in json.loads(done.stdout)["list"] if not c["passed"]]
    assert (done.returncode == 1) == bool(missed), "the exit code does not tell what the list tells"
    return missed


def replace(copy, changes):
    before = {}
    for file, old, new in changes:
        path = os.path.join(copy, file)
        with open(path, encoding="utf-8", newline="") as f:
            text = f.read()
        before.setdefault(path, text)
        if old not in text:
            sys.exit(f"{file} has no \"{old}\" any more: write the mutant anew")
        with open(path, "w", encoding="utf-8", newline="") as f:
            f.write(text.replace(old, new))
    return before


def write(known):
    with open(RESULTS, "w", encoding="utf-8", newline="") as f:
        table = csv.DictWriter(f, ["mutant", "file", "change", "missed", "checks"], lineterminator="\n")
        table.writeheader()
        table.writerows(known[m[0]] for m in MUTANTS if m[0] in known)


def main():
    only = sys.argv[sys.argv.index("--only") + 1:] if "--only" in sys.argv else None
    chosen = [m for m in MUTANTS if only is None or m[0] in only]
    known = {}
    if only is not None and os.path.exists(RESULTS):
        with open(RESULTS, encoding="utf-8", newline="") as f:
            known = {r["mutant"]: r for r in csv.DictReader(f)}
    copy = tempfile.mkdtemp(prefix="curesim-mutation-")
    survived = []
    try:
        copy_tree(copy)
        missed = self_check(copy, "unchanged")
        if missed is None or missed:
            sys.exit(f"the unchanged copy does not pass: {missed}")
        print("unchanged: all pass", flush=True)
        for i, (name, words, changes) in enumerate(chosen):
            before = replace(copy, changes)
            missed = self_check(copy, str(i))
            for path, text in before.items():
                with open(path, "w", encoding="utf-8", newline="") as f:
                    f.write(text)
            if missed is None:
                sys.exit(f"{name}: does not build")
            survived += [] if missed else [name]
            known[name] = {"mutant": name, "file": " ".join(sorted({os.path.basename(c[0]) for c in changes})), "change": words, "missed": len(missed), "checks": " ".join(missed)}
            print(f"{name}: {len(missed)} missed: {' '.join(missed[:6])}", flush=True)
            write(known)
    finally:
        shutil.rmtree(copy)
    if survived:
        sys.exit("survived: " + ", ".join(survived))


main()
