#!/usr/bin/env python3
"""The yardstick: the same cell in plain NumPy float64, vectorised over lifetimes, as a good engineer would write it.

For every lifetime, step, site and part: six normals (distance, aim x and y, thickness, time, ripple), cone geometry, Gaussian aim, slab, dose, sum,
sum of squares, counts below and above, quantiles from one value in sixteen. For every lifetime, step and site: two-stage ageing, guide loss, fouling,
loop drive on the grid, state index by interpolation. Checks with adjusting at their steps. The cell is that of bench.yaml (invented).
Arrays are small enough to stay in cache and are worked on in place.

Usage: numpy_cell.py LIFETIMES STEPS   ->  one line: exposures per second
"""
import sys
import time

import numpy as np

HOURS_A_STEP, PARTS, SITES, CHECK_EVERY = 8.0, 4, 2, 5
E0, E0_SD, TARGET = 6.4, 0.05, 3.2
EARLY, T1, T2 = 0.127127, 150.0, 5384.23
A, TAN, D = 2.5, np.tan(np.radians(17.0)), 10.0
W, R, ALPHA, THICK = 4.0, 0.05, 0.25, 1.2
SD_D, SD_AIM, SD_X, SD_T, SD_RIPPLE = 0.2, 0.25, 0.05, 0.008, 0.005
TIME, LOW, HIGH, STEP_U, REPEAT = 3.4, 5.0, 10.0, 0.01, 0.01
EXPOSURES_A_STEP, LOSS, FOUL = 1920.0, 0.02e-3 * 0.23, 0.8e-6


def run(lifetimes, steps, rng, block=512):
    below = above = 0
    total = square = 0.0
    kept = []
    grid = np.linspace(-0.6, 0.6, 241)
    index_of = np.interp(grid, [-0.6, 0.0, 0.6], [-1.0, 1.6, -1.0])
    index_sum = 0.0
    for start in range(0, lifetimes, block):
        n = min(block, lifetimes - start)
        e0 = E0 * np.exp(rng.normal(0.0, E0_SD, n))
        late = T2 * np.exp(rng.normal(0.0, 0.15, n))
        loss = LOSS * np.exp(rng.normal(0.0, 0.4, n))
        foul = FOUL * np.exp(rng.normal(0.0, 0.47, (SITES, n)))
        hours = np.zeros(n)
        fouled = 0.0
        setpoint = np.full(n, TARGET)
        shape = (SITES, PARTS, n)
        z, g, t, aim = (np.empty(shape) for _ in range(4))
        for k in range(steps):
            hours += HOURS_A_STEP
            fouled += EXPOSURES_A_STEP
            r = EARLY * np.exp(-hours / T1)
            r += (1.0 - EARLY) * np.exp(-hours / late)
            full = e0 * r
            u = np.round(setpoint / full / STEP_U)
            u *= STEP_U
            np.minimum(u, 1.0, out=u)
            site = np.exp(-foul * fouled)
            site *= full * u * np.exp(-loss * hours)
            index_sum += np.interp(np.log(site * TIME / 7.2), grid, index_of).sum()

            # distance: cone
            rng.standard_normal(shape, out=g)
            g *= SD_D * TAN
            g += A + D * TAN
            np.divide(A + D * TAN, g, out=g)
            g *= g
            # aim: Gaussian beam, and ripple in one exponential
            rng.standard_normal(shape, out=z)
            z *= z
            z *= -2.0 * SD_AIM * SD_AIM / (W * W)
            rng.standard_normal(shape, out=aim)
            aim *= aim
            aim *= -2.0 * SD_AIM * SD_AIM / (W * W)
            z += aim
            rng.standard_normal(shape, out=aim)
            aim *= SD_RIPPLE
            z += aim
            np.exp(z, out=z)
            g *= z
            # substrate
            rng.standard_normal(shape, out=z)
            z *= -ALPHA * SD_X
            z -= ALPHA * THICK
            np.exp(z, out=z)
            np.multiply(z, z, out=aim)
            aim *= -R * R
            aim += 1.0
            z *= (1.0 - R) ** 2
            z /= aim
            g *= z
            # dose
            rng.standard_normal(shape, out=t)
            t *= SD_T
            t += TIME
            g *= t
            g *= site[:, None, :]
            total += g.sum()
            square += np.einsum("ijk,ijk->", g, g)
            below += np.count_nonzero(g < LOW)
            above += np.count_nonzero(g > HIGH)
            kept.append(g.reshape(-1)[::16].copy())

            if (k + 1) % CHECK_EVERY == 0:
                found = full * u * np.exp(-loss * hours - foul.mean(axis=0) * fouled)
                found *= np.exp(rng.normal(0.0, REPEAT, n))
                adjust = np.abs(found / TARGET - 1.0) > 0.025
                setpoint[adjust] = np.minimum(full, full * u * TARGET / found)[adjust]
                fouled = 0.0
    quantiles = np.quantile(np.concatenate(kept), [0.00135, 0.5, 0.99865])
    return total, square, below, above, quantiles, index_sum


if __name__ == "__main__":
    lifetimes, steps = int(sys.argv[1]), int(sys.argv[2])
    rng = np.random.Generator(np.random.SFC64(1))
    run(64, 5, rng)
    begin = time.perf_counter()
    total, square, below, above, q, _ = run(lifetimes, steps, rng)
    seconds = time.perf_counter() - begin
    exposures = lifetimes * steps * SITES * PARTS
    print(f"{exposures / seconds:.6e} {seconds:.3f} mean {total / exposures:.4f} below {below} above {above} quantiles {q.round(3).tolist()}")
