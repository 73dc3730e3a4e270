"""The same figures with numpy and scipy, for the benchmark of the analysis: reads doubles from a file, prints JSON."""
import json
import sys
import time

import numpy as np
from scipy import signal, stats

x = np.fromfile(sys.argv[1])
n = len(x)
ROUNDS = 2
LOWER, UPPER, NOMINAL = 4653.0, 4747.0, 4700.0


def analyse():
    mean, sd = x.mean(), x.std(ddof=1)
    percentiles = np.percentile(x, [1, 5, 25, 50, 75, 95, 99])
    lower, upper = (mean - LOWER) / (3 * sd), (UPPER - mean) / (3 * sd)
    stats.chi2.ppf([0.025, 0.975], n - 1)
    stats.norm.cdf([-3 * lower, -3 * upper])
    s = np.sort(x)
    z = (s - mean) / sd
    i = np.arange(1, n + 1)
    ad = -n - np.sum((2 * i - 1) / n * (stats.norm.logcdf(z) + stats.norm.logsf(z[::-1])))
    left = x.copy()
    for _ in range(10):
        m = left.mean()
        worst = np.argmax(np.abs(left - m))
        abs(left[worst] - m) / left.std(ddof=1)
        left = np.delete(left, worst)
    tau = stats.kendalltau(i, x)
    # The same million pairs, by the same sequence; all pairs of a million readings no computer takes.
    p = 1.324717957244746
    steps = np.arange(1, 1_000_001)
    a = np.floor(np.mod(0.5 + steps / p, 1) * n).astype(np.int64)
    b = np.floor(np.mod(0.5 + steps / p**2, 1) * n).astype(np.int64)
    apart = a != b
    slope = np.median((x[b[apart]] - x[a[apart]]) / (b[apart] - a[apart]))
    spread = np.abs(np.diff(x)).mean() * np.sqrt(np.pi) / 2
    lam = 0.3
    ewma, _ = signal.lfilter([lam], [1, lam - 1], x, zi=[(1 - lam) * mean])
    half = 3 * spread * np.sqrt(lam / (2 - lam) * (1 - (1 - lam) ** (2.0 * i)))
    ewma_out = int(np.sum(np.abs(ewma - mean) > half))
    np.sum(np.abs(x - mean) > 3 * spread)

    def cusum(d):
        c = np.cumsum(d - 0.5 * spread)
        return c - np.minimum.accumulate(np.minimum(c, 0))

    cusum_out = int(np.sum((cusum(x - mean) > 5 * spread) | (cusum(mean - x) > 5 * spread)))
    np.histogram(x, bins=60)
    return {
        "mean": mean,
        "standard deviation": sd,
        "median": percentiles[3],
        "Anderson-Darling": ad,
        "tau-b": tau.statistic,
        "slope": slope,
        "EWMA signals": ewma_out,
        "CUSUM signals": cusum_out,
    }


analyse()
milliseconds = []
for _ in range(ROUNDS):
    start = time.perf_counter()
    figures = analyse()
    milliseconds.append((time.perf_counter() - start) * 1000)
print(json.dumps({"milliseconds": milliseconds, "figures": {k: float(v) for k, v in figures.items()}}))
