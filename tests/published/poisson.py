"""Expected values for tests/published/poisson.test.ts; run with Python 3.11.7, standard library only.

Exact bounds of a Poisson mean are the zeros of the distribution function itself, found by bisection in
60-digit decimals: upper P(X <= n; m) = 1 - p, lower P(X <= n - 1; m) = p. Nothing of the project is used.
Binomial tails are sums of exact fractions.
"""

from decimal import Decimal, getcontext
from fractions import Fraction
from math import comb

getcontext().prec = 60


def poisson_at_most(count: int, mean: Decimal) -> Decimal:
    term = (-mean).exp()
    total = term
    for k in range(1, count + 1):
        term = term * mean / k
        total += term
    return total


def zero(count: int, level: Decimal) -> Decimal:
    """The mean for which at most `count` events have the probability `level`."""
    low, high = Decimal(0), Decimal(count + 10)
    while poisson_at_most(count, high) > level:
        high *= 2
    for _ in range(180):
        middle = (low + high) / 2
        if poisson_at_most(count, middle) > level:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def upper(count: int, p: Decimal) -> Decimal:
    return zero(count, 1 - p)


def lower(count: int, p: Decimal) -> Decimal:
    return Decimal(0) if count == 0 else zero(count - 1, p)


def normal(z: int) -> Decimal:
    """Phi(z) by its Taylor series, 1/2 + 1/sqrt(2 pi) * sum (-1)^k z^(2k+1) / (2^k k! (2k+1))."""
    pi = Decimal("3.14159265358979323846264338327950288419716939937510582097494")
    total, power, factor = Decimal(0), Decimal(z), Decimal(1)
    for k in range(200):
        total += power * factor / (2 * k + 1)
        power *= Decimal(z) ** 2
        factor = -factor / (2 * (k + 1))
    return Decimal("0.5") + total / (2 * pi).sqrt()


def shown(value: Decimal) -> str:
    return f"{+value:.14g}" if value else "0"


for p in ("0.9", "0.95", "0.975", "0.99"):
    for n in (0, 1, 2, 3, 5, 10, 24, 100, 1000):
        print(f"  [{n}, {p}, {shown(lower(n, Decimal(p)))}, {shown(upper(n, Decimal(p)))}],")

for z in (1, 2, 3):
    p = normal(z)
    print(f"Phi({z}) = {p:.16g}")
    for n in (0, 1, 3, 24):
        print(f"  {n}: {shown(lower(n, p))} {shown(upper(n, p))}")

for count, trials, share in ((3, 7, Fraction(1, 5)), (10, 40, Fraction(1, 8)), (2, 300, Fraction(1, 100))):
    tail = sum(comb(trials, k) * share**k * (1 - share) ** (trials - k) for k in range(count, trials + 1))
    exact = Decimal(tail.numerator) / Decimal(tail.denominator)
    print(f"  [{count}, {trials}, {share}, {exact:.14g}],")
