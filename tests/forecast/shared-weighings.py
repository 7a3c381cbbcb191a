"""Frozen lines through points whose masses share weighings, for shared-weighings.test.ts. Run with Python 3, numpy
and scipy to make them again.

One cartridge is weighed before and after stretches at coverages c, each weighing off by u; what a page took is the
difference of two weighings over its pages, so that neighbours share one. The criterion r' inv(V + m1^2 Vc) r is
minimised by a general routine. Where coverages are exact the parameters and their covariance are those of numpy's
matrix formula, inv(X' inv(V) X). With uncertain ones the covariance is that of York 2004 in matrix form, at the
adjusted places.
"""

import json
import numpy as np
import scipy
from scipy.optimize import minimize

# coverage %, its u, pages; and the weighings in g, one more than the stretches
SETS = [
    ("exact coverages", 0.02, [900.0, 864.03, 812.98, 726.04, 590.97],
     [(1.0, 0.0, 4000), (3.0, 0.0, 3000), (6.0, 0.0, 3000), (10.0, 0.0, 3000)]),
    ("coverages known within a tolerance", 0.02, [900.0, 864.03, 812.98, 726.04, 590.97],
     [(1.0, 0.02, 4000), (3.0, 0.05, 3000), (6.0, 0.06, 3000), (10.0, 0.10, 3000)]),
]

out = []
for name, u, masses, stretches in SETS:
    n = len(stretches)
    pages = np.array([p for _, _, p in stretches], float)
    x = np.array([c for c, _, _ in stretches])
    ux = np.array([uc for _, uc, _ in stretches])
    w = np.array(masses)
    A = np.zeros((n, n + 1))
    for i in range(n):
        A[i, i], A[i, i + 1] = 1000 / pages[i], -1000 / pages[i]
    y = A @ w
    V = A @ A.T * u**2

    def criterion(b):
        r = y - b[0] - b[1] * x
        return r @ np.linalg.solve(V + np.diag((b[1] * ux) ** 2), r)

    b = np.polyfit(x, y, 1)[::-1]
    for _ in range(50):
        b = minimize(criterion, b, method="Nelder-Mead",
                     options={"xatol": 1e-13, "fatol": 1e-13, "maxiter": 10000}).x
    P = np.linalg.inv(V + np.diag((b[1] * ux) ** 2))
    r = y - b[0] - b[1] * x
    X = np.column_stack([np.ones(n), x + b[1] * ux**2 * (P @ r)])
    if not ux.any():
        b = np.linalg.solve(X.T @ P @ X, X.T @ P @ y)
    C = np.linalg.inv(X.T @ P @ X)
    out.append({
        "name": name, "u": u, "masses": masses, "stretches": stretches,
        "m0": b[0], "m1": b[1], "u_m0": C[0, 0] ** 0.5, "u_m1": C[1, 1] ** 0.5,
        "r": C[0, 1] / (C[0, 0] * C[1, 1]) ** 0.5, "chi_square": criterion(b),
    })

with open("shared-weighings.json", "w") as file:
    json.dump({"tool": f"numpy {np.__version__}; scipy {scipy.__version__}", "sets": out}, file, indent=2)
    file.write("\n")
