# The peer of tests/bench/curves.ts: SciPy's curve_fit(method="lm") on the same
# series, with a self-start from the data. Reads "id,t,y" lines from a file;
# prints one JSON line. Standard errors and AICc are computed as well.
# usage: python3 curves-scipy.py CURVE FILE REPETITIONS
import json
import sys
import time
import warnings

import numpy as np
import scipy
from scipy.optimize import curve_fit

warnings.filterwarnings("ignore")
curve, path, repetitions = sys.argv[1], sys.argv[2], int(sys.argv[3])
table = np.loadtxt(path, delimiter=",", skiprows=1)
ids = table[:, 0].astype(int)
series = [(table[ids == i, 1], table[ids == i, 2]) for i in np.unique(ids)]


def logistic(t, a, m, s):
    return a / (1 + np.exp((m - t) / s))


def gompertz(t, a, b, c):
    return a * np.exp(-b * c**t)


def richards(t, a, k, m, log_nu):
    nu = np.exp(log_nu)
    return a * (1 + nu * np.exp(-k * (t - m))) ** (-1 / nu)


def start_logistic(t, y):
    low, high = y.min(), y.max()
    z = 0.05 + 0.9 * (y - low) / (high - low)
    slope, level = np.polyfit(np.log(z / (1 - z)), t, 1)
    return [high * 1.02, level, slope]


def start_gompertz(t, y):
    a = y.max() * 1.03
    z = np.log(-np.log(np.clip(y / a, 1e-3, 1 - 1e-3)))
    slope, level = np.polyfit(t, z, 1)
    return [a, np.exp(level), np.exp(slope)]


def start_richards(t, y):
    a, m, s = start_logistic(t, y)
    return [a, 1 / s, m, 0.0]


model, start, extra = {
    "logistic": (logistic, start_logistic, {}),
    "gompertz": (gompertz, start_gompertz, {}),
    "richards": (richards, start_richards, {"maxfev": 5000}),
}[curve]


def fit_all():
    done, total, rss_total = 0, 0.0, 0.0
    for t, y in series:
        try:
            p, v = curve_fit(model, t, y, p0=start(t, y), method="lm", **extra)
        except Exception:
            continue
        se = np.sqrt(np.diag(v))
        rss = float(np.sum((y - model(t, *p)) ** 2))
        n, k = len(y), len(p) + 1
        aicc = n * np.log(2 * np.pi * rss / n) + n + 2 * k + 2 * k * (k + 1) / (n - k - 1)
        if np.all(np.isfinite(se)) and np.isfinite(aicc):
            done += 1
            total += p[0]
            rss_total += rss
    return done, total / max(done, 1), rss_total


times = []
cpu = []
check = None
for _ in range(repetitions):
    begin, begin_cpu = time.perf_counter(), time.process_time()
    check = fit_all()
    times.append(time.perf_counter() - begin)
    cpu.append(time.process_time() - begin_cpu)
times.sort()
cpu.sort()
print(
    json.dumps(
        {
            "scipy": scipy.__version__,
            "seconds": times[len(times) // 2],
            "fastest": times[0],
            "cpu": cpu[len(cpu) // 2],
            "cpuFastest": cpu[0],
            "fitted": check[0],
            "meanAsymptote": check[1],
            "rss": check[2],
        }
    )
)
