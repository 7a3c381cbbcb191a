"""Frozen tails of the Poisson and the normal distribution, for tails.test.ts.

Computed with mpmath in 60 digits: the regularised incomplete gamma function for Poisson tails, the complementary
error function for normal ones, and bisection for bounds. Run it with Python 3 and mpmath to make the tables again.
"""

from mpmath import mp, mpf, gammainc, erfc, sqrt, nstr

mp.dps = 60


def at_most(count, mean):
    return gammainc(count + 1, mean, mp.inf, regularized=True)


def at_least(count, mean):
    return gammainc(count, 0, mean, regularized=True)


def normal_tail(z):
    return erfc(mpf(z) / sqrt(2)) / 2


def bisect(rising, low, high):
    for _ in range(220):
        middle = (low + high) / 2
        if rising(middle) < 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def upper(count, tail):
    return bisect(lambda mean: tail - at_most(count, mean), mpf(count), mpf(count) + 60 * sqrt(count + 1) + 800)


def lower(count, tail):
    return bisect(lambda mean: at_least(count, mean) - tail, mpf(0), mpf(count))


def main():
    print("z, P(Z > z)")
    for z in ["0", "0.5", "1", "1.5", "1.99", "2", "2.5", "3", "5", "7.5", "9", "12", "20", "30", "37"]:
        print(f"    [{z}, {nstr(normal_tail(z), 15)}],")
    print("count, mean, P(X <= count)")
    for count, mean in [(0, 2), (3, 10), (10, 60), (100, 200), (100, 700), (3800, 3925), (3900, 4026), (10000, 12000),
                        (100000, 101000), (1000000, 1002000), (1000000, 1030000), (40, 800)]:
        print(f"    [{count}, {mean}, {nstr(at_most(count, mpf(mean)), 15)}],")
    print("count, mean, P(X >= count)")
    for count, mean in [(1, "1e-300"), (5, "0.001"), (60, 10), (200, 100), (3925, 3800), (12000, 10000),
                        (101000, 100000), (1002000, 1000000), (1030000, 1000000)]:
        print(f"    [{count}, {mean}, {nstr(at_least(count, mpf(mean)), 15)}],")
    print("count, factor, lower, upper")
    for count, factor in [(0, 9), (1, 9), (10, 9), (100, 9), (3800, 2), (3900, 2), (10000, 3), (100000, 9), (1000000, 2),
                          (1000000, 9), (25, 12), (1000, 20)]:
        tail = normal_tail(factor)
        below = lower(count, tail) if count > 0 else 0
        print(f"    [{count}, {factor}, {nstr(below, 15)}, {nstr(upper(count, tail), 15)}],")


main()
