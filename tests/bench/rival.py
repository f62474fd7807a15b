#!/usr/bin/env python3
"""What a capable engineer would write for the same work: pandas, numpy, scipy (HiGHS for zones, rows generated) and
matplotlib. Needs Debian's python3-numpy, python3-scipy, python3-pandas, python3-matplotlib.
Usage: rival.py check LOG | json LOG OUT | zone plane|circle N | pdfs FOLDER OUT"""
import json
import sys
import time

import numpy as np


def read(path):
    import pandas as pd

    return pd.read_csv(path, comment="#")


def plane(points):
    center = points.mean(0)
    centered = points - center
    values, vectors = np.linalg.eigh(centered.T @ centered)
    normal = vectors[:, 0]
    return center, normal, centered @ normal, vectors


def program(rows, bound, cost):
    from scipy.optimize import linprog

    return linprog(cost, rows, bound, bounds=[(None, None)] * len(cost), method="highs").x


def generated(build, count, start):
    """A linear programme over few of the points, with the worst of the rest added until none is outside."""
    chosen = np.asarray(start)
    for _ in range(100):
        x, outside = build(chosen)
        worst = int(np.argmax(outside))
        if outside[worst] <= 1e-12:
            return x
        chosen = np.unique(np.append(chosen, np.argsort(outside)[-20:]))
    return x


def flatness(points):
    center, normal, heights, vectors = plane(points)
    u, v = (points - center) @ vectors[:, 1], (points - center) @ vectors[:, 2]
    base = np.c_[np.ones(len(u)), u, v]

    def build(chosen):
        some = base[chosen]
        one = np.ones((len(chosen), 1))
        x = program(np.r_[np.c_[some, -one], np.c_[-some, -one]], np.r_[heights[chosen], -heights[chosen]], [0, 0, 0, 1])
        return x, np.abs(heights - base @ x[:3]) - x[3]

    start = np.r_[np.argsort(heights)[:20], np.argsort(heights)[-20:]]
    x = generated(build, len(points), start)
    return 2 * x[3] / np.sqrt(1 + x[1] ** 2 + x[2] ** 2)


def roundness(points):
    center = points.mean(0)
    for _ in range(30):
        away = points - center
        radius = np.hypot(*away.T)
        unit = away / radius[:, None]

        def build(chosen):
            some, one, none = unit[chosen], np.ones((len(chosen), 1)), np.zeros((len(chosen), 1))
            rows = np.r_[np.c_[-some, -one, none], np.c_[some, none, one]]
            x = program(rows, np.r_[-radius[chosen], radius[chosen]], [0, 0, 1, -1])
            now = radius - unit @ x[:2]
            return x, np.maximum(now - x[2], x[3] - now)

        start = np.r_[np.argsort(radius)[:20], np.argsort(radius)[-20:]]
        x = generated(build, len(points), start)
        center = center + x[:2]
        if np.hypot(*x[:2]) < 1e-12:
            break
    return np.ptp(np.hypot(*(points - center).T))


def whole_flatness(points):
    """The whole programme in one solve, as scipy is used as it comes."""
    center, normal, heights, vectors = plane(points)
    base = np.c_[np.ones(len(points)), (points - center) @ vectors[:, 1:]]
    one = np.ones((len(points), 1))
    x = program(np.r_[np.c_[base, -one], np.c_[-base, -one]], np.r_[heights, -heights], [0, 0, 0, 1])
    return 2 * x[3] / np.sqrt(1 + x[1] ** 2 + x[2] ** 2)


def whole_roundness(points):
    center = points.mean(0)
    for _ in range(30):
        away = points - center
        radius = np.hypot(*away.T)
        unit, one, none = away / radius[:, None], np.ones((len(points), 1)), np.zeros((len(points), 1))
        rows = np.r_[np.c_[-unit, -one, none], np.c_[unit, none, one]]
        x = program(rows, np.r_[-radius, radius], [0, 0, 1, -1])
        center = center + x[:2]
        if np.hypot(*x[:2]) < 1e-12:
            break
    return np.ptp(np.hypot(*(points - center).T))


def work_out(frame):
    result = {}
    for name, rows in frame.groupby("feature"):
        points = rows[["x", "y", "z"]].to_numpy()
        center, normal, heights, _ = plane(points)
        result[name] = {"center": center.tolist(), "normal": normal.tolist(), "spread": float(np.ptp(heights)), "flatness": float(flatness(points))}
    return result


def check(path):
    for name, values in work_out(read(path)).items():
        print(name, values["flatness"])


def to_json(path, out):
    with open(out, "w") as file:
        json.dump(work_out(read(path)), file)


def zone(kind, count):
    random = np.random.default_rng(7)
    if kind == "plane":
        points = np.c_[random.uniform(-100, 100, (count, 2)), random.normal(0, 0.002, count)]
        work = whole_flatness
    else:
        angle = random.uniform(0, 2 * np.pi, count)
        radius = 50 + random.normal(0, 0.002, count)
        points = np.c_[radius * np.cos(angle), radius * np.sin(angle)]
        work = whole_roundness
    begin = time.perf_counter()
    value = work(points)
    print(json.dumps({"seconds": time.perf_counter() - begin, "value": float(value)}))


def pdfs(folder, out):
    import glob
    import os

    import matplotlib

    matplotlib.use("pdf")
    import matplotlib.pyplot as plot
    from matplotlib.backends.backend_pdf import PdfPages

    for path in sorted(glob.glob(os.path.join(folder, "*.csv"))):
        frame = read(path)
        values = work_out(frame)
        with PdfPages(os.path.join(out, os.path.basename(path) + ".pdf")) as pages:
            for name, rows in frame.groupby("feature"):
                figure, (map_axes, table_axes) = plot.subplots(2, 1, figsize=(8.3, 11.7))
                map_axes.tricontourf(rows["x"], rows["y"], rows["z"])
                map_axes.plot(rows["x"], rows["y"], ".")
                map_axes.set_title(name)
                table_axes.axis("off")
                table_axes.table(cellText=[[key, str(value)] for key, value in values[name].items()])
                pages.savefig(figure)
                plot.close(figure)


if __name__ == "__main__":
    command, *rest = sys.argv[1:]
    if command == "check":
        check(*rest)
    elif command == "json":
        to_json(*rest)
    elif command == "zone":
        zone(rest[0], int(rest[1]))
    else:
        pdfs(*rest)
