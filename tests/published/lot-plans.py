"""Frozen sampling plans and tails of lots, for lot.test.ts: python3 lot-plans.py > lot-plans.json

Computed with Python's whole numbers alone, of any length: binomial coefficients, no logarithm and no rounding but the
last division. Plans are found by trying every acceptance number from 0 on, and for each the smallest sample by halving.
The factors of plans by variables come from scipy's non-central t. The seed is fixed: the same numbers every time.
"""

import json
import random
from fractions import Fraction
from math import comb, log, sqrt

from scipy.stats import nct, norm


def at_most(count, lot, failing, sample):
    """P(X <= count), as numerator and denominator."""
    least = max(0, sample - (lot - failing))
    if count < least:
        return 0, 1
    top = min(count, sample, failing)
    term = comb(failing, least) * comb(lot - failing, sample - least)
    total = term
    for x in range(least, top):
        term = term * (failing - x) * (sample - x) // ((x + 1) * (lot - failing - sample + x + 1))
        total += term
    return total, comb(lot, sample)


def keeps(count, lot, failing, sample, risk):
    over, under = at_most(count, lot, failing, sample)
    return over * risk.denominator <= under * risk.numerator


def sample_for(lot, count, failing, risk):
    below, above = count, lot
    while above - below > 1:
        middle = (below + above) // 2
        if keeps(count, lot, failing, middle, risk):
            above = middle
        else:
            below = middle
    return above


def single(lot, bad, beta, good, alpha):
    for count in range(bad):
        sample = sample_for(lot, count, bad, beta)
        if good is None:
            return sample, count
        over, under = at_most(count, lot, good, sample)
        if (under - over) * alpha.denominator <= under * alpha.numerator:
            return sample, count


def common(lot, classes):
    """The smallest sample in which every class has an acceptance number that keeps both its risks, and those numbers:
    the greatest the consumer's risk allows; 0 where nothing acceptable was agreed. Every sample is tried from 2 on."""
    for sample in range(2, lot + 1):
        numbers = []
        for bad, beta, good, alpha in classes:
            if not keeps(0, lot, bad, sample, beta):
                break
            count = 0
            while good is not None and count + 1 < bad and keeps(count + 1, lot, bad, sample, beta):
                count += 1
            if good is not None:
                over, under = at_most(count, lot, good, sample)
                if (under - over) * alpha.denominator > under * alpha.numerator:
                    break
            numbers.append(count)
        if len(numbers) == len(classes):
            return sample, numbers


def most_failing(lot, sample, seen, alpha):
    below, above = seen, lot - (sample - seen) + 1
    while above - below > 1:
        middle = (below + above) // 2
        if keeps(seen, lot, middle, sample, alpha):
            above = middle
        else:
            below = middle
    return below


def course(lot, failing, alpha, beta, p1, p2):
    """Acceptance and mean number tried under Wald's lines, the whole lot tried at last."""
    k = log(p2 * (1 - p1) / (p1 * (1 - p2)))
    h1, h2 = log((1 - alpha) / beta) / k, log((1 - beta) / alpha) / k
    s = log((1 - p1) / (1 - p2)) / k
    open_, accepted, mean = {0: 1.0}, 0.0, 0.0
    for tried in range(1, lot + 1):
        following = {}
        for failed, chance in open_.items():
            share = (failing - failed) / (lot - tried + 1)
            for to, part in ((failed, chance * (1 - share)), (failed + 1, chance * share)):
                if part <= 0:
                    continue
                if to <= s * tried - h1:
                    accepted += part
                    mean += part * tried
                elif to >= s * tried + h2:
                    mean += part * tried
                else:
                    following[to] = following.get(to, 0) + part
        open_ = following
    return accepted, mean, sum(open_.values())


def variables(p1, p2, alpha, beta):
    """The smallest sample and its factor, deviation unknown: non-central t; and with it known."""
    for n in range(2, 5000):
        k = nct.ppf(1 - beta, n - 1, norm.isf(p2) * sqrt(n)) / sqrt(n)
        if nct.sf(k * sqrt(n), n - 1, norm.isf(p1) * sqrt(n)) >= 1 - alpha:
            break
    for m in range(2, 5000):
        known = norm.isf(p2) + norm.isf(beta) / sqrt(m)
        if norm.cdf(sqrt(m) * (norm.isf(p1) - known)) >= 1 - alpha:
            return n, k, m, known


def main():
    chance = random.Random(20)
    risks = [Fraction(1, 20), Fraction(1, 10), Fraction(1, 100), Fraction(1, 5)]
    plans, tails, shares, courses, factors = [], [], [], [], []
    while len(plans) < 200:
        lot = round(10 ** chance.uniform(1, 5 if len(plans) % 20 == 0 else 3.7))
        bad = max(1, round(lot * chance.uniform(0.01, 0.4)))
        good = None if len(plans) % 3 == 0 else int(bad * chance.uniform(0, 0.5))
        alpha, beta = chance.choice(risks), chance.choice(risks)
        sample, accept = single(lot, bad, beta, good, alpha)
        plans.append([lot, bad, float(beta), good, float(alpha), sample, accept])
    while len(tails) < 60:
        lot = round(10 ** chance.uniform(0.5, 5))
        failing, sample = chance.randint(0, lot), chance.randint(0, min(lot, 5000))
        spread = 1 + 3 * sqrt(sample * failing * (lot - failing)) / lot
        count = max(0, round(sample * failing / lot + chance.uniform(-1, 1) * spread))
        over, under = at_most(count, lot, failing, sample)
        tails.append([lot, failing, sample, count, float(Fraction(over, under))])
    while len(shares) < 60:
        lot = round(10 ** chance.uniform(0.5, 4))
        sample = chance.randint(1, min(lot, 200))
        seen = chance.randint(0, min(sample, 5))
        alpha = chance.choice(risks)
        shares.append([lot, sample, seen, float(alpha), most_failing(lot, sample, seen, alpha)])
    for lot, failing in [(400, 0), (400, 4), (400, 20), (400, 40), (400, 100), (2000, 20), (2000, 100), (2000, 200)]:
        accepted, mean, left = course(lot, failing, 0.05, 0.10, 0.01, 0.10)
        assert left == 0
        courses.append([lot, failing, accepted, mean])
    for p1, p2, alpha, beta in [(0.01, 0.10, 0.05, 0.10), (0.02, 0.08, 0.05, 0.10), (0.005, 0.05, 0.05, 0.05),
                                (0.05, 0.40, 0.05, 0.10), (0.01, 0.03, 0.10, 0.20), (0.10, 0.20, 0.05, 0.10),
                                (0.01, 0.20, 0.05, 0.10), (0.30, 0.49, 0.05, 0.10), (0.40, 0.49, 0.30, 0.30),
                                (0.01, 0.49, 0.20, 0.30)]:
        factors.append([p1, p2, alpha, beta, *variables(p1, p2, alpha, beta)])
    commons = []
    while len(commons) < 40:
        lot = round(10 ** chance.uniform(1, 3.2))
        classes = []
        for _ in range(chance.randint(1, 3)):
            bad = max(1, round(lot * chance.uniform(0.02, 0.3)))
            good = None if chance.random() < 0.3 else int(bad * chance.uniform(0, 0.5))
            classes.append((bad, chance.choice(risks), good, chance.choice(risks)))
        sample, numbers = common(lot, classes)
        commons.append([lot, [[bad, float(beta), good, float(alpha)] for bad, beta, good, alpha in classes], sample, numbers])
    parts = {
        "plans: lot, failing, consumer's risk, failing (acceptable), producer's risk, sample, accept": plans,
        "tails: lot, failing, sample, count, P(X <= count)": tails,
        "shares: lot, sample, seen, 1 - confidence, most failing": shares,
        "courses: lot, failing, accepted, mean number tried": courses,
        "factors: p1, p2, alpha, beta, n, k, n with the deviation known, k": factors,
        "commons: lot, classes (failing, consumer's risk, failing (acceptable), producer's risk), sample, accept": commons,
    }
    rows = {name.split(":")[0]: rows for name, rows in parts.items()}
    print("{")
    print('  "columns": ' + json.dumps(list(parts)) + ",")
    print(",\n".join(
        f'  "{name}": [\n' + ",\n".join("    " + json.dumps(row) for row in all_) + "\n  ]" for name, all_ in rows.items()
    ))
    print("}")


main()
