"""Chances of acceptance in a lot with scipy, for the benchmark of the plans: reads the checked pairs, prints JSON."""
import json
import sys
import time

import numpy as np
from scipy import stats

LOT, SAMPLE, EVALUATIONS, ROUNDS = 500_000, 1250, 200_000, 3

checked = np.array(json.load(sys.stdin))
index = np.arange(EVALUATIONS)
rates = []
for _ in range(ROUNDS):
    start = time.perf_counter()
    stats.hypergeom.cdf(index % 8, LOT, 100 + index % 3000, SAMPLE)
    rates.append(EVALUATIONS / (time.perf_counter() - start))
chances = stats.hypergeom.cdf(checked[:, 0], LOT, checked[:, 1], SAMPLE)
print(json.dumps({"rates": rates, "chances": chances.tolist()}))
