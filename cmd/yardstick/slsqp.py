# The nearest mix of four paints by SciPy's SLSQP from several starts: reads the
# questions from standard input, prints the processor seconds taken and the CIEDE2000 found.
# Vectorised over the bands; shares >= 0 with sum 1.
import json
import sys
import time

import numpy as np
from scipy.optimize import minimize

asked = json.load(sys.stdin)
weights = np.array(asked["weights"])
white = np.array(asked["white"])
k1, k2 = asked["k1"], asked["k2"]


def lab(k, s):
    q = k / s
    r = 1 / (1 + q + np.sqrt(q * (q + 2)))
    seen = k1 + (1 - k1) * (1 - k2) * r / (1 - k2 * r)
    t = weights @ seen / white
    f = np.where(t > 216 / 24389, np.cbrt(t), (24389 / 27 * t + 16) / 116)
    return 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])


def de2000(p, q):
    """Sharma, Wu, Dalal 2005, eqs. 2-22."""
    l1, a1, b1 = p
    l2, a2, b2 = q
    cm = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2
    g = 0.5 * (1 - np.sqrt(cm**7 / (cm**7 + 25.0**7)))
    a1, a2 = (1 + g) * a1, (1 + g) * a2
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.degrees(np.arctan2(b1, a1)) % 360, np.degrees(np.arctan2(b2, a2)) % 360
    dh, hm = h2 - h1, (h1 + h2) / 2
    if abs(dh) > 180:
        dh -= np.copysign(360, dh)
        hm += 180 if hm < 180 else -180
    dh = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(dh / 2))
    lm, cm = (l1 + l2) / 2, (c1 + c2) / 2
    t = (1 - 0.17 * np.cos(np.radians(hm - 30)) + 0.24 * np.cos(np.radians(2 * hm))
         + 0.32 * np.cos(np.radians(3 * hm + 6)) - 0.20 * np.cos(np.radians(4 * hm - 63)))
    sl = 1 + 0.015 * (lm - 50)**2 / np.sqrt(20 + (lm - 50)**2)
    sc, sh = 1 + 0.045 * cm, 1 + 0.015 * cm * t
    rt = (-2 * np.sqrt(cm**7 / (cm**7 + 25.0**7))
          * np.sin(np.radians(60 * np.exp(-(((hm - 275) / 25)**2)))))
    l, c, h = (l2 - l1) / sl, (c2 - c1) / sc, dh / sh
    return np.sqrt(max(0.0, l * l + c * c + h * h + rt * c * h))


def nearest(question, rng):
    k, s = np.array(question["k"]), np.array(question["s"])
    target = question["target"]
    n = len(k)
    best = np.inf
    for _ in range(asked["starts"]):
        x = rng.exponential(size=n)**2
        r = minimize(lambda c: de2000(lab(c @ k, c @ s), target), x / x.sum(), method="SLSQP",
                     bounds=[(1e-9, 1)] * n, options={"ftol": asked["stop"], "maxiter": 200},
                     constraints={"type": "eq", "fun": lambda c: c.sum() - 1})
        best = min(best, de2000(lab(r.x @ k, r.x @ s), target))
    return float(best)


rng = np.random.default_rng(7)
begun = time.process_time()
found = [nearest(q, rng) for q in asked["questions"]]
print(json.dumps({"Seconds": time.process_time() - begun, "DE": found}))
