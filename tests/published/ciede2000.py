"""Expected derivatives for tests/published/ciede2000.test.ts; run with Python 3.11.7, mpmath 1.3.0.

CIEDE2000 written anew from its definition (Sharma, Wu & Dalal 2005, equations 2 to 22), in 40-digit
arithmetic, and its partial derivatives by central differences with a step of 1e-12. Nothing of the project
is used. The definition is first held against the published differences.
"""

import json
from pathlib import Path

from mpmath import atan2, cos, degrees, exp, mp, mpf, radians, sin, sqrt

mp.dps = 40
# Hues that lie exactly opposite are taken for no more than 180 degrees apart, as the paper does.
OPPOSITE = 180 + mpf("1e-30")


def hue(a, b):
    return mpf(0) if a == 0 and b == 0 else degrees(atan2(b, a)) % 360


def ciede2000(x):
    L1, a1, b1, L2, a2, b2 = x
    mean_c = (sqrt(a1**2 + b1**2) + sqrt(a2**2 + b2**2)) / 2
    g = (1 - sqrt(mean_c**7 / (mean_c**7 + mpf(25) ** 7))) / 2
    a1, a2 = (1 + g) * a1, (1 + g) * a2
    c1, c2 = sqrt(a1**2 + b1**2), sqrt(a2**2 + b2**2)
    h1, h2 = hue(a1, b1), hue(a2, b2)
    dl, dc = L2 - L1, c2 - c1
    dh = mpf(0)
    if c1 * c2 != 0:
        dh = h2 - h1
        if dh > OPPOSITE:
            dh -= 360
        elif dh < -OPPOSITE:
            dh += 360
    dH = 2 * sqrt(c1 * c2) * sin(radians(dh) / 2)
    ml, mc = (L1 + L2) / 2, (c1 + c2) / 2
    mh = h1 + h2
    if c1 * c2 != 0:
        if abs(h1 - h2) <= OPPOSITE:
            mh = (h1 + h2) / 2
        else:
            mh = (h1 + h2 + 360) / 2 if h1 + h2 < 360 else (h1 + h2 - 360) / 2
    t = (
        1
        - mpf("0.17") * cos(radians(mh - 30))
        + mpf("0.24") * cos(radians(2 * mh))
        + mpf("0.32") * cos(radians(3 * mh + 6))
        - mpf("0.20") * cos(radians(4 * mh - 63))
    )
    theta = 30 * exp(-(((mh - 275) / 25) ** 2))
    rc = 2 * sqrt(mc**7 / (mc**7 + mpf(25) ** 7))
    sl = 1 + mpf("0.015") * (ml - 50) ** 2 / sqrt(20 + (ml - 50) ** 2)
    sc = 1 + mpf("0.045") * mc
    sh = 1 + mpf("0.015") * mc * t
    rt = -sin(radians(2 * theta)) * rc
    return sqrt((dl / sl) ** 2 + (dc / sc) ** 2 + (dH / sh) ** 2 + rt * (dc / sc) * (dH / sh))


def derivatives(x, step=mpf("1e-12")):
    for i in range(6):
        up = [v + (step if j == i else 0) for j, v in enumerate(x)]
        down = [v - (step if j == i else 0) for j, v in enumerate(x)]
        yield (ciede2000(up) - ciede2000(down)) / (2 * step)


table = Path(__file__).parents[2] / "shared" / "ciede2000.json"
for pair in json.loads(table.read_text(), parse_float=mpf)["pairs"]:
    x = [mpf(v) for v in pair["lab1"] + pair["lab2"]]
    assert abs(ciede2000(x) - pair["difference"]) < mpf("5.01e-5"), pair
    if pair["pair"] in (1, 17, 20, 25, 28, 31, 34):
        print(f"  {pair['pair']}: [{', '.join(f'{float(d):.10f}' for d in derivatives(x))}],")



def lengths(x, step=mpf("1e-12")):
    """Colour difference that a step of each reading makes by itself, for each unit of it."""
    for i in range(6):
        colour = x[:3] if i < 3 else x[3:]
        moved = [v + (step if j == i % 3 else 0) for j, v in enumerate(colour)]
        yield ciede2000(list(colour) + moved) / step


# Two prints of a patch as the test gives them: last, first.
for name, lab in {
    "greys": ("52", "0", "0", "48", "0", "0"),
    "cyan": ("55.6", "-35.7", "-48.3", "54.9", "-36.0", "-49.2"),
    "alike": ("54.9", "-36.0", "-49.2", "54.9", "-36.0", "-49.2"),
}.items():
    x = [mpf(v) for v in lab]
    reading = mpf("0.1") / sqrt(12)
    difference = ciede2000(x)
    at_zero = sum((m * reading) ** 2 for m in lengths(x))
    along = sum((d * reading) ** 2 for d in derivatives(x)) if difference else mpf(0)
    share = 1 / (1 + difference**2 / (4 * at_zero))
    u = sqrt(along + share * (at_zero - along))
    print(f"{name}: {float(difference):.12f}, u {float(u):.12f}")
