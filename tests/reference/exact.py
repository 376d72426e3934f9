"""A half's seam line at 34 digits: mpmath's quadrature and root finding on the curve moved sideways.

Nothing is shared with the core: lengths integrate the moved curve's speed (the core uses Steiner's formula), turning
integrates curvature (the core takes angles between directions), trims are bisected at 34 digits."""

from mpmath import mp, mpf

import draft

mp.dps = 34
# Corners that turn by less than this meet smoothly, as in the core; radians.
SMOOTH = mpf("1e-6")
SAMPLES = 48


class Numbers:
    """Arithmetic in mpmath's numbers; a float is taken for exactly what it holds."""

    num = staticmethod(mpf)
    pi = mp.pi
    sqrt, tan, cos, sin, power = mp.sqrt, mp.tan, mp.cos, mp.sin, mp.power


class Piece:
    """A curve moved by d to the garment side, between two parameters."""

    def __init__(self, curve, d, start=mpf(0), end=mpf(1)):
        self.curve, self.d, self.start, self.end = curve, d, start, end

    def bernstein(self, t):
        (a, b, c, e), u = self.curve, 1 - t
        return tuple(u**3 * a[i] + 3 * u * u * t * b[i] + 3 * u * t * t * c[i] + t**3 * e[i] for i in (0, 1))

    def velocity(self, t):
        (a, b, c, e), u = self.curve, 1 - t
        return tuple(3 * (u * u * (b[i] - a[i]) + 2 * u * t * (c[i] - b[i]) + t * t * (e[i] - c[i])) for i in (0, 1))

    def acceleration(self, t):
        a, b, c, e = self.curve
        return tuple(6 * ((1 - t) * (c[i] - 2 * b[i] + a[i]) + t * (e[i] - 2 * c[i] + b[i])) for i in (0, 1))

    def direction(self, t):
        v = self.velocity(t)
        speed = mp.sqrt(v[0] ** 2 + v[1] ** 2)
        if speed < mpf("1e-25"):
            v = self.acceleration(t) if t < 0.5 else tuple(-x for x in self.acceleration(t))
            speed = mp.sqrt(v[0] ** 2 + v[1] ** 2)
        return v[0] / speed, v[1] / speed

    def turn_rate(self, t):
        """Curvature times speed: turning per unit of t."""
        v, a = self.velocity(t), self.acceleration(t)
        return -(v[0] * a[1] - v[1] * a[0]) / (v[0] ** 2 + v[1] ** 2)

    def speed(self, t):
        """Of the moved curve."""
        v = self.velocity(t)
        return abs(mp.sqrt(v[0] ** 2 + v[1] ** 2) + self.d * self.turn_rate(t))

    def at(self, t):
        p, u = self.bernstein(t), self.direction(t)
        return p[0] - self.d * u[1], p[1] + self.d * u[0]

    def is_straight(self):
        a, b, c, e = self.curve
        return all(abs(cross(e, q, a)) < mpf("1e-28") for q in (b, c))

    def length(self):
        if self.is_straight():
            p, q = self.at(self.start), self.at(self.end)
            return mp.hypot(q[0] - p[0], q[1] - p[1])
        return integral(self.speed, self.start, self.end)

    def turning(self):
        if self.is_straight():
            return mpf(0)
        return integral(self.turn_rate, self.start, self.end)


def integral(f, start, end):
    """By Gauss's rule in two parts, of as many points as leave no error that 34 digits show."""
    value, error = mp.quad(f, [start, (start + end) / 2, end], method="gauss-legendre", maxdegree=10, error=True)
    assert error < mpf("1e-26"), f"the quadrature has not settled: {error}"
    return value


def cross(p, q, o):
    return (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])


def turn(u, v):
    return -mp.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])


def line(a, b):
    return Piece(draft.straight(a, b), mpf(0))


def solve(make, target, low, high):
    """The draft among make(low .. high) of a length, by Anderson's and Bjorck's bracketing method."""

    def off(x):
        return sum(Piece(curve, mpf(0)).length() for curve in make(x)) - target

    assert off(mpf(low)) < 0 < off(mpf(high)), "no such shape"
    return make(mp.findroot(off, (mpf(low), mpf(high)), solver="anderson", tol=mpf("1e-52")))


def corners(pieces, d):
    """Mitres the gaps at corners and cuts overlaps where the moved pieces meet."""
    joined = []
    for piece in pieces:
        if joined and d != 0:
            last = joined[-1]
            u, v = last.direction(last.end), piece.direction(piece.start)
            angle = turn(u, v)
            if abs(angle) > SMOOTH and angle * d > 0:
                # The moved ends' tangents meet here.
                p, q = last.at(last.end), piece.at(piece.start)
                tip = draft.meeting(p, u, q, v)
                joined += [line(p, tip), line(tip, q)]
            elif abs(angle) > SMOOTH:
                reach = abs(d) * mp.tan(abs(angle) / 2)
                guess = [1 - reach / mp.norm(last.velocity(1)), reach / mp.norm(piece.velocity(0))]
                met = mp.findroot(lambda t, s: [last.at(t)[i] - piece.at(s)[i] for i in (0, 1)], guess)
                last.end, piece.start = met[0], met[1]
        joined.append(piece)
    return joined


def cut(pieces, side):
    """What is left from where side() first becomes positive; extended back along the tangent where it is so at the
    start. side is linear in the point."""
    first = pieces[0]
    value, u = side(first.at(first.start)), first.direction(first.start)
    p = first.at(first.start)
    if value > mpf("1e-30"):
        rate = side((p[0] + u[0], p[1] + u[1])) - value
        return [line((p[0] - value / rate * u[0], p[1] - value / rate * u[1]), p), *pieces]
    for i, piece in enumerate(pieces):
        places = mp.linspace(piece.start, piece.end, SAMPLES)
        for a, b in zip(places, places[1:]):
            if side(piece.at(a)) <= mpf("1e-30") < side(piece.at(b)):
                low, high = a, b
                for _ in range(140):
                    middle = (low + high) / 2
                    low, high = (middle, high) if side(piece.at(middle)) <= 0 else (low, middle)
                piece.start = high
                return pieces[i:]
    raise ValueError("nothing is left")


def reversed_pieces(pieces):
    turned = [Piece(tuple(reversed(p.curve)), -p.d, 1 - p.end, 1 - p.start) for p in pieces]
    return list(reversed(turned))


def moved(known, d, centre, shoulder, slope):
    """The known curves moved by d, trimmed at the centre seam x = centre and at the shoulder's seam line."""
    neck = known[-1][3]
    pieces = corners([Piece(curve, d) for curve in known], d)
    pieces = cut(pieces, lambda p: p[0] - centre)
    inward = (-mp.sin(slope), mp.cos(slope))
    pieces = cut(
        reversed_pieces(pieces),
        lambda p: (p[0] - neck[0]) * inward[0] + (p[1] - neck[1]) * inward[1] - shoulder,
    )
    return reversed_pieces(pieces)


def figures(pieces):
    start, end = pieces[0].at(pieces[0].start), pieces[-1].at(pieces[-1].end)
    ends = [(p.direction(p.start), p.direction(p.end)) for p in pieces]
    at_corners = sum((turn(a[1], b[0]) for a, b in zip(ends, ends[1:])), mpf(0))
    return {
        "length_mm": sum(p.length() for p in pieces),
        "turning_deg": mp.degrees(at_corners + sum(p.turning() for p in pieces)),
        "half_width_mm": end[0] - start[0],
        "depth_mm": start[1] - end[1],
    }


def taken_off(half, brief, more=0):
    """What comes off the known line: neckline, centre, shoulder, mm; and the slope, radians. `more` lies below."""
    slope = mpf(half.get("shoulder_slope_deg", 20)) * mp.pi / 180
    if not draft.at_cut_edge(brief):
        return mpf(more), mpf(0), mpf(0), slope
    centre = half.get("centre", "fold")
    seam = 0 if centre == "fold" else centre["seam"]["allowance_mm"]
    allowance = mpf(brief["neckline"]["neckline_allowance_mm"]) + more
    return allowance, mpf(seam), mpf(half["shoulder_allowance_mm"]), slope


def half_figures(half, brief):
    """Length of the known line, and the seam line's figures; the seam line itself."""
    known = draft.curves(half, brief, Numbers, solve)
    seam = moved(known, *taken_off(half, brief))
    lengths = sum(Piece(curve, mpf(0)).length() for curve in known)
    return {"known_length_mm": lengths, **figures(seam)}, known
