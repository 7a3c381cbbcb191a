"""How often a chart of individuals and moving ranges signals where nothing changed.

Draws sets of n independent normal values, takes centre and limits from the set itself, and counts the sets in which at
least one of the four rules of the chart signals: above or below centre +- 3 MR/1.128, a moving range above 3.267 MR,
eight in a row on one side of the centre. Prints n and the share, for the table in src/statistics/control-chart.ts.

    python3 tests/statistics/false-alarms.py
"""

import numpy as np

random = np.random.default_rng(20261128)
SETS = 200_000


def signals(n: int, sets: int) -> int:
    x = random.standard_normal((sets, n))
    centre = x.mean(axis=1, keepdims=True)
    moved = np.abs(np.diff(x, axis=1))
    mean_range = moved.mean(axis=1, keepdims=True)
    out = (np.abs(x - centre) > 3 * mean_range / 1.128).any(axis=1)
    out |= (moved > 3.267 * mean_range).any(axis=1)
    if n >= 8:
        above = np.cumsum(np.pad(x > centre, ((0, 0), (1, 0))), axis=1)
        inside = above[:, 8:] - above[:, :-8]
        out |= ((inside == 8) | (inside == 0)).any(axis=1)
    return int(out.sum())


for n in (4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 300, 500):
    batch = max(1, min(SETS, 4_000_000 // n))
    rounds = SETS // batch
    print(n, round(sum(signals(n, batch) for _ in range(rounds)) / (rounds * batch), 4), flush=True)
