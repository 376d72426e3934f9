"""Writes the reference values: python make.py OUT, or python make.py OUT COMMITTED to compare the two as well."""

import json
import math
import platform
import sys
from importlib.metadata import version

from mpmath import mp

import cases
import draft
import exact
import quick

DIGITS = 22
PACKAGES = ["mpmath", "numpy", "scipy", "shapely"]
# Shapely offsets chords, and simplifies them by up to a hundredth of the distance where a line bends away.
SHAPELY_MM = 0.01
QUICK_MM = 1e-8


def half_values(name, half, brief):
    values, _ = exact.half_figures(half, brief)
    quick_line = quick.half_line(half, brief)
    for figure, value in quick_line.figures().items():
        assert abs(value - float(values[figure])) < QUICK_MM, f"{name}: {figure}: {value} and {values[figure]}"
    by_chords = quick.by_shapely(half, brief)
    off = abs(by_chords - float(values["length_mm"]))
    print(f"  shapely's chords: {off:.2e} mm off", file=sys.stderr)
    assert off < SHAPELY_MM, f"{name}: shapely has {by_chords}, mpmath {values['length_mm']}"
    if not draft.at_cut_edge(brief):
        # The brief tells the seam line itself: its length is all there is to know.
        del values["known_length_mm"]
    return {figure: mp.nstr(value, DIGITS) for figure, value in values.items()}


def case_values(name, brief):
    print(name, file=sys.stderr)
    halves = {which: half_values(name, brief["neckline"][which], brief) for which in ("front", "back")}
    relaxed, coarser = quick.relaxed_length(brief, places=800_000), quick.relaxed_length(brief, places=200_000)
    assert abs(relaxed - coarser) < 2e-3, f"{name}: the strip's integral has settled: {relaxed}, {coarser}"
    corners = math.degrees(quick.sewn_on(brief).corners)
    return {
        "name": name,
        "brief": brief,
        **halves,
        "relaxed_length_mm": f"{relaxed:.3f}",
        # Turning at corners of a half round, neck point and folds included; points left out.
        "corners_deg": f"{corners:.6f}",
    }


def differences(made, kept, place=""):
    """Where two documents differ: numbers in text by more than their last digits, all else at all."""
    if isinstance(made, dict) and isinstance(kept, dict) and made.keys() == kept.keys():
        return [d for key in made for d in differences(made[key], kept[key], f"{place}/{key}")]
    if isinstance(made, list) and isinstance(kept, list) and len(made) == len(kept):
        return [d for i, pair in enumerate(zip(made, kept)) for d in differences(*pair, f"{place}/{i}")]
    if place.endswith("relaxed_length_mm"):
        return [] if abs(float(made) - float(kept)) < 2e-3 else [f"{place}: {made}, committed {kept}"]
    if place.endswith("corners_deg"):
        return [] if abs(float(made) - float(kept)) < 2e-6 else [f"{place}: {made}, committed {kept}"]
    if place.endswith("path_mm"):
        return [] if made == kept else [f"{place}: {made}, committed {kept}"]
    if "_mm" in place or "_deg" in place:
        return [] if abs(mp.mpf(made) - mp.mpf(kept)) < 1e-18 else [f"{place}: {made}, committed {kept}"]
    return [] if made == kept or place.startswith("/made_with/Python") else [f"{place}: {made}, committed {kept}"]


def main(out, committed=None):
    made_with = {"Python": platform.python_version(), **{name: version(name) for name in PACKAGES}}
    document = {
        "about": "Reference values for tests/checks/reference.rs: lengths in mm and turnings in degrees by mpmath at "
        f"{mp.dps} digits, the strip's relaxed length by numpy. Written by tests/reference/make.sh; not by the core.",
        "made_with": made_with,
        "cases": [case_values(*case) for case in cases.CASES],
    }
    with open(out, "w", encoding="utf-8") as file:
        json.dump(document, file, indent=1)
        file.write("\n")
    if committed is not None:
        with open(committed, encoding="utf-8") as file:
            found = differences(document, json.load(file))
        print("\n".join(found) or f"{out} agrees with {committed}")
        sys.exit(1 if found else 0)


if __name__ == "__main__":
    main(*sys.argv[1:])
