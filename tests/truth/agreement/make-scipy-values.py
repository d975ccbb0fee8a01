"""Writes values/scipy.json: quantities worked out with SciPy on published data that lie
beside this file as TypeScript (re-keyed there, read here by their numbers).

    python3 tests/truth/agreement/make-scipy-values.py
"""
import json, platform
from pathlib import Path
import numpy as np
import scipy
from scipy import optimize, special, stats

here = Path(__file__).parent
ages = np.array([118, 484, 664, 1004, 1231, 1372, 1582], float)
trees = {  # Draper and Smith (1998), exercise 24.N
    "1": [30, 58, 87, 115, 120, 142, 145], "2": [33, 69, 111, 156, 172, 203, 203],
    "3": [30, 51, 75, 108, 115, 139, 140], "4": [32, 62, 112, 167, 179, 209, 214],
    "5": [30, 49, 81, 125, 142, 174, 177]}
curves = {
    "logistic": (lambda t, A, k, Ti: A / (1 + np.exp(-k * (t - Ti))), [200, 0.003, 700]),
    "gompertz": (lambda t, A, k, Ti: A * np.exp(-np.exp(-k * (t - Ti))), [220, 0.002, 500]),
}
fits = []
for name, (f, start) in curves.items():
    for tree, y in trees.items():
        p, cov = optimize.curve_fit(f, ages, np.array(y, float), p0=start, method="lm",
                                    ftol=1e-15, xtol=1e-15, gtol=1e-15, maxfev=100000)
        r = np.array(y) - f(ages, *p)
        fits.append(dict(curve=name, tree=tree, estimates=list(p), se=list(np.sqrt(np.diag(cov))),
                         rss=float(r @ r)))

a, b = np.array(trees["1"], float), np.array(trees["2"], float)
three = [np.array(trees[k], float) for k in "124"]
tests = {
    "welch t": stats.ttest_ind(a, b, equal_var=False).statistic,
    "welch p": stats.ttest_ind(a, b, equal_var=False).pvalue,
    "paired t p": stats.ttest_rel(a, b).pvalue,
    "anova F": stats.f_oneway(*three).statistic,
    "anova p": stats.f_oneway(*three).pvalue,
    "kruskal H": stats.kruskal(*three).statistic,
    "kruskal p": stats.kruskal(*three).pvalue,
    "shapiro W": stats.shapiro(b).statistic,
    "pearson r": stats.pearsonr(ages, a).statistic,
    "spearman rho": stats.spearmanr(ages, b).statistic,
    "kendall tau": stats.kendalltau(ages, b).statistic,
}
points = [0.001, 0.1, 0.5, 0.9, 0.999]
distributions = [
    *[dict(fn="studentTQuantile", args=[p, 4.5], value=stats.t.ppf(p, 4.5)) for p in points],
    *[dict(fn="chiSquaredQuantile", args=[p, 7], value=stats.chi2.ppf(p, 7)) for p in points],
    *[dict(fn="fQuantile", args=[p, 3, 11], value=stats.f.ppf(p, 3, 11)) for p in points],
    *[dict(fn="betaQuantile", args=[p, 2.5, 7], value=stats.beta.ppf(p, 2.5, 7)) for p in points],
    *[dict(fn="gammaQuantile", args=[p, 3.3], value=stats.gamma.ppf(p, 3.3)) for p in points],
    *[dict(fn="normalQuantile", args=[p], value=stats.norm.ppf(p)) for p in points],
    *[dict(fn="logGamma", args=[x], value=special.gammaln(x)) for x in (0.3, 2.5, 40.5)],
    *[dict(fn="digamma", args=[x], value=special.digamma(x)) for x in (0.3, 2.5, 40.5)],
]
out = dict(source=f"SciPy {scipy.__version__}, NumPy {np.__version__}, Python {platform.python_version()}",
           fits=fits, tests={k: float(v) for k, v in tests.items()},
           distributions=[{**d, "value": float(d["value"])} for d in distributions])
(here / "values" / "scipy.json").write_text(json.dumps(out, indent=1) + "\n")
