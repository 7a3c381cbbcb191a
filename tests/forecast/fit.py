"""Frozen fits of toner against coverage, for fit.test.ts. Run with Python 3, numpy and scipy to make them again.

The criterion itself is minimised, by a general routine and without the equations of the program: over m0 and m1 the
sum of (m - m0 - m1 c)^2 / (var m + m1^2 var c) of the levels' means. The scatter is the root of that sum, with the
squares within levels, less the degrees of freedom. The covariance is that of York 2004, at the adjusted places.
"""

import json
import numpy as np
import scipy
from scipy.optimize import brentq, minimize

SETS = {
    "exact coverages": [
        (1.5, 0.0, [(14.31, 0.05), (14.62, 0.05)]),
        (5.0, 0.0, [(32.1, 0.05), (33.2, 0.07), (32.9, 0.05)]),
        (12.0, 0.0, [(69.9, 0.1), (67.8, 0.1)]),
    ],
    "coverages known within a tolerance": [
        (1.5, 0.06, [(14.31, 0.05), (14.62, 0.05)]),
        (5.0, 0.12, [(32.1, 0.05), (33.2, 0.07), (32.9, 0.05)]),
        (12.0, 0.23, [(69.9, 0.1), (67.8, 0.1)]),
    ],
    "readings that explain all": [
        (1.0, 0.0, [(10.2, 0.4), (9.9, 0.4)]),
        (4.0, 0.0, [(22.1, 0.4), (21.8, 0.4)]),
        (9.0, 0.0, [(41.7, 0.4), (42.3, 0.4)]),
    ],
}


def means(levels, tau):
    out, within = [], 0.0
    for c, uc, points in levels:
        y = np.array([p[0] for p in points])
        v = np.array([p[1] for p in points]) ** 2 + (tau * y.mean()) ** 2
        w = 1 / v
        mean = (w * y).sum() / w.sum()
        within += ((y - mean) ** 2 / v).sum()
        out.append((c, uc**2, mean, 1 / w.sum()))
    return np.array(out), within


def line(levels, tau):
    m, within = means(levels, tau)
    x, vx, y, vy = m.T

    def criterion(p):
        return ((y - p[0] - p[1] * x) ** 2 / (vy + p[1] ** 2 * vx)).sum()

    start = np.polyfit(x, y, 1)[::-1]
    best = minimize(criterion, start, method="Nelder-Mead", options=dict(xatol=1e-13, fatol=1e-15, maxiter=20000))
    best = minimize(criterion, best.x, method="Nelder-Mead", options=dict(xatol=1e-13, fatol=1e-15, maxiter=20000))
    return best.x, best.fun, within, m


def fit(levels):
    n = sum(len(points) for _, _, points in levels)
    excess = lambda tau: sum(line(levels, tau)[1:3]) - (n - 2)
    tau = brentq(excess, 0, 1, xtol=1e-14) if excess(0) > 0 else 0.0
    (a, b), between, within, m = line(levels, tau)
    x, vx, y, vy = m.T
    w = 1 / (vy + b**2 * vx)
    on_line = x + w * b * vx * (y - a - b * x)
    mean = (w * on_line).sum() / w.sum()
    var_b = 1 / (w * (on_line - mean) ** 2).sum()
    var_a = 1 / w.sum() + mean**2 * var_b
    f = (between / (len(levels) - 2)) / (within / (n - len(levels)))
    return dict(
        scatter=tau, m0=a, m1=b, u_m0=var_a**0.5, u_m1=var_b**0.5, r=-mean * var_b / (var_a * var_b) ** 0.5, F=f
    )


sets = [dict(name=name, levels=levels, fit=fit(levels)) for name, levels in SETS.items()]
print(json.dumps(dict(tool=f"numpy {np.__version__}; scipy {scipy.__version__}", sets=sets), indent=1))
