"""Half rounds in double precision with numpy, scipy and shapely: for the strip's integral, and for the differential
test, which compares thousands of outlines.

A line is sampled densely: the places' points, lengths and turnings from the centre."""

import math

import numpy as np
import shapely
from numpy.polynomial.legendre import leggauss
from scipy.optimize import brentq, fsolve

import draft

SMOOTH = 1e-6
# A band's hold on a straight run, and the share of a circle's bend from which it has its whole hold (core/src/strip.rs).
STRAIGHT_HOLD, WHOLE_HOLD_BEND = 0.02, 1 / 3
# Half-turn at the centre from which a line has a point there; radians.
POINT = 0.21
# Stretches that a piece is cut into, each integrated by Gauss's rule of 12 points.
PARTS = 64
NODES, WEIGHTS = leggauss(12)


class Piece:
    """A curve moved by d to the garment side, between two parameters."""

    def __init__(self, curve, d, start=0.0, end=1.0):
        self.curve, self.d, self.start, self.end = np.asarray(curve, dtype=float), d, start, end
        self.first = 3 * np.diff(self.curve, axis=0)
        self.second = 2 * np.diff(self.first, axis=0)

    def point(self, t):
        t = np.asarray(t, dtype=float)[..., None]
        a, b, c, e = self.curve
        u = 1 - t
        return u**3 * a + 3 * u * u * t * b + 3 * u * t * t * c + t**3 * e

    def velocity(self, t):
        t = np.asarray(t, dtype=float)[..., None]
        a, b, c = self.first
        v = (1 - t) ** 2 * a + 2 * (1 - t) * t * b + t * t * c
        # Where a handle has no length the limit of the direction is taken from just beside.
        still = np.hypot(v[..., 0], v[..., 1]) < 1e-9
        if np.any(still):
            near = np.where(t < 0.5, 1e-10, -1e-10)
            w = (1 - t - near) ** 2 * a + 2 * (1 - t - near) * (t + near) * b + (t + near) ** 2 * c
            v = np.where(still[..., None], w, v)
        return v

    def direction(self, t):
        v = self.velocity(t)
        return v / np.hypot(v[..., 0], v[..., 1])[..., None]

    def turn_rate(self, t):
        v = self.velocity(t)
        t = np.asarray(t, dtype=float)[..., None]
        a = (1 - t) * self.second[0] + t * self.second[1]
        return -(v[..., 0] * a[..., 1] - v[..., 1] * a[..., 0]) / (v**2).sum(-1)

    def factor(self, t):
        """1 + d k, which must stay positive."""
        v = self.velocity(t)
        speed = np.hypot(v[..., 0], v[..., 1])
        # A handle of no length has no curvature to speak of.
        return np.where(speed > 1e-6, 1 + self.d * self.turn_rate(t) / speed, 1.0)

    def speed(self, t):
        v = self.velocity(t)
        return np.hypot(v[..., 0], v[..., 1]) + self.d * self.turn_rate(t)

    def at(self, t):
        u = self.direction(t)
        return self.point(t) + self.d * np.stack([-u[..., 1], u[..., 0]], axis=-1)

    def places(self):
        return np.linspace(self.start, self.end, PARTS + 1)

    def each(self, f):
        """The integral of f over each part."""
        t = self.places()
        middle, half = (t[1:] + t[:-1]) / 2, (t[1:] - t[:-1]) / 2
        return (f(middle[:, None] + half[:, None] * NODES) * WEIGHTS).sum(-1) * half


def turn(u, v):
    return -math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])


def line(a, b):
    return Piece(draft.straight(tuple(a), tuple(b)), 0.0)


def solve(make, target, low, high):
    def off(x):
        return sum(Piece(curve, 0.0).each(Piece(curve, 0.0).speed).sum() for curve in make(x)) - target

    return make(brentq(off, float(low), float(high), xtol=1e-12, rtol=1e-14))


class Impossible(Exception):
    """No such line; says why."""


def corners(pieces, d):
    joined = []
    for piece in pieces:
        if joined and d != 0:
            last = joined[-1]
            u, v = last.direction(last.end), piece.direction(piece.start)
            angle = turn(u, v)
            if abs(angle) > SMOOTH and angle * d > 0:
                p, q = last.at(last.end), piece.at(piece.start)
                tip = draft.meeting(p, u, q, v)
                joined += [line(p, tip), line(tip, q)]
            elif abs(angle) > SMOOTH:
                reach = abs(d) * math.tan(abs(angle) / 2)
                lengths = [np.hypot(*last.velocity(1.0)), np.hypot(*piece.velocity(0.0))]
                guess = [1 - reach / lengths[0], reach / lengths[1]]
                apart = lambda x: last.at(x[0]) - piece.at(x[1])  # noqa: E731
                met = fsolve(apart, guess, full_output=True, xtol=1e-14)[0]
                met_well = np.abs(apart(met)).max() < 1e-8 and last.start <= met[0] <= 1 and 0 <= met[1] < 1
                if not met_well and abs(angle) < 1e-3:
                    # All but one way: they pass beside each other; each gives its share of the overlap.
                    met, met_well = [1 - reach / last.speed(1.0), reach / piece.speed(0.0)], True
                if not met_well:
                    raise Impossible("the sides of a corner do not meet")
                last.end, piece.start = met
        joined.append(piece)
    return joined


def cut(pieces, side):
    first = pieces[0]
    p, u = first.at(first.start), first.direction(first.start)
    if side(p) > 1e-12:
        rate = side(p + u) - side(p)
        if rate < 1e-6:
            raise Impossible("nothing is left")
        return [line(p - side(p) / rate * u, p), *pieces]
    for i, piece in enumerate(pieces):
        t = piece.places()
        value = np.array([side(q) for q in piece.at(t)])
        over = np.nonzero((value[:-1] <= 1e-12) & (value[1:] > 1e-12))[0]
        if len(over):
            a, b = t[over[0]], t[over[0] + 1]
            piece.start = a if value[over[0]] >= 0 else brentq(lambda x: side(piece.at(x)), a, b, xtol=1e-14)
            return pieces[i:]
    raise Impossible("nothing is left")


def reversed_pieces(pieces):
    return [Piece(p.curve[::-1], -p.d, 1 - p.end, 1 - p.start) for p in reversed(pieces)]


def moved(known, d, centre, shoulder, slope):
    neck = known[-1][3]
    bare = [Piece(curve, d) for curve in known]
    if any((piece.factor(np.linspace(0, 1, 513)) <= 0).any() for piece in bare):
        raise Impossible("a cusp")
    pieces = cut(corners(bare, d), lambda p: p[0] - centre)
    inward = (-math.sin(slope), math.cos(slope))
    past = lambda p: (p[0] - neck[0]) * inward[0] + (p[1] - neck[1]) * inward[1] - shoulder  # noqa: E731
    return reversed_pieces(cut(reversed_pieces(pieces), past))


def taken_off(half, brief, more=0.0):
    slope = math.radians(half.get("shoulder_slope_deg", 20))
    if not draft.at_cut_edge(brief):
        return more, 0.0, 0.0, slope
    centre = half.get("centre", "fold")
    seam = 0.0 if centre == "fold" else centre["seam"]["allowance_mm"]
    return brief["neckline"]["neckline_allowance_mm"] + more, seam, half["shoulder_allowance_mm"], slope


class Line:
    """One half's line: lengths and turnings at sampled places from the centre, points beside them."""

    def __init__(self, pieces, slope):
        s, theta, points = [np.zeros(1)], [np.zeros(1)], []
        for i, piece in enumerate(pieces):
            jump = 0.0
            if i > 0:
                before = pieces[i - 1]
                jump = turn(before.direction(before.end), piece.direction(piece.start))
            start, turned = s[-1][-1], theta[-1][-1] + jump
            s.append(start + np.concatenate([[0.0], np.cumsum(piece.each(piece.speed))]))
            theta.append(turned + np.concatenate([[0.0], np.cumsum(piece.each(piece.turn_rate))]))
            points.append(piece.at(piece.places()))
        self.s, self.theta, self.points = np.concatenate(s), np.concatenate(theta), np.concatenate(points)
        self.length, self.turning = self.s[-1], self.theta[-1]
        begin, end = pieces[0].direction(pieces[0].start), pieces[-1].direction(pieces[-1].end)
        self.half_turn = turn((1.0, 0.0), begin)
        shoulder = (math.cos(slope), math.sin(slope))
        self.angle = math.acos(max(-1.0, min(1.0, -(end @ shoulder))))
        # A point's turning is taken up by its mitre or its open ends.
        self.start_turn = 0.0 if self.half_turn > POINT else self.half_turn

    def figures(self):
        return {
            "length_mm": self.length,
            "turning_deg": math.degrees(self.turning),
            "half_width_mm": self.points[-1][0] - self.points[0][0],
            "depth_mm": self.points[0][1] - self.points[-1][1],
        }


def half_line(half, brief, more=0.0):
    off = taken_off(half, brief, more)
    return Line(moved(draft.curves(half, brief, solve=solve), *off), off[3])


def by_shapely(half, brief, parts=1500):
    """Length of the seam line by shapely's offset of chords: the known line goes on straight at both ends, is moved
    with mitred corners, and is cut by the two trims' half planes."""
    d, centre, shoulder, slope = taken_off(half, brief)
    known = [Piece(curve, 0.0) for curve in draft.curves(half, brief, solve=solve)]
    t = np.linspace(0, 1, parts + 1)
    chords = [known[0].at(t)] + [piece.at(t[1:]) for piece in known[1:]]
    if not d:
        return shapely.LineString(np.concatenate(chords)).length
    first, last = known[0].direction(0.0), known[-1].direction(1.0)
    far = 500.0
    points = np.concatenate([[chords[0][0] - far * first], *chords, [chords[-1][-1] + far * last]])
    neck = known[-1].at(1.0)
    # Shapely's left, positive, is its own y-up sense: with y running down it is the garment side.
    parallel = shapely.LineString(points).offset_curve(d, join_style="mitre", mitre_limit=1e6)
    size = 3000.0
    along, inward = np.array([math.cos(slope), math.sin(slope)]), np.array([-math.sin(slope), math.cos(slope)])
    at = neck + shoulder * inward
    below = shapely.Polygon([at - size * along, at + size * along, at + size * (along + inward), at + size * (inward - along)])
    beside = shapely.box(centre, -size, size, size)
    return shapely.intersection(parallel, shapely.intersection(below, beside)).length


class Ring:
    """The half round: back and front joined at the neck point, lengths from centre back."""

    def __init__(self, front, back):
        self.neck = front.angle + back.angle - math.pi
        self.length = back.length + front.length
        start = back.start_turn
        middle = start + back.turning + self.neck
        self.s = np.concatenate([back.s, self.length - front.s[::-1]])
        self.theta = np.concatenate([start + back.theta, middle + front.turning - front.theta[::-1]])
        self.turning = middle + front.turning + front.start_turn

        at_corners = np.diff(self.theta)[np.diff(self.s) <= 1e-9]
        # A fold that the line does not cross level is a corner of the whole; half of it is in each half.
        self.corners = np.abs(at_corners).sum() + abs(front.start_turn) + abs(back.start_turn)

    def sudden(self, steps):
        """Turning that a grid of so many steps sees as corners: corners, and bends of over 0.1 radians in one step."""
        grid = np.linspace(0, self.length, steps + 1)
        at = np.searchsorted(grid, self.s[1:][np.diff(self.s) <= 1e-9], side="right") - 1
        jumps = np.zeros(steps)
        np.add.at(jumps, np.clip(at, 0, steps - 1), np.abs(np.diff(self.theta)[np.diff(self.s) <= 1e-9]))
        bends = np.abs(np.diff(np.interp(grid, self.s, self.theta)))
        at_folds = self.corners - jumps.sum()
        return at_folds + np.maximum(jumps, np.where(bends > 0.1, bends, 0)).sum()

    def turned(self, s):
        """Turning from centre back, mirrored beyond both centres."""
        low, high = s < 0, s > self.length
        inside = np.where(low, -s, np.where(high, 2 * self.length - s, s))
        value = np.interp(inside, self.s, self.theta)
        return np.where(low, -value, np.where(high, 2 * self.turning - value, value))

    def shared(self, s, width, steps):
        """Turning of a window three widths long over its length. The window is at least one step of the core's grid
        and at most the half round."""
        half = min(max(1.5 * width, 0.5 * self.length / steps), 0.5 * self.length)
        return (self.turned(s + half) - self.turned(s - half)) / (2 * half)


def stretch(told):
    if "percent" in told:
        recovery = told["percent"].get("recovery_percent")
        return told["percent"]["stretch_percent"] / 100, None if recovery is None else recovery / 100
    r = told["readings"]
    rest, most, released = r["rest_mm"], r["stretched_mm"], r.get("released_mm")
    share = (most - released) / (most - rest) if released is not None and most > rest else None
    return (most - rest) / rest, share


def strip_rule(brief):
    """The strip's side, width, hold, comfort, turn of cloth and own ratio, by design 3.2."""
    rules = {"hold_share": 0.1, "comfort_share": 0.6, "tape_hold": 0.02, "turn_per_thickness": math.pi / 2}
    rules.update(brief.get("rules", {}))
    (kind, finish), = brief["finish"].items()
    knit = brief.get("strip_knit", brief["garment_knit"])
    crosswise, recovery = stretch(knit["crosswise"])
    lengthwise = stretch(knit["lengthwise"])[0] if "lengthwise" in knit else crosswise / 2
    diagonal = stretch(knit["diagonal"])[0] if "diagonal" in knit else (crosswise + lengthwise) / 2
    way = brief.get("strip_direction", "crosswise")
    share = {"crosswise": crosswise, "lengthwise": lengthwise, "diagonal": diagonal}[way]
    comfort = rules["comfort_share"] * share
    own = finish.get("ratio_percent")
    own = None if own is None else own / 100
    if kind == "tape":
        turn_mm = rules["turn_per_thickness"] * brief["garment_knit"].get("thickness_mm", 0.8)
        return "tape", finish["width_mm"], min(rules["tape_hold"], comfort), comfort, turn_mm, own
    hold = rules["hold_share"] * share / (0.9 if recovery is None else recovery)
    return "band", finish["width_mm"], hold, comfort, 0.0, own


def sewn_on(brief):
    """The half round that the strip is sewn on: the seam line, or a bound edge's stitch line below it."""
    more = brief["finish"]["bound"]["width_mm"] if "bound" in brief["finish"] else 0.0
    return Ring(*(half_line(brief["neckline"][name], brief, more) for name in ("front", "back")))


def relaxed_length(brief, steps=64, places=200_000):
    """Relaxed length of the whole strip: the integral of r over the line it is sewn on, by the rule, without a grid."""
    side, width, hold, comfort, turn_mm, own = strip_rule(brief)
    ring = sewn_on(brief)
    if own is not None:
        return 2 * own * ring.length
    s = (np.arange(places) + 0.5) * ring.length / places
    k = ring.shared(s, width, steps)
    f = 1 - k * width if side == "band" else 1 + k * width
    if side == "band":
        # The whole hold where the line bends by a third of what a circle as long as the whole round does, falling evenly
        # to the straight hold: of each place's free edge that share is held by the one, the rest by the other.
        bent = np.clip(k * ring.length / math.pi / WHOLE_HOLD_BEND, 0, 1)
        ruled = f * (bent / (1 + hold) + (1 - bent) / (1 + min(STRAIGHT_HOLD, hold)))
    else:
        ruled = (1 - k * turn_mm) / (1 + hold)
    # Neither edge stretched past its comfort, neither slack; where both cannot be had, the inside edge stands away at
    # the stretch limit, the outside one pulls in at r = 1.
    least, most = np.maximum(f, 1) / (1 + comfort), np.clip(f, 0, 1)
    r = np.where(least <= most, np.clip(ruled, least, np.maximum(most, least)), np.where(f < 1, least, 1.0))
    return 2 * r.sum() * ring.length / places
