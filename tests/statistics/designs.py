"""Expected values for designs.test.ts: python3 designs.py

Computed with numpy and scipy, each from its definition by another way than the project's: integrals by Gauss and
Legendre's nodes, mean squares by the traces of their matrices, lines by matrices and by a search for the least squares.
Nothing of the project is used.
"""

import numpy as np
from scipy import optimize, stats


NODES, WEIGHTS = np.polynomial.legendre.leggauss(600)


def chi_nodes(freedom):
    """Nodes of s = chi / sqrt(degrees) and their weights; one node where there is no degree."""
    if freedom == 0:
        return np.ones(1), np.ones(1)
    high = 1 + 9 / np.sqrt(freedom)
    s = high * (NODES + 1) / 2
    return s, WEIGHTS * high / 2 * stats.chi.pdf(s * np.sqrt(freedom), freedom) * np.sqrt(freedom)


def over_two(one, other, of):
    """The mean of a function of two independent such deviations."""
    (s, ws), (e, we) = chi_nodes(one), chi_nodes(other)
    return ws @ of(s[:, None], e[None, :]) @ we


print("bound over machines: groups, share, confidence, bound")
for groups, share, confidence in (
    ([[9800, 10050, 10010], [10300, 10210]], 0.9, 0.9),
    ([[9800, 10050, 10010], [10300, 10210], [9650, 9900, 9720, 9810]], 0.9, 0.9),
    ([[9800, 10050], [10300, 10210], [9650, 9900]], 0.95, 0.95),
    ([[9990], [10020], [10110], [9900, 9980]], 0.9, 0.9),
):
    count = len(groups)
    means = np.array([np.mean(g) for g in groups])
    freedom = sum(len(g) - 1 for g in groups)
    variance = sum(((np.array(g) - np.mean(g)) ** 2).sum() for g in groups) / freedom
    between = means.std(ddof=1)
    rest = 1 - np.mean([1 / len(g) for g in groups])
    z = stats.norm.ppf(share)

    def reached(bound):
        def given(s, e):
            whole = np.sqrt((between / s) ** 2 + rest * variance / e**2)
            return stats.norm.cdf((bound - means.mean() + z * whole) / (between / s / np.sqrt(count)))

        return over_two(count - 1, freedom, given)

    low = means.mean() - 60 * between
    bound = optimize.brentq(lambda b: reached(b) - (1 - confidence), low, means.mean(), xtol=1e-7)
    print(groups, share, confidence, bound)

print("support of a claim: machines, each, within, between, u, half, gap, quantile, chance")
for machines, each, within, between, u, half, gap, quantile in (
    (2, 3, 1.0, 1.0, 0.0, 0.0, 4.0, 0.9),
    (3, 3, 1.0, 1.0, 0.0, 0.0, 2.0, 0.9),
    (4, 3, 1.0, 0.0, 0.2, 0.3, 0.8, 0.9),
    (6, 2, 1.0, 0.5, 0.1, 0.05, 1.0, 0.95),
    (2, 5, 3.0, 0.2, 0.0, 0.0, 4.0, 0.8),
):
    n = machines * each
    mean_sd = np.sqrt(between**2 + within**2 / each)
    sigma = np.sqrt(mean_sd**2 / machines + u**2)

    def given(b, w):
        clustered = stats.t.ppf(quantile, machines - 1) * mean_sd * b / np.sqrt(machines)
        squares = (machines - 1) * each * (mean_sd * b) ** 2 + machines * (each - 1) * (within * w) ** 2
        plain = stats.t.ppf(quantile, n - 1) * np.sqrt(squares / (n - 1) / n)
        return stats.norm.cdf((gap - np.hypot(np.maximum(clustered, plain), half)) / sigma)

    chance = over_two(machines - 1, machines * (each - 1), given)
    print(machines, each, within, between, u, half, gap, quantile, chance)

print("nested: within, inner, outer and whole variance, degrees of the whole")
for name, outer, inner, values in (
    ("unbalanced", "AAAAAABBBCCCC", "1112231124433", [10, 12, 11, 15, 14.5, 13, 21, 20, 26, 31, 30, 35, 36.5]),
    ("one machine with two", "AAAAABB", "1112211", [10, 12, 11, 17, 15, 30, 33]),
    ("inner below zero", "AAAABBBBCC", "1122112211", [10, 14, 11, 13, 20, 24, 21, 23, 30, 33]),
    ("outer below zero", "AAAABBBBCCCCC", "1122112211223", [10, 11, 20, 22, 11, 12, 19, 21.5, 10, 10.5, 22, 21, 17]),
):
    y = np.array(values, float)
    outers, cells = sorted(set(outer)), sorted(set(zip(outer, inner)))
    Z1 = np.array([[float(o == g) for g in outers] for o in outer])
    Z2 = np.array([[float((o, i) == g) for g in cells] for o, i in zip(outer, inner)])
    project = lambda Z: Z @ np.linalg.pinv(Z)
    n = len(y)
    P0, P1, P2 = np.ones((n, n)) / n, project(Z1), project(Z2)
    frees = [len(outers) - 1, len(cells) - len(outers), n - len(cells)]
    A = [(P1 - P0) / frees[0], (P2 - P1) / frees[1], (np.eye(n) - P2) / frees[2]]
    V = [Z1 @ Z1.T, Z2 @ Z2.T, np.eye(n)]
    E = np.array([[np.trace(a @ v) for v in V] for a in A])
    ms = np.array([y @ a @ y for a in A])
    s2 = ms[2]
    si = max(0.0, (ms[1] - s2) / E[1, 1])
    so = max(0.0, (ms[0] - s2 - E[0, 1] * si) / E[0, 0])
    # The sum of the components as a sum of mean squares, by solving for their factors; those set to zero left out.
    kept = [so > 0, si > 0, True]
    M = E[np.ix_(kept, kept)]
    factors = np.linalg.solve(M.T, np.ones(sum(kept)))
    whole = s2 + si + so
    spread = sum((f * m) ** 2 / d for f, m, d in zip(factors, ms[kept], np.array(frees)[kept]))
    print(name, s2, si, so, whole, whole**2 / spread, n - 1)

print("line through points whose errors are shared: intercept, slope, their variances, covariance, chi-square")
x = np.array([2.0, 4.0, 5.0, 7.0, 10.0])
y = np.array([11.2, 19.5, 23.1, 33.0, 44.8])
v = np.array([0.5, 0.4, 0.6, 0.5, 0.9])
shared = np.zeros((5, 5))
shared[0, 1] = shared[1, 0] = -0.2
shared[1, 2] = shared[2, 1] = 0.15
shared[3, 4] = shared[4, 3] = 0.3
W = np.linalg.inv(np.diag(v) + shared)
X = np.column_stack([np.ones(5), x])
C = np.linalg.inv(X.T @ W @ X)
b = C @ X.T @ W @ y
r = y - X @ b
print(b[0], b[1], C[0, 0], C[1, 1], C[0, 1], r @ W @ r)

print("the same with errors in x of variance 0.04, 0.09, 0, 0.01, 0.16: intercept and slope of the least chi-square")
vx = np.array([0.04, 0.09, 0.0, 0.01, 0.16])


def chi2(p):
    r = y - p[0] - p[1] * x
    return r @ np.linalg.solve(np.diag(v + p[1] ** 2 * vx) + shared, r)


best = optimize.minimize(chi2, b, method="Nelder-Mead", options={"xatol": 1e-12, "fatol": 1e-14, "maxiter": 10000})
print(best.x, best.fun)

print("Anderson and Darling, corrected: normal scores raised to a power, statistic")
for power in (1.07, 1.15):
    q = stats.norm.ppf((np.arange(1, 16) - 0.5) / 15)
    sample = np.round(100 * np.exp(np.log1p(power) * q), 3)
    n = len(sample)
    z = np.sort((sample - sample.mean()) / sample.std(ddof=1))
    i = np.arange(1, n + 1)
    a2 = -n - ((2 * i - 1) * (stats.norm.logcdf(z) + stats.norm.logsf(z[::-1]))).sum() / n
    print(sample.tolist(), a2 * (1 + 0.75 / n + 2.25 / n**2))
