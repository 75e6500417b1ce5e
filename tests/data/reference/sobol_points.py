"""Direction numbers and reference points of Sobol' sequences, from SciPy's copy of the table new-joe-kuo-6.21201
(S. Joe and F. Y. Kuo, SIAM Journal on Scientific Computing 30 (2008) 2635). Run: /usr/bin/python3 tests/data/reference/sobol_points.py

Writes  src/CureSim.Core/Random/Data/joe-kuo-1024.txt   d s a m_1 ... m_s, dimensions 2 to 1024, as the table is published
        tests/data/reference/sobol-points.csv           unscrambled points in Gray-code order, as multiples of 2^-30
        tests/data/reference/sobol-discrepancy.csv      centred discrepancies of the first points
"""
import os
import numpy as np
from scipy.stats import _sobol, qmc

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.join(HERE, "..", "..", "..")
DIMENSIONS = 1024


def table():
    data = np.load(os.path.join(os.path.dirname(_sobol.__file__), "_sobol_direction_numbers.npz"))
    lines = ["d s a m_i"]
    for j in range(1, DIMENSIONS):
        polynomial = int(data["poly"][j])
        s = polynomial.bit_length() - 1
        a = (polynomial >> 1) & ((1 << (s - 1)) - 1)
        lines.append(" ".join(str(int(x)) for x in (j + 1, s, a, *data["vinit"][j][:s])))
    return "\n".join(lines) + "\n"


def points():
    lines = ["point,dimension,numerator_over_2_to_30"]
    x = qmc.Sobol(DIMENSIONS, scramble=False, bits=30).random(4096)
    for i in (*range(64), 100, 1000, 4095):
        for j in (*range(16), 100, 255, 500, 511, 777, 1000, 1023):
            lines.append(f"{i},{j + 1},{int(x[i, j] * 2**30)}")
    return "\n".join(lines) + "\n"


def discrepancies():
    lines = ["points,dimensions,centred_l2_discrepancy"]
    for n, d in ((8, 2), (16, 5), (64, 8), (256, 12), (1000, 3)):
        x = qmc.Sobol(d, scramble=False, bits=30).random(n)
        lines.append(f"{n},{d},{qmc.discrepancy(x, method='CD')!r}")
    return "\n".join(lines).replace("np.float64(", "").replace(")", "") + "\n"


if __name__ == "__main__":
    for path, text in ((os.path.join(ROOT, "src/CureSim.Core/Random/Data/joe-kuo-1024.txt"), table()),
                       (os.path.join(HERE, "sobol-points.csv"), points()),
                       (os.path.join(HERE, "sobol-discrepancy.csv"), discrepancies())):
        with open(path, "w", newline="\n") as f:
            f.write(text)
