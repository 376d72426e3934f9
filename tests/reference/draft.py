"""From a half of a brief to cubic Beziers, written from the drafting rules in core/REFERENCE.md and the comments of
core/src/outline.rs, not from its code. Works with floats and with mpmath's numbers: `num` makes one, `m` holds
sqrt, tan, cos and power.

A curve is four points (x, y), centre first, y down."""

import math

# The handle of a quarter circle, 4/3 (sqrt 2 - 1), as the core has it.
QUARTER_CIRCLE = "0.5522847498307934"
USUAL = {"round": QUARTER_CIRCLE, "scoop": "0.68", "boat": "0.6"}
MOST_SEGMENTS = 200


class Numbers:
    """Arithmetic in floats."""

    num = staticmethod(float)
    pi = math.pi
    sqrt, tan, cos, sin = math.sqrt, math.tan, math.cos, math.sin

    @staticmethod
    def power(x, y):
        return x**y


def at_cut_edge(brief):
    return brief["neckline"]["readings_at"] == "cut_edge"


def curves(half, brief, m=Numbers, solve=None):
    """The known line of a half. `solve(f, low, high)` finds where f is 0, for measured halves."""
    outline = half["outline"]
    if "drawn" in outline:
        return path(outline["drawn"]["path_mm"], m)
    slope = m.num(half.get("shoulder_slope_deg", 20)) * m.pi / 180
    allowance = m.num(half["shoulder_allowance_mm"]) if at_cut_edge(brief) else m.num(0)
    if "drafted" in outline:
        told = outline["drafted"]
        return drafted(m.num(told["half_width_mm"]), m.num(told["depth_mm"]), told["shape"], slope, allowance, m)
    told = outline["measured"]
    return measured(told, slope, allowance, m, solve)


def measured(told, slope, allowance, m, solve):
    """The draft that has the length that was read: `solve(make, length, low, high)` gives make(x) of that length."""
    target = m.num(told["half_length_mm"])
    shape = told["shape"]
    width, depth = told.get("half_width_mm"), told.get("depth_mm")
    if width is not None and depth is not None:
        w, d = m.num(width), m.num(depth)
        return solve(lambda x: drafted(w, d, filled(shape, x, min(w, d)), slope, allowance, m), target, "0.05", "0.95")
    if width is not None:
        w = m.num(width)
        return solve(lambda d: drafted(w, d, shape, slope, allowance, m), target, "0.5", target)
    d = m.num(depth)
    return solve(lambda w: drafted(w, d, shape, slope, allowance, m), target, "1", target)


def filled(shape, x, least_side):
    """A shape at another fullness x, 0 to 1: what length, width and depth decide together."""
    kind = shape["kind"]
    if kind == "square":
        return {"kind": kind, "corner_radius_mm": (1 - x) * least_side}
    if kind == "v":
        return {"kind": kind, "leg_hollow_percent": 9 * x}
    return {"kind": kind, "roundness_percent": 100 * x}


def drafted(w, d, shape, slope, allowance, m=Numbers):
    """Neck point (w, 0), centre (0, d)."""
    zero = m.num(0)
    centre, neck = (zero, d), (w, zero)
    kind = shape["kind"]
    if kind in USUAL:
        given = shape.get("roundness_percent")
        rho = m.num(USUAL[kind]) if given is None else m.num(given) / 100
    if kind in ("round", "scoop"):
        # The end runs square to the shoulder through its allowance, as far as width and depth allow.
        tilt = min(m.tan(slope), w / (2 * d))
        run = min(allowance, 2 * d / 5) * m.cos(slope)
        seam = (w - run * tilt, run)
        curve = toward_corner(centre, (w - d * tilt, d), seam, rho, m)
        return [curve, straight(seam, neck)] if run > 0 else [curve]
    if kind == "boat":
        return [toward_corner(centre, (w / 2, d), neck, rho, m)]
    if kind == "v":
        # A cubic's middle moves by 3/4 of its handles' shift.
        hollow = m.num(shape.get("leg_hollow_percent") or 0) / 100 * 4 / 3
        cx, cy = neck[0] - centre[0], neck[1] - centre[1]
        sx, sy = -cy * hollow, cx * hollow
        return [(centre, (cx / 3 + sx, d + cy / 3 + sy), (2 * cx / 3 + sx, d + 2 * cy / 3 + sy), neck)]
    r = m.num(shape.get("corner_radius_mm") or 0)
    r = min(r, w * m.num("0.95"), d * m.num("0.95"))
    if r <= 0:
        return [straight(centre, (w, d)), straight((w, d), neck)]
    k = m.num(QUARTER_CIRCLE) * r
    a, b = (w - r, d), (w, d - r)
    return [straight(centre, a), (a, (a[0] + k, d), (w, b[1] + k), b), straight(b, neck)]


def toward_corner(start, corner, end, rho, m):
    """Handles on the way to the corner; where one way is longer they reach further, by the powers 0.42 and 1 of the
    ratio of the ways."""
    p, q = distance(start, corner, m), distance(end, corner, m)
    aspect = min(p, q) / max(p, q)
    far, near = 1 - (1 - rho) * m.power(aspect, m.num("0.42")), 1 - (1 - rho) * aspect
    at_start, at_end = (far, near) if p >= q else (near, far)
    return (start, between(start, corner, at_start), between(end, corner, at_end), end)


def distance(a, b, m):
    return m.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2)


def between(a, b, share):
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def meeting(p, u, q, v):
    """Where the line through p along u meets the one through q along v."""
    share = ((q[0] - p[0]) * v[1] - (q[1] - p[1]) * v[0]) / (u[0] * v[1] - u[1] * v[0])
    return (p[0] + share * u[0], p[1] + share * u[1])


def straight(a, b):
    return (a, between(a, b, 1 / (a[0] * 0 + 3)), between(a, b, 2 / (a[0] * 0 + 3)), b)


def path(text, m=Numbers):
    """Absolute M, L, C and Q, numbers apart from one another; turned so that the centre comes first."""
    words = text.replace(",", " ").split()
    found, at, take = [], None, []
    command = None
    for word in [*words, "end"]:
        if not word.isalpha():
            take.append(m.num(word))
            continue
        if command is not None:
            numbers = list(zip(take[::2], take[1::2]))
            each = {"M": 1, "L": 1, "Q": 2, "C": 3}[command]
            for i in range(0, len(numbers), each):
                run = numbers[i : i + each]
                if command == "L":
                    found.append(straight(at, run[0]))
                elif command == "C":
                    found.append((at, *run))
                elif command == "Q":
                    third = m.num(2) / 3
                    found.append((at, between(at, run[0], third), between(run[1], run[0], third), run[1]))
                at = run[-1]
        command, take = word, []
    if abs(found[0][0][0]) > abs(found[-1][3][0]):
        found = [tuple(reversed(curve)) for curve in reversed(found)]
    return found
