"""The same means and intervals by pandas and scipy (Debian's python3-pandas, python3-scipy) from the exported CSV."""
import json
import resource
import sys

import numpy as np
import pandas as pd
from scipy import stats

path, out = sys.argv[1:3]
data = pd.read_csv(path, usecols=["rig", "sitting", "workload", "value"])
grouped = data.groupby(["rig", "workload", "sitting"], sort=False)["value"]
sittings = grouped.agg(["mean", "sum", "count"]).reset_index()
sittings["log"] = np.log(sittings["mean"])
grouped = sittings.groupby(["rig", "workload"], sort=False)
sides = grouped.agg(
    log=("log", "mean"), variance=("log", "var"), n=("log", "size"), total=("sum", "sum"), runs=("count", "sum")
).reset_index()
sides["mean"] = sides["total"] / sides["runs"]
sides["squares"] = sides["variance"] * (sides["n"] - 1)
sides["free"] = sides["n"] - 1
pools = sides.groupby("workload")[["squares", "free"]].sum()
rows = sides[sides["rig"] != "rig-000"].merge(
    sides[sides["rig"] == "rig-000"], on="workload", suffixes=("", "_b")
).merge(pools, on="workload", suffixes=("", "_p"))
log = rows["log_b"] - rows["log"]
own, other = rows["variance"] / rows["n"], rows["variance_b"] / rows["n_b"]


def interval(error, df):
    reach = stats.t.ppf(0.975, df) * error
    return list(zip(np.exp(log - reach), np.exp(log + reach)))


pooled = np.sqrt(rows["squares_p"] / rows["free_p"] * (1 / rows["n"] + 1 / rows["n_b"]))
df = (own + other) ** 2 / (own**2 / (rows["n"] - 1) + other**2 / (rows["n_b"] - 1))
found = zip(
    rows["rig"], rows["workload"], rows["mean_b"], rows["mean"], np.exp(log),
    interval(pooled, rows["free_p"]), interval(np.sqrt(own + other), df),
)
with open(out, "w", encoding="utf-8") as file:
    json.dump(list(found), file)
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print(json.dumps({"rows": len(rows), "peakKibibytes": peak}))
