#!/usr/bin/env python3
"""The yardstick: the cell of bench.yaml in plain NumPy float64, vectorised over lifetimes, on one core.

For every lifetime, step, site and part: six normals (distance, aim x and y, thickness, time, ripple), cone geometry, Gaussian aim, slab, dose, sum,
sum of squares, counts below and above, quantiles from one value in sixteen. For every lifetime, step and site: two-stage ageing, guide loss, fouling,
loop drive on the grid, state index by interpolation. Checks with adjusting at their steps. All numbers are invented.

Two ways of writing it:
  plain     an expression for each line of the model, arrays over all lifetimes, the usual generator
  in-place  blocks of lifetimes that stay in cache, arrays worked on in place, one exponential for several factors, the quickest bit generator of NumPy

Usage: yardstick.py STYLE LIFETIMES STEPS [BATCHES]
  ->  one line: exposures, seconds; with several batches of lifetimes also mean dose in J/cm2, Ppk, bonds nonconforming in ppm, each with its standard error
"""
import sys
import time

import numpy as np

HOURS_A_STEP, PARTS, SITES, CHECK_EVERY = 8.0, 4, 2, 5
E0, E0_SD, TARGET = 6.4, 0.05, 3.2
EARLY, T1, T1_SD, T2, T2_SD = 0.127127, 150.0, 0.26, 5384.23, 0.18
CONE, TAN, D = 2.5, np.tan(np.radians(17.0)), 10.0
BEAM, REFLECT, ALPHA, THICK = 4.0, 0.0505, 0.25, 1.2
SD_D, SD_AIM, SD_X, SD_T, SD_RIPPLE = 0.2, 0.3, 0.05, 0.005, 0.005
TIME, LOW, HIGH, STEP_U, REPEAT = 3.4, 4.8, 10.5, 0.01, 0.01
EXPOSURES_A_STEP, LOSS, FOUL = 1920.0, 0.03e-3 * 0.23, 0.5e-6
GRID = np.linspace(-0.6, 0.6, 241)
INDEX_OF = np.interp(GRID, [-0.6, 0.0, 0.6], [-1.0, 1.6, -1.0])
MIDDLE = 7.3 / TIME


class Totals:
    """What the script keeps of all bonds."""

    def __init__(self):
        self.below = self.above = 0
        self.sum = self.squares = self.index = 0.0
        self.kept = []

    def finish(self):
        return np.quantile(np.concatenate(self.kept), [0.00135, 0.5, 0.99865])


def cells(rng, n, foul_shape):
    """Draws of n cells: output of the emitter, its two ageing times, guide loss, fouling."""
    return (E0 * np.exp(rng.normal(0.0, E0_SD, n)), T1 * np.exp(rng.normal(0.0, T1_SD, n)), T2 * np.exp(rng.normal(0.0, T2_SD, n)),
            LOSS * np.exp(rng.normal(0.0, 0.4, n)), FOUL * np.exp(rng.normal(0.0, 0.47, foul_shape)))


def plain(n, steps, rng, totals):
    e0, early, late, loss, foul = cells(rng, n, (n, SITES))
    hours = fouled = 0.0
    setpoint = np.full(n, TARGET)
    shape = (n, SITES, PARTS)
    for k in range(steps):
        hours += HOURS_A_STEP
        fouled += EXPOSURES_A_STEP
        full = e0 * (EARLY * np.exp(-hours / early) + (1.0 - EARLY) * np.exp(-hours / late))
        drive = np.minimum(1.0, np.round(setpoint / full / STEP_U) * STEP_U)
        guide = np.exp(-loss * hours)
        site = (full * drive * guide)[:, None] * np.exp(-foul * fouled)
        totals.index += np.interp(np.log(site / MIDDLE), GRID, INDEX_OF).sum()

        distance = D + rng.normal(0.0, SD_D, shape)
        x, y = rng.normal(0.0, SD_AIM, shape), rng.normal(0.0, SD_AIM, shape)
        thickness = THICK + rng.normal(0.0, SD_X, shape)
        exposure = TIME + rng.normal(0.0, SD_T, shape)
        ripple = np.exp(rng.normal(0.0, SD_RIPPLE, shape))
        cone = ((CONE + D * TAN) / (CONE + distance * TAN)) ** 2
        aim = np.exp(-2.0 * (x * x + y * y) / (BEAM * BEAM))
        through = np.exp(-ALPHA * thickness)
        slab = (1.0 - REFLECT) ** 2 * through / (1.0 - (REFLECT * through) ** 2)
        dose = site[:, :, None] * cone * aim * slab * ripple * exposure
        totals.sum += dose.sum()
        totals.squares += (dose * dose).sum()
        totals.below += np.count_nonzero(dose < LOW)
        totals.above += np.count_nonzero(dose > HIGH)
        totals.kept.append(dose.ravel()[::16].copy())

        if (k + 1) % CHECK_EVERY == 0:
            found = full * drive * guide * np.exp(-foul * fouled).mean(axis=1) * np.exp(rng.normal(0.0, REPEAT, n))
            adjust = np.abs(found / TARGET - 1.0) > 0.025
            setpoint = np.where(adjust, np.minimum(full, full * drive * TARGET / found), setpoint)
            fouled = 0.0


def in_place(n, steps, rng, totals):
    e0, early, late, loss, foul = cells(rng, n, (SITES, n))
    hours = fouled = 0.0
    setpoint = np.full(n, TARGET)
    shape = (SITES, PARTS, n)
    z, g, aim = (np.empty(shape) for _ in range(3))
    for k in range(steps):
        hours += HOURS_A_STEP
        fouled += EXPOSURES_A_STEP
        full = EARLY * np.exp(-hours / early)
        full += (1.0 - EARLY) * np.exp(-hours / late)
        full *= e0
        drive = setpoint / full
        drive /= STEP_U
        np.round(drive, out=drive)
        drive *= STEP_U
        np.minimum(drive, 1.0, out=drive)
        held = full * drive
        held *= np.exp(-loss * hours)
        site = np.exp(-foul * fouled)
        site *= held
        totals.index += np.interp(np.log(site / MIDDLE), GRID, INDEX_OF).sum()

        rng.standard_normal(shape, out=g)  # distance: cone
        g *= SD_D * TAN
        g += CONE + D * TAN
        np.divide(CONE + D * TAN, g, out=g)
        g *= g
        rng.standard_normal(shape, out=z)  # aim and ripple in one exponential
        z *= z
        rng.standard_normal(shape, out=aim)
        aim *= aim
        z += aim
        z *= -2.0 * SD_AIM * SD_AIM / (BEAM * BEAM)
        rng.standard_normal(shape, out=aim)
        aim *= SD_RIPPLE
        z += aim
        np.exp(z, out=z)
        g *= z
        rng.standard_normal(shape, out=z)  # substrate
        z *= -ALPHA * SD_X
        z -= ALPHA * THICK
        np.exp(z, out=z)
        np.multiply(z, z, out=aim)
        aim *= -REFLECT * REFLECT
        aim += 1.0
        z *= (1.0 - REFLECT) ** 2
        z /= aim
        g *= z
        rng.standard_normal(shape, out=z)  # exposure time
        z *= SD_T
        z += TIME
        g *= z
        g *= site[:, None, :]
        flat = g.reshape(-1)
        totals.sum += flat.sum()
        totals.squares += np.dot(flat, flat)
        totals.below += np.count_nonzero(flat < LOW)
        totals.above += np.count_nonzero(flat > HIGH)
        totals.kept.append(flat[::16].copy())

        if (k + 1) % CHECK_EVERY == 0:
            found = held * np.exp(-foul * fouled).mean(axis=0)
            found *= np.exp(rng.normal(0.0, REPEAT, n))
            adjust = np.abs(found / TARGET - 1.0) > 0.025
            setpoint[adjust] = np.minimum(full, full * drive * TARGET / found)[adjust]
            fouled = 0.0


def run(style, lifetimes, steps, seed=1):
    totals = Totals()
    if style == "plain":
        plain(lifetimes, steps, np.random.default_rng(seed), totals)
    else:
        rng = np.random.Generator(np.random.SFC64(seed))
        for start in range(0, lifetimes, 1024):
            in_place(min(1024, lifetimes - start), steps, rng, totals)
    return totals, totals.finish()


def figures(totals, quantiles, exposures):
    """Mean dose (J/cm2), Ppk by percentiles (ISO 22514-2), bonds nonconforming (ppm)."""
    low, middle, high = quantiles
    ppk = min((HIGH - middle) / (high - middle), (middle - LOW) / (middle - low))
    return totals.sum / exposures, ppk, 1e6 * (totals.below + totals.above) / exposures


if __name__ == "__main__":
    style, lifetimes, steps = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    batches = int(sys.argv[4]) if len(sys.argv) > 4 else 1
    run(style, 64, 5)
    begin = time.perf_counter()
    each = lifetimes // batches
    done = [run(style, each, steps, 1 + b) for b in range(batches)]
    seconds = time.perf_counter() - begin
    exposures = each * steps * SITES * PARTS
    line = f"{exposures * batches} {seconds:.6f}"
    if batches > 1:
        # Batches of independent lifetimes: the spread between them is the standard error of their mean.
        found = np.array([figures(totals, quantiles, exposures) for totals, quantiles in done])
        errors = found.std(axis=0, ddof=1) / np.sqrt(batches)
        line += "".join(f" {value:.6f} {error:.6f}" for value, error in zip(found.mean(axis=0), errors))
    print(line)
