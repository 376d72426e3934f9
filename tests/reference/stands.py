"""What a strip does off the plane, ripple or stand up, by a shell in three dimensions beside what a plan says of it.

First the shell is held to figures that another shell gave, by another hand; then plans are held to it: of rings and ovals whose
seam line and ratio are told, and of whole necklines."""

import argparse
import dataclasses
import json
import math
import pathlib
import subprocess
import sys
import tempfile
import time

import numpy as np

from sewn import half_round
from shell_model import MIRRORED, SIZE, TURNED, Cloth, Rest, Shell
from strip_model import Sewn

HERE = pathlib.Path(__file__).parent
# A plan's crest is to be within this share of the shell's, its lean within so many degrees.
CREST_SHARE, LEAN_DEGREES = 0.35, 10.0
# A free edge that rises less is flat to the eye: crest to trough 1 mm. mm
SEEN = 0.5
# A piece of free edge that rises to one side stands; where one within so many widths rises to the other side alike, half as far
# to twice as far, it ripples. Half a wave is up to 2 widths long. What dips beside a lobe, less than half as far, is the lobe's.
SECOND, WITHIN = 0.5, 3.0
# Quarter of a circle as one cubic: its handles.
HANDLE = 0.552_284_749_830_793_5
THICKNESS = 0.8
# Where leans are told: shares of the half round from centre back, where an oval has its sharp end.
SHARES = (0.0, 0.125, 0.25, 0.375, 0.5, 0.75, 1.0)


# ---- where a strip comes to rest


def bend(sewn: Sewn, s) -> np.ndarray:
    """The line's bend at places of it, over three widths, 1/mm."""
    wide = 1.5 * sewn.width
    begin, end = np.maximum(s - wide, sewn.s[0]), np.minimum(s + wide, sewn.s[-1])
    return (np.interp(end, sewn.s, sewn.angle) - np.interp(begin, sewn.s, sewn.angle)) / (end - begin)


def is_ring(sewn: Sewn) -> bool:
    """Whether the line bends alike all along."""
    bends = bend(sewn, np.linspace(sewn.s[0], sewn.s[-1], 100))
    return np.ptp(bends) < 0.2 * bends.mean()


def waves(sewn: Sewn, halves: int):
    """A guess of so many half waves."""
    return lambda s: 0.3 * np.cos(math.pi * halves * s / sewn.s[-1])


def starts(sewn: Sewn):
    """Guesses of the lean, radians at places of the line: waves of several lengths, a cone, lobes where it bends, noise."""
    length = sewn.s[-1]
    for widths in (1.7, 2.1, 2.6, 3.2, 3.9, 4.8):
        yield f"waves {widths:g} w", MIRRORED, waves(sewn, max(1, round(2 * length / (widths * sewn.width))))
    yield "cone", MIRRORED, lambda s: np.full_like(s, 0.8)
    if not is_ring(sewn):
        sharpest = bend(sewn, np.linspace(0, length, 400)).max()
        yield "lobes", MIRRORED, lambda s: 1.1 * np.clip(bend(sewn, s) / sharpest, 0, 1) ** 4
        wavy = lambda s: np.sin(math.pi * s / length) * np.cos(3 * math.pi * s / length)  # noqa: E731
        yield "lobes to both sides", TURNED, lambda s: 0.8 * wavy(s)
    draws = np.random.default_rng(1).normal(size=24)
    yield "noise", MIRRORED, lambda s: 0.1 * sum(a * np.cos(math.pi * n * s / length) for n, a in enumerate(draws))


def lowest(sewn: Sewn, cloth: Cloth, **mesh) -> tuple[Rest, int]:
    """The stable rest of least energy among all starts, and how many starts found one."""
    shells = {ends: Shell(sewn, cloth, (ends, ends), **mesh) for ends in (MIRRORED, TURNED)}
    found = [shells[ends].rest(name, lean) for name, ends, lean in starts(sewn)]
    found = [rest for rest in found if rest]
    if not found:
        raise ArithmeticError("no start finds a stable rest")
    tried = set()
    while is_ring(sewn):
        # Round a ring waves of other numbers lie close by: from the best on, one more and one fewer, until neither is lower.
        best = min(found, key=lambda rest: rest.energy)
        halves = int((np.diff(np.sign(best.height)) != 0).sum())
        near = {halves - 1, halves + 1} - tried
        if np.abs(best.height).max() < SEEN or halves < 2 or not near:
            break
        tried |= near
        rests = [shells[MIRRORED].rest(f"{n} half waves", waves(sewn, n)) for n in near]
        found += [rest for rest in rests if rest]
    return min(found, key=lambda rest: rest.energy), len(found)


@dataclasses.dataclass(frozen=True)
class Lies:
    """How a part of a strip lies: 'flat', 'ripples' or 'stands'; how high its free edge rises, mm; its lean, degrees."""

    regime: str
    rise: float
    lean: float

    def __str__(self):
        told = {"flat": "", "ripples": f"{self.rise:.1f} mm", "stands": f"{self.lean:.0f} deg"}[self.regime]
        return f"{self.regime} {told}".strip()

    def agrees(self, other: "Lies") -> bool:
        """Same regime and near figures. Where one is flat and the other stands, its lean is to be small; where one is flat and
        the other ripples, it must not be seen."""
        if self.regime == other.regime == "ripples":
            return abs(self.rise / other.rise - 1) <= CREST_SHARE
        if "ripples" in (self.regime, other.regime):
            return False
        return abs(self.lean - other.lean) <= LEAN_DEGREES


def lies(rest: Rest, width: float, begin: float, end: float) -> Lies:
    """How the strip lies between two places of the line, mm, where it rises most there."""
    inside = np.flatnonzero((rest.place >= begin - 1e-6) & (rest.place <= end + 1e-6))
    worst = inside[np.abs(rest.height[inside]).argmax()]
    rise, lean = abs(rest.height[worst]), np.abs(rest.lean[inside]).max()
    if rise < SEEN:
        return Lies("flat", rise, 0.0)
    # Pieces of the free edge on one side of the plane, and the place where each rises most.
    piece = np.concatenate([[0], np.cumsum(np.diff(np.sign(rest.height)) != 0)])
    peaks = [np.argmax(np.where(piece == i, np.abs(rest.height), 0)) for i in range(piece[-1] + 1)]
    own = peaks[piece[worst]]
    near = [peak for peak in peaks if peak != own and abs(rest.place[peak] - rest.place[own]) < WITHIN * width]
    ripples = any(SECOND < -rest.height[peak] / rest.height[own] < 1 / SECOND for peak in near)
    return Lies("ripples", rise, 0.0) if ripples else Lies("stands", rise, lean)


# ---- the shell against figures worked out before, by another shell


def ring_or_oval(along: float, across: float, width: float, ratio: float) -> Sewn:
    """Half of an ellipse from one end of its longer axis to the other, the strip spread evenly. Half axes, mm."""
    t = np.linspace(0, math.pi, 4001)
    s = np.concatenate([[0], np.cumsum(np.hypot(np.diff(along * np.cos(t)), np.diff(across * np.sin(t))))])
    angle = np.unwrap(np.arctan2(along * np.sin(t), across * np.cos(t)))
    even = np.linspace(0, s[-1], 361)
    marks = np.array([0.0, s[-1]])
    return Sewn(even, np.interp(even, s, angle), ratio * marks, marks, width, math.pi)


# Rings of 75 mm, t 0.8 mm: width, ratio, regime, and its crest, mm, or lean, degrees, by a thin shell of cubic splines on the
# whole ring, stability by its Hessian. Ovals of 75 by 45 mm: leans at 0, 1/16 and 1/8 of the round from the sharp end, degrees.
RINGS = [
    (15, 0.851, "ripples", 2.4),
    (15, 0.889, "ripples", 4.9),
    (20, 0.756, "flat", 0.0),
    (20, 0.815, "ripples", 5.0),
    (30, 0.638, "ripples", 2.4),
    (10, 0.963, "stands", 67.0),
]
OVALS = [(20, 0.746, (45, 15, 0)), (15, 0.838, (56, 22, -3)), (10, 0.929, (75, 45, -9))]


def figures(told) -> int:
    """The shell beside those figures; how many are off by more than the tolerances that the core is held to."""
    failed = derivatives()
    print("The shell beside another one")
    for width, ratio, regime, figure in RINGS:
        rest, _ = lowest(ring_or_oval(75, 75, width, ratio), told.cloth, **told.mesh)
        got, theirs = lies(rest, width, 0, math.pi * 75), Lies(regime, figure, figure if regime == "stands" else 0.0)
        off = not got.agrees(theirs)
        failed += off
        print(f"  ring, w {width}, r {ratio}: {got}; theirs {theirs}{'  OFF' if off else ''}  ({rest.start})", flush=True)
    for width, ratio, theirs in OVALS:
        rest, _ = lowest(ring_or_oval(75, 45, width, ratio), told.cloth, **told.mesh)
        got = leans(rest)[:3]
        off = np.abs(got - theirs).max() > LEAN_DEGREES
        failed += off
        shown = ", ".join(f"{lean:.0f}" for lean in got)
        print(f"  oval, w {width}, r {ratio}: {shown} deg; theirs {theirs}{'  OFF' if off else ''}  ({rest.start})", flush=True)
    return failed


def leans(rest: Rest) -> np.ndarray:
    """Lean at SHARES of the half round, degrees; over 0 on the side to which the start leans."""
    return math.copysign(1, rest.height[0]) * np.interp(np.array(SHARES) * rest.place[-1], rest.place, rest.lean)


def derivatives() -> int:
    """1 where the shell's closed derivatives are not those of its energy, by central differences along a chance direction."""
    draw = np.random.default_rng(2)
    shell = Shell(ring_or_oval(75, 45, 15, 0.838), Cloth(THICKNESS, 0.3), (MIRRORED, TURNED))
    q = shell.guess(lambda s: 0.3 * np.cos(s / 20))
    q, way, small = q + 0.05 * draw.normal(size=q.size), draw.normal(size=q.size), 1e-5
    (pull, band), ahead, behind = (shell.forces(q + step * way) for step in (0, small, -small))
    slope = (shell.energy(q + small * way) - shell.energy(q - small * way)) / (2 * small)
    bent = way @ (ahead[0] - behind[0]) / (2 * small)
    below = sum(band[k, : q.size - k] @ (way[k:] * way[: q.size - k]) for k in range(1, len(band)))
    off = abs(slope / (pull @ way) - 1), abs(bent / (band[0] @ way**2 + 2 * below) - 1)
    print(f"Derivatives of the energy, first and second: off by shares of {off[0]:.0e} and {off[1]:.0e} from differences")
    return int(max(off) > 1e-6)


# ---- plans beside the shell

# Invented, as all of these: half axes back to front and across, width, mm; ratio; thickness of a layer 0.8 mm.
INVENTED = [
    (60, 60, 12, 0.870),
    (100, 100, 25, 0.806),
    (100, 100, 10, 0.970),
    (80, 62, 14, 0.860),
    (90, 50, 10, 0.900),
    (70, 50, 12, 0.840),
]
GARMENTS = [
    "03-crew-girl-rib-band",
    "29-scoop-women-sweater-band",
    "32-boat-women-inches-sweater-band",
    "33-boat-women-rib-band",
]


def invented(along: float, across: float, width: float, ratio: float) -> dict:
    """The brief of an invented neckline: an ellipse laid flat, seam line and ratio as told."""
    path = f"M 0 {along} C {HANDLE * across} {along} {across} {HANDLE * along} {across} 0"
    half = {"outline": {"drawn": {"path_mm": path}}, "shoulder_allowance_mm": 0, "shoulder_slope_deg": 0}
    rib = {"percent": {"stretch_percent": 100, "recovery_percent": 95}}
    knit = {"name": "Invented rib", "kind": "rib", "crosswise": rib, "thickness_mm": THICKNESS}
    return {
        "schema": "lieflat.brief",
        "version": 1,
        "title": f"Invented: a neckline of {along} by {across} mm",
        "neckline": {"readings_at": "seam_line", "neckline_allowance_mm": 7, "front": half, "back": half},
        "garment_knit": knit,
        "strip_knit": knit,
        "finish": {"band": {"width_mm": width, "ratio_percent": 100 * ratio}},
        "head": {"girth": {"own_mm": 560}},
    }


@dataclasses.dataclass(frozen=True)
class Plan:
    """What is read of a plan; nothing else of it is looked at."""

    on_strip: np.ndarray
    on_line: np.ndarray
    # Where the back half ends, mm from centre back.
    neck_point: float
    nu: float
    # Width as cut, mm, by which it is as wide as asked once sewn.
    at_rest: float
    # How it lies in front, at the neck points and at the back, and whether the plan trusts that.
    parts: dict[str, tuple[Lies, bool]]


def read(program: str, brief: dict) -> Plan:
    """The only place where a plan's JSON is read."""
    with tempfile.NamedTemporaryFile("w", suffix=".json") as file:
        json.dump(brief, file)
        file.flush()
        run = subprocess.run([program, file.name], capture_output=True, text=True)
    if run.returncode:
        raise ValueError(f"{brief['title']} is refused: {run.stdout[:300]}{run.stderr[:300]}")
    strip = json.loads(run.stdout)["strip"]
    marks = strip["marks"]
    return Plan(
        np.array([mark["on_strip_mm"] for mark in marks]),
        np.array([mark["on_seam_line_mm"] for mark in marks]),
        next(mark["on_seam_line_mm"] for mark in marks if mark["place"] == "neck_point"),
        strip["narrowing"]["poisson_ratio"],
        strip["narrowing"]["width_at_rest_mm"],
        {part["part"]: (told_of(part), part["trusted"]) for part in strip["parts"]},
    )


def told_of(part: dict) -> Lies:
    """How a part lies as a plan tells it: it leans where it stands up, and only there."""
    rise, lean = part["stands_off_mm"], part.get("leans_deg")
    if lean is not None:
        return Lies("stands", rise, lean)
    return Lies("ripples", rise, 0.0) if rise > 0 else Lies("flat", 0.0, 0.0)


def bounds(plan: Plan) -> dict[str, tuple[float, float]]:
    """Where the parts begin and end, mm from centre back: a third of each half counts to the neck points."""
    neck, length = plan.neck_point, plan.on_line[-1]
    back, front = 2 / 3 * neck, neck + (length - neck) / 3
    return {"back": (0.0, back), "neck_points": (back, front), "front": (front, length)}


def beside(told, brief: dict, counts: dict[bool, list[bool]]) -> None:
    """Shows one plan beside the shell, part by part; adds which parts agree to `counts`, by whether the plan trusts them."""
    began = time.monotonic()
    plan = read(told.program, brief)
    thickness = brief.get("strip_knit", brief["garment_knit"]).get("thickness_mm", THICKNESS)
    nu = plan.nu if told.nu is None else told.nu
    rest, found = lowest(half_round(brief, plan.on_strip, plan.on_line, plan.at_rest), Cloth(thickness, nu), **told.mesh)
    ((kind, finish),) = brief["finish"].items()
    width = finish["width_mm"]
    print(f"{brief['title']}: {kind} {width:g} mm, nu {nu:g} ({time.monotonic() - began:.0f} s)")
    for part, (begin, end) in bounds(plan).items():
        got, (planned, trusted) = lies(rest, width, begin, end), plan.parts[part]
        agrees = planned.agrees(got)
        counts[trusted].append(agrees)
        notes = f"{'' if agrees else 'DISAGREES'}{'' if trusted else ' (the plan does not trust it)'}"
        print(f"  {part:11}  shell {got!s:16} {got.rise:4.1f} mm   plan {planned!s:16} {planned.rise:4.1f} mm  {notes}")
    by_place = ", ".join(f"{lean:.0f}" for lean in leans(rest))
    print(f"  the shell leans {by_place} degrees; from {rest.start}, the lowest of {found} rests", flush=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("program", help="prints the plan of a brief's file")
    parser.add_argument("briefs", nargs="*", type=pathlib.Path, help="instead of all that is here")
    parser.add_argument("--nu", type=float, help="Poisson's ratio, instead of the plan's own")
    parser.add_argument("--size", type=float, default=SIZE, help="of an element, mm")
    parser.add_argument("--only", choices=("figures", "invented", "garments"), help="one of the three parts")
    told = parser.parse_intermixed_args()
    told.mesh, told.cloth = {"size": told.size}, Cloth(THICKNESS, told.nu or 0.0)
    part = "garments" if told.briefs else told.only
    failed = figures(told) if part in (None, "figures") else 0
    briefs = [invented(*one) for one in INVENTED] if part in (None, "invented") else []
    files = told.briefs or [HERE / "../garments" / f"{name}.json" for name in GARMENTS if part in (None, "garments")]
    briefs += [json.loads(path.read_text()) for path in files]
    if briefs:
        shares = ", ".join(f"{share:g}" for share in SHARES)
        print(f"\nPlans beside the shell: how a part lies and how high it rises; leans at {shares} of the half round")
    counts = {True: [], False: []}
    for brief in briefs:
        beside(told, brief, counts)
    for trusted, agree in counts.items():
        print(f"Parts that {'the plan trusts' if trusted else 'it does not trust'}: {sum(agree)} of {len(agree)} agree.")
    sys.exit(1 if failed or not all(counts[True]) else 0)


if __name__ == "__main__":
    main()
