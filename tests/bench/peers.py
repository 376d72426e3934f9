"""Times the PyPI peers on the test outlines; prints JSON."""

import json
import timeit
from pathlib import Path

import numpy as np
from scipy.integrate import quad
from shapely.geometry import LineString
from svgpathtools import Line, parse_path

CHORDS = 200
BATCHES = 7
given = json.loads((Path(__file__).parent / "outlines.json").read_text())
distance = given["offset_mm"]


def micros(call):
    """Microseconds of one call: the quickest of several batches, which a busy machine disturbs least."""
    timer = timeit.Timer(call)
    calls, _ = timer.autorange()
    calls = max(1, calls // 4)
    return 1e6 * min(timer.repeat(BATCHES, calls)) / calls


def speed(segment, d):
    """The speed of a segment moved by d toward the garment, at t. Plain Python, as a person would write it."""
    control = list(segment.bpoints())
    if isinstance(segment, Line):
        return lambda t: abs(control[1] - control[0])
    a, b, c = (3 * (q - p) for p, q in zip(control, control[1:]))
    e, f = 2 * (b - a), 2 * (c - b)

    def at(t):
        u = 1 - t
        v = u * u * a + 2 * u * t * b + t * t * c
        w = u * e + t * f
        return abs(v) - d * (v.real * w.imag - v.imag * w.real) / abs(v) ** 2

    return at


def quadrature(segments, d):
    return sum(quad(speed(segment, d), 0, 1, epsabs=1e-9)[0] for segment in segments)


def chords(segments):
    points = [segment.point(t) for segment in segments for t in np.linspace(0, 1, CHORDS + 1)[:-1]]
    points.append(segments[-1].end)
    return LineString([(p.real, p.imag) for p in points])


def peers_of(path):
    segments = list(parse_path(path))
    line = chords(segments)
    # shapely's mitre joins are what the core makes of corners; positive is to the left with y up, the garment's side here.
    moved = lambda: line.offset_curve(distance, join_style="mitre", mitre_limit=10).length
    return [
        ("scipy", "length", lambda: quadrature(segments, 0)),
        ("scipy", "offset_apart", lambda: quadrature(segments, distance)),
        ("svgpathtools", "length", lambda: sum(segment.length(error=1e-9) for segment in fresh(path))),
        ("shapely", "length", lambda: line.length),
        ("shapely", "offset_joined", moved),
    ]


def fresh(path):
    """The path parsed anew: a segment keeps its length once it is reckoned."""
    return parse_path(path)


rows = [
    {"outline": outline["name"], "peer": peer, "what": what, "micros": micros(call), "mm": call()}
    for outline in given["outlines"]
    for peer, what, call in peers_of(outline["path"])
]
print(json.dumps({"rows": rows}))
