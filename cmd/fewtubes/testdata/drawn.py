"""In how many plausible boxes a palette reaches its colours, by another program.

Standard input: {"answer": of choose --json, "boxes": [of tubes --draw N --json, ...]}.
Standard output: {"targets": {name: [holds, too near to say]}, "whole": [same of the palette], "masstones": CIEDE2000}.

Of fewtubes it takes K, S, the surface, the weights of the light and the answer's tubes and
colours. Mixing is Kubelka and Munk's for opaque films with Saunderson's correction;
CIEDE2000 is written from Sharma, Wu and Dalal, Color Res. Appl. 30, 2005. The nearest mix
is looked for in two ways that fewtubes does not use: a grid over the logarithms of
amounts, drawn tighter, and SciPy's SLSQP from its best points.
"""
import itertools
import json
import sys

import numpy as np
from scipy.optimize import minimize

NEAR = 0.003  # of CIEDE2000: K and S are printed with six digits


def lab(k, s, box):
    k1, k2 = box["surface"]["k1"], box["surface"]["k2"]
    q = k / s
    film = 1 + q - np.sqrt(q * q + 2 * q)
    seen = k1 + (1 - k1) * (1 - k2) * film / (1 - k2 * film)
    w = box["weights"]
    t = np.stack([seen @ np.array(w[a]) / white for a, white in zip("xyz", w["white"])], -1)
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], -1)


def de2000(one, other):
    l1, a1, b1 = np.moveaxis(np.asarray(one, float), -1, 0)
    l2, a2, b2 = np.moveaxis(np.asarray(other, float), -1, 0)
    mean = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2
    g = 1.5 - 0.5 * np.sqrt(mean**7 / (mean**7 + 25.0**7))
    c1, c2 = np.hypot(g * a1, b1), np.hypot(g * a2, b2)
    h1, h2 = np.degrees(np.arctan2(b1, g * a1)) % 360, np.degrees(np.arctan2(b2, g * a2)) % 360
    turn = (h2 - h1 + 180) % 360 - 180
    turn = np.where(c1 * c2 == 0, 0, turn)
    h = np.where(c1 * c2 == 0, h1 + h2, np.where(np.abs(h1 - h2) <= 180, (h1 + h2) / 2, np.where(h1 + h2 < 360, (h1 + h2 + 360) / 2, (h1 + h2 - 360) / 2)))
    c, l = (c1 + c2) / 2, (l1 + l2) / 2
    rad = np.radians
    t = 1 - 0.17 * np.cos(rad(h - 30)) + 0.24 * np.cos(rad(2 * h)) + 0.32 * np.cos(rad(3 * h + 6)) - 0.2 * np.cos(rad(4 * h - 63))
    sl = 1 + 0.015 * (l - 50) ** 2 / np.sqrt(20 + (l - 50) ** 2)
    sc, sh = 1 + 0.045 * c, 1 + 0.015 * c * t
    rt = -2 * np.sqrt(c**7 / (c**7 + 25.0**7)) * np.sin(rad(60 * np.exp(-(((h - 275) / 25) ** 2))))
    dl, dc, dh = (l2 - l1) / sl, (c2 - c1) / sc, 2 * np.sqrt(c1 * c2) * np.sin(rad(turn / 2)) / sh
    return np.sqrt(np.maximum(dl * dl + dc * dc + dh * dh + rt * dc * dh, 0))


def nearest(ks, ss, box, targets, enough):
    """The least differences from some colours of mixes of a few paints; no less than it where enough."""
    best = np.full(len(targets), np.inf)
    n = len(ks)

    def mixed(amounts):
        return lab(amounts @ ks, amounts @ ss, box)

    def difference(u, t):
        a = np.exp(u - u.max())
        return float(de2000(mixed(a / a.sum()), t))

    points = {2: 61, 3: 25, 4: 13}.get(n, 1)
    grid = np.array(list(itertools.product(np.linspace(-9, 9, points), repeat=n - 1))).reshape(points ** (n - 1), n - 1)
    coarse = np.hstack([np.zeros((len(grid), 1)), grid])
    for i, t in enumerate(targets):
        at, width = coarse, 18 / max(points - 1, 1)
        for _ in range(7 if n > 1 else 1):
            a = np.exp(at - at.max(-1, keepdims=True))
            far = de2000(mixed(a / a.sum(-1, keepdims=True)), t)
            order = np.argsort(far)[:6]
            best[i] = min(best[i], far[order[0]])
            starts = at[order]
            if best[i] <= enough[i] - NEAR or n == 1:
                break
            steps = np.array(list(itertools.product((-1, -0.5, 0, 0.5, 1), repeat=n - 1))).reshape(-1, n - 1) * width
            at = np.vstack([starts[k] + np.hstack([np.zeros((len(steps), 1)), steps]) for k in range(len(starts))])
            width /= 2
        if n > 1 and best[i] > enough[i] - NEAR and best[i] < enough[i] + 2:
            for start in starts[:2]:
                found = minimize(difference, start, args=(t,), method="SLSQP", options={"ftol": 1e-10, "maxiter": 200})
                best[i] = min(best[i], found.fun)
    return best


def main():
    asked = json.load(sys.stdin)
    answer = asked["answer"]
    palette = answer["palettes"][0]["tubes"]
    judged = [t for t in answer["palettes"][0]["targets"] if t["name"] in {h["name"] for h in answer["doubt"]["targets"]}]
    targets = [np.array(t["lab"]) for t in judged]
    enough = np.array([t["tolerance"] for t in judged])
    few = answer["paints_per_mix"] or len(palette)
    holds = {t["name"]: [0, 0] for t in judged}
    whole = [0, 0]
    masstones = 0.0
    for box in asked["boxes"]:
        tubes = {t["id"]: t for t in box["tubes"]}
        k = np.array([tubes[i]["k"] for i in palette])
        s = np.array([tubes[i]["s"] for i in palette])
        masstones = max(masstones, float(de2000(lab(k, s, box), [tubes[i]["lab"] for i in palette]).max()))
        best = np.full(len(targets), np.inf)
        for n in range(1, min(few, len(palette)) + 1):
            for some in itertools.combinations(range(len(palette)), n):
                open_ = np.flatnonzero(best > enough - NEAR)
                if len(open_):
                    at = list(some)
                    best[open_] = np.minimum(best[open_], nearest(k[at], s[at], box, [targets[i] for i in open_], enough[open_]))
        for t, far, limit in zip(judged, best, enough):
            holds[t["name"]][0] += int(far <= limit)
            holds[t["name"]][1] += int(abs(far - limit) <= NEAR)
        whole[0] += int((best <= enough).all())
        whole[1] += int((best <= enough + NEAR).all() and not (best <= enough - NEAR).all())
    json.dump({"targets": holds, "whole": whole, "masstones": masstones}, sys.stdout)


main()
