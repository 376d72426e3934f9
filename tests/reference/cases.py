"""The outlines of the reference values: invented, each for what its name says."""

import copy
import math

KNIT = {"crosswise": {"percent": {"stretch_percent": 60, "recovery_percent": 92}}, "thickness_mm": 0.8}
BASE = {
    "schema": "lieflat.brief",
    "version": 1,
    "neckline": {"readings_at": "cut_edge", "neckline_allowance_mm": 10},
    "garment_knit": KNIT,
    "head": {"girth": {"own_mm": 560}},
}
BAND, TAPE, BOUND = {"band": {"width_mm": 14}}, {"tape": {"width_mm": 12}}, {"bound": {"width_mm": 8}}


def half(outline, shoulder=10, slope=20, seam=None):
    told = {"outline": outline, "shoulder_allowance_mm": shoulder, "shoulder_slope_deg": slope}
    return told if seam is None else {**told, "centre": {"seam": {"allowance_mm": seam}}}


def drafted(width, depth, kind, **more):
    return {"drafted": {"half_width_mm": width, "depth_mm": depth, "shape": {"kind": kind, **more}}}


def measured(length, kind, width=None, depth=None):
    told = {"half_length_mm": length, "shape": {"kind": kind}}
    told |= {} if width is None else {"half_width_mm": width}
    told |= {} if depth is None else {"depth_mm": depth}
    return {"measured": told}


def drawn(path):
    return {"drawn": {"path_mm": path}}


def ellipse(a, b, parts):
    """A quarter of an ellipse in cubics by angle, centre first."""
    step = math.pi / 2 / parts
    handle = 4 / 3 * math.tan(step / 4)
    words = [f"M 0 {b}"]
    for i in range(parts):
        u, v = i * step, (i + 1) * step
        x0, y0, x3, y3 = a * math.sin(u), b * math.cos(u), a * math.sin(v), b * math.cos(v)
        x1, y1 = x0 + handle * a * math.cos(u), y0 - handle * b * math.sin(u)
        x2, y2 = x3 - handle * a * math.cos(v), y3 + handle * b * math.sin(v)
        words.append("C " + " ".join(f"{n:.9f}" for n in (x1, y1, x2, y2, x3, y3)))
    return " ".join(words)


def chords(a, b, parts):
    """The same in straight lines: a corner at each joint."""
    at = [(a * math.sin(i * math.pi / 2 / parts), b * math.cos(i * math.pi / 2 / parts)) for i in range(parts + 1)]
    return "M " + " L ".join(f"{x:.6f} {y:.6f}" for x, y in at)


SWEETHEART = "M 0 70 C 14 96 44 104 62 84 C 84 58 90 30 92 0"
KEYHOLE = "M 0 170 C 22 170 30 150 24 132 C 19 117 16 104 28 88 C 44 68 92 60 92 0"
S_CURVE = "M 0 110 C 40 110 44 84 62 66 C 78 50 104 44 104 0"
# Bends away from the opening by a radius a little over 11 mm at its tightest: an allowance of 10.5 mm nearly folds it.
NEAR_LIMIT = "M 0 120 C 36 120 45 110 51 92 C 56 77 60 70 74 70 C 90 70 96 40 96 0"
FLIPPED = "M 96 0 C 96 40 90 70 74 70 C 60 70 56 77 51 92 C 45 110 36 120 0 120"
GENERAL = "M 0 200 C 0 120 40 80 100 70 C 120 66 140 60 150 40 C 160 25 170 12 180 0 C 190 -8 200 -10 210 -10"


def brief(front, back, finish=BAND, allowance=10, at="cut_edge"):
    told = copy.deepcopy(BASE)
    told["neckline"] |= {"readings_at": at, "neckline_allowance_mm": allowance, "front": front, "back": back}
    return {**told, "finish": finish}


# Name and brief.
CASES = [
    ("round quarter, level shoulders",
     brief(half(drafted(90, 90, "round"), 0, 0), half(drafted(90, 25, "round"), 0, 0))),
    ("round, sloped shoulders and allowances",
     brief(half(drafted(88, 105, "round")), half(drafted(88, 30, "round"), 15, 24, seam=12), TAPE)),
    ("scoops, full and flat",
     brief(half(drafted(95, 150, "scoop", roundness_percent=85)),
           half(drafted(95, 60, "scoop", roundness_percent=30)), BOUND)),
    ("V, straight legs and a centre seam",
     brief(half(drafted(85, 190, "v"), seam=10), half(drafted(85, 35, "round")), TAPE)),
    ("V, hollow before and full behind",
     brief(half(drafted(90, 160, "v", leg_hollow_percent=6)), half(drafted(90, 60, "v", leg_hollow_percent=-6)))),
    ("square, sharp, with seams",
     brief(half(drafted(90, 110, "square"), 10, 0, seam=10), half(drafted(90, 60, "square"), 12, 20))),
    ("square, rounded",
     brief(half(drafted(90, 110, "square", corner_radius_mm=25)),
           half(drafted(90, 70, "square", corner_radius_mm=60)), BOUND)),
    ("boats",
     brief(half(drafted(130, 60, "boat")), half(drafted(130, 30, "boat", roundness_percent=80), seam=10))),
    ("sweetheart that curves the other way at the centre",
     brief(half(drawn(SWEETHEART)), half(drafted(92, 30, "round")), allowance=7)),
    ("keyhole edge", brief(half(drawn(KEYHOLE)), half(drafted(92, 40, "round")), allowance=6)),
    ("many segments", brief(half(drawn(ellipse(92, 130, 24))), half(drawn(ellipse(92, 34, 12))), TAPE)),
    ("many corners", brief(half(drawn(chords(92, 130, 20))), half(drawn(chords(92, 40, 12))))),
    ("quadratics",
     brief(half(drawn("M 0 110 Q 60 110 82 64 Q 98 30 96 0")), half(drawn("M 0 40 Q 70 40 96 0")))),
    ("S-curve, and the same from the other end",
     brief(half(drawn(S_CURVE)), half(drawn("M 104 0 C 104 44 78 50 62 66 C 44 84 40 110 0 110")), allowance=8)),
    ("a bend away, near the limit",
     brief(half(drawn(NEAR_LIMIT)), half(drawn(FLIPPED)), allowance=10.5)),
    ("a step with an inner corner",
     brief(half(drawn("M 0 100 L 50 100 L 50 60 L 90 60 L 90 0")), half(drafted(90, 40, "round")), allowance=6)),
    ("curves that meet in an inner corner",
     brief(half(drawn("M 0 120 C 30 120 52 112 60 88 C 76 84 92 60 92 0")), half(drafted(92, 34, "round")), allowance=5)),
    ("a handle of no length",
     brief(half(drawn("M 0 100 C 0 100 33.333333 100 100 0")), half(drafted(100, 30, "round")), allowance=8)),
    ("measured: length and depth, length and width",
     brief(half(measured(154, "round", depth=115)), half(measured(108, "round", width=88)))),
    ("measured: length, width and depth",
     brief(half(measured(170, "scoop", width=92, depth=130)), half(measured(101, "boat", width=92, depth=36)), TAPE)),
    ("read at the seam line",
     brief(half(drafted(95, 120, "scoop")), half(drafted(95, 35, "round")), at="seam_line")),
    ("general outline of the peers' table",
     brief(half(drawn(GENERAL), 0, 0), half(drafted(210, 60, "round"), 0, 0), at="seam_line")),
]
