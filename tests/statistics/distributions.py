"""Expected values for distributions.test.ts: python3 distributions.py

Computed with mpmath (60 digits, from the definitions: integrals, sums and the functions they are made of) where nothing
else is said. Nothing of the project is used. Every line printed is a row of the test.
"""

from mpmath import betainc, binomial, erfc, erfinv, exp, gammainc, loggamma, mp, mpf, nstr, pi, quad, sqrt

mp.dps = 60


def phi(z):
    return exp(-mpf(z) ** 2 / 2) / sqrt(2 * pi)


def normal_tail(z):
    return erfc(mpf(z) / sqrt(2)) / 2


def show(*row):
    print("    [" + ", ".join(one if isinstance(one, str) else nstr(one, 15) for one in row) + "],")


def binomial_at_most(count, trials, share):
    return sum(binomial(trials, k) * share**k * (1 - share) ** (trials - k) for k in range(count + 1))


def student_tail(t, freedom):
    t, freedom = mpf(t), mpf(freedom)
    return betainc(freedom / 2, mpf(1) / 2, 0, freedom / (freedom + t * t), regularized=True) / 2


def rectangle(x, half, sigma):
    x, half, sigma = mpf(x), mpf(half), mpf(sigma)
    area = lambda z: z * normal_tail(-z) + phi(z)
    return sigma / (2 * half) * (area((x + half) / sigma) - area((x - half) / sigma))


print("normal quantiles: p, z")
for p in ("0.5000001", "0.51", "0.54", "0.549", "0.6", "0.8", "0.45", "0.3", "0.001"):
    show(p, sqrt(2) * erfinv(2 * mpf(p) - 1))

print("normal tails on both sides of where the way changes: z, P(Z > z)")
for z in ("2.9", "2.99", "3.01", "3.3", "3.6", "3.8", "3.9", "3.99"):
    show(z, normal_tail(z))

print("binomial: count, trials, share, P(X <= count)")
for count, trials, share in ((500, 10000, "0.05"), (5100, 10000, "0.5"), (2, 9, "0.1"), (0, 3, "0.2"),
                             (30, 40, "0.75")):
    show(str(count), str(trials), share, binomial_at_most(count, trials, mpf(share)))

print("chi-square: x, degrees, P(X >= x)")
for x, freedom in (("1e-6", 1), ("0.4", 2), ("1.2", 1), ("2.1", 2), ("9", 9), ("10.5", 9), ("11.5", 9), ("900", 1000),
                   ("1010", 1000), ("1300", 1000), ("700", 3)):
    show(x, str(freedom), gammainc(mpf(freedom) / 2, mpf(x) / 2, mp.inf, regularized=True))

print("F: f, degrees over, degrees under, P(F >= f)")
for f, over, under in (("0.01", 3, 8), ("0.9", 5, 5), ("1.1", 200, 300), ("2.5", "1.5", "7.25"), ("60", 2, 9),
                       ("1.02", 600, 900)):
    a, b = mpf(under) / 2, mpf(over) / 2
    show(f, str(over), str(under), betainc(a, b, 0, a / (a + b * mpf(f)), regularized=True))

print("Student: t, degrees, P(T <= t)")
for t, freedom in (("-30", 2), ("-1.5", 4), ("-0.3", 7), ("0.3", 7), ("0.9", 1), ("1.7", "5.5"), ("2.2", 2001),
                   ("8", 30)):
    tail = student_tail(t, freedom)
    show(t, str(freedom), 1 - tail if mpf(t) > 0 else tail)

print("Student: p, degrees, t")
for p, freedom in (("0.5001", 3), ("0.52", 5), ("0.549", 8), ("0.7", "3.5"), ("0.9", 2001), ("0.9995", 2), ("0.45", 6)):
    q = mpf(p) if mpf(p) > mpf("0.5") else 1 - mpf(p)
    low, high = mpf(0), mpf(100)
    for _ in range(90):
        t = (low + high) / 2
        low, high = (t, high) if student_tail(t, freedom) > 1 - q else (low, t)
    show(p, str(freedom), t if mpf(p) > mpf("0.5") else -t)

print("ln gamma: x, value")
for x in ("0.05", "0.7", "3.3", "11.3", "12", "12.4", "13", "25", "1000.5", "100000"):
    show(x, loggamma(mpf(x)))

print("mean of chi / sqrt(degrees): degrees, mean")
for freedom in (1, 2, 3, 8, 29, 200):
    show(str(freedom), sqrt(mpf(2) / freedom) * exp(loggamma(mpf(freedom + 1) / 2) - loggamma(mpf(freedom) / 2)))

print("rectangle and normal: x, half, sigma, P(R + Z <= x)")
for x, half, sigma in (("-3", 1, 1), ("0", 2, 1), ("0.4", 1, "0.5"), ("1.9", 2, "0.1"), ("-6", 1, 1),
                       ("-1.02", 1, "0.01"), ("5", 2, 3), ("-20", 3, 2), ("0.1", "0.3", "0.2")):
    show(x, str(half), str(sigma), rectangle(x, half, sigma))
