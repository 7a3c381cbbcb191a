"""Expected values for tests/statistics/claim-power.test.ts; run with Python 3.11, numpy and scipy.

The rule written anew: a claim is supported where mean - t s/sqrt(n) over all cartridges and over the machines'
means both reach it, each with the common half-width added as squares. Nothing of the project is used.
"""

import numpy as np
from scipy.stats import nct, t

# One cartridge in each machine: the two bounds are one, and the chance is that of the non-central t.
for machines, gap, sd in ((9, 1.0, 1.0), (5, 2.0, 1.5), (4, 2.0, 2.0), (3, 3.0, 1.0)):
    shift = gap * np.sqrt(machines) / sd
    print(machines, gap, sd, nct.sf(t.ppf(0.9, machines - 1), machines - 1, shift))

rng = np.random.default_rng(7)
SETS = 2_000_000
for a, k, within, between, u, gap in ((3, 3, 1, 1, 0, 2), (4, 3, 1, 0, 0.2, 0.8), (6, 2, 1, 0.5, 0, 1)):
    machine = between * rng.normal(size=(SETS, a, 1))
    off = np.sqrt(3) * u * rng.uniform(-1, 1, size=(SETS, 1, 1))
    x = gap + machine + off + within * rng.normal(size=(SETS, a, k))
    n = a * k
    means = x.mean(axis=2)
    h = np.maximum(
        t.ppf(0.9, n - 1) * x.reshape(SETS, n).std(axis=1, ddof=1) / np.sqrt(n),
        t.ppf(0.9, a - 1) * means.std(axis=1, ddof=1) / np.sqrt(a),
    )
    h = np.hypot(h, np.sqrt(3) * u * 0.8)
    print(a, k, within, between, u, gap, (means.mean(axis=1) >= h).mean())
