"""Lengths and offset lengths of the test outlines to 30 digits, by quadrature and root finding in mpmath.

Nothing is taken from the core: segments are read from the path's own numbers, moved sideways point by point, and
joined where they meet in a corner: mitred where a gap opens, cut at their crossing where they overlap. The bare sum
of the moved segments, which is what a library that offsets Beziers gives, is told as well.
"""

import json
import re
import sys
from pathlib import Path

import mpmath as mp

mp.mp.dps = 40


def segments(path):
    """The path's segments, lines and cubics, as lists of control points."""
    tokens = re.findall(r"[MLC]|-?[\d.]+", path)
    found, at, letter, i = [], None, None, 0
    while i < len(tokens):
        if tokens[i].isalpha():
            letter, i = tokens[i], i + 1
        count = {"M": 2, "L": 2, "C": 6}[letter]
        numbers = [mp.mpf(token) for token in tokens[i : i + count]]
        points = [mp.matrix(numbers[k : k + 2]) for k in range(0, count, 2)]
        if letter != "M":
            found.append([at, *points])
        at, i = points[-1], i + count
    return found


class Moved:
    """A segment moved sideways by d toward the garment."""

    def __init__(self, points, d):
        self.points, self.d = points, d

    def velocity(self, t):
        p = self.points
        if len(p) == 2:
            return p[1] - p[0]
        u = 1 - t
        return 3 * (u * u * (p[1] - p[0]) + 2 * u * t * (p[2] - p[1]) + t * t * (p[3] - p[2]))

    def acceleration(self, t):
        p = self.points
        if len(p) == 2:
            return mp.matrix([0, 0])
        return 6 * ((1 - t) * (p[2] - 2 * p[1] + p[0]) + t * (p[3] - 2 * p[2] + p[1]))

    def known(self, t):
        p = self.points
        if len(p) == 2:
            return p[0] + t * (p[1] - p[0])
        u = 1 - t
        return u**3 * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2] + t**3 * p[3]

    def direction(self, t):
        v = self.velocity(t)
        return v / mp.hypot(v[0], v[1])

    def at(self, t):
        n = self.direction(t)
        return self.known(t) + self.d * mp.matrix([-n[1], n[0]])

    def speed(self, t):
        v, a = self.velocity(t), self.acceleration(t)
        size = mp.hypot(v[0], v[1])
        # y runs down: a curve that bends round the opening has v x a below zero.
        return size - self.d * (v[0] * a[1] - v[1] * a[0]) / size**2

    def length(self, a=0, b=1):
        if len(self.points) == 2:
            return self.speed(mp.mpf(0)) * (b - a)
        return mp.quad(self.speed, mp.linspace(a, b, 9))


def joined(pieces, d):
    """The length of the moved pieces joined at their corners."""
    ends = [[mp.mpf(0), mp.mpf(1)] for _ in pieces]
    extra = mp.mpf(0)
    for i, (one, two) in enumerate(zip(pieces, pieces[1:])):
        u, v = one.direction(mp.mpf(1)), two.direction(mp.mpf(0))
        turn = -mp.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
        if abs(turn) < mp.mpf(10) ** -25:
            continue
        if turn * d > 0:
            extra += 2 * abs(d) * mp.tan(abs(turn) / 2)
        else:
            gap = lambda t, s: list(one.at(t) - two.at(s))
            t, s = mp.findroot(gap, (mp.mpf("0.99"), mp.mpf("0.01")))
            ends[i][1], ends[i + 1][0] = t, s
    return extra + sum(piece.length(a, b) for piece, (a, b) in zip(pieces, ends))


def reference(outline, d):
    parts = segments(outline["path"])
    moved = [Moved(points, d) for points in parts]
    return {
        "name": outline["name"],
        "length": mp.nstr(sum(Moved(points, mp.mpf(0)).length() for points in parts), 25),
        "offset_apart": mp.nstr(sum(piece.length() for piece in moved), 25),
        "offset_joined": mp.nstr(joined(moved, d), 25),
    }


given = json.loads((Path(__file__).parent / "outlines.json").read_text())
json.dump([reference(outline, mp.mpf(given["offset_mm"])) for outline in given["outlines"]], sys.stdout, indent=1)
