"""Holds what was measured against the truth, with the peers beside it, and fails where a bar is missed:

    python table.py FOLDER

Bars, mm: half neckline by A4 .4 in the median and 1.0 at most, by a card 1.0 and 1.5; the range holds the truth in 19 of 20; what
is under 30 grey levels off its ground is refused.
"""

import json
import statistics
import sys
from pathlib import Path

folder = Path(sys.argv[1])
load = lambda name: {row["name"]: row for row in json.loads((folder / name).read_text())}
photos, results, peers = load("photos.json"), load("results.json"), load("peers.json")
failed = []


def line(name, errors, missing, ms):
    if errors:
        figures = f"{statistics.median(errors):8.2f} {max(errors):8.2f}"
    else:
        figures = f"{'-':>8} {'-':>8}"
    print(f"  {name:12} {figures} {missing:8d} {statistics.median(ms):8.0f}")


def bar(holds, words):
    print(f"  {'holds ' if holds else 'MISSED'} {words}")
    if not holds:
        failed.append(words)


for rectangle, (median, most) in {"a4": (0.4, 1.0), "card": (1.0, 1.5)}.items():
    names = [name for name in photos if name.startswith(rectangle) and name.count("-") == 1]
    truth = {name: photos[name]["length_mm"] for name in names}
    print(f"\n{rectangle}, {len(names)} photos, half neckline    median     most  missing  ms (middle)")
    ours = {name: results[name]["edge"] for name in names if "edge" in results[name]}
    errors = {name: abs(edge["length_mm"] - truth[name]) for name, edge in ours.items()}
    times = [sum(results[name]["ms"].values()) for name in names if "ms" in results[name]]
    line("lieflat", list(errors.values()), len(names) - len(ours), times)
    for peer in ("opencv", "skimage"):
        found = {name: peers[name][peer] for name in names}
        off = [abs(one["length_mm"] - truth[name]) for name, one in found.items() if one["length_mm"]]
        line(peer, off, len(names) - len(off), [one["ms"] for one in found.values()])
    held = sum(errors[name] <= ours[name]["uncertainty_mm"] for name in ours)
    ranges = [edge["uncertainty_mm"] for edge in ours.values()]
    bar(len(ours) == len(names), f"measured: {len(ours)} of {len(names)}")
    bar(bool(errors) and statistics.median(errors.values()) <= median, f"the median within {median} mm")
    bar(bool(errors) and max(errors.values()) <= most, f"the most within {most} mm")
    bar(held >= len(names) * 19 / 20, f"the range told (middle {statistics.median(ranges):.2f} mm) holds the truth: {held} of {len(names)}")
    for key in ("width_mm", "depth_mm"):
        off = [abs(edge[key] - photos[name][key]) for name, edge in ours.items()]
        print(f"         {key[:-3]}: {statistics.median(off):.2f} mm in the median, {max(off):.2f} at most")
    offered = [results[name]["found"] for name in names]
    print(f"         corners offered in {sum(one is not None for one in offered)}; ends that the person put right: "
          f"{sum(off > 0.6 for name in names for off in results[name].get('ends_off_mm', []))} of {2 * len(names)}")

faint = [name for name in photos if name.count("-") == 2]
print("\npaper little off its ground")
for levels in sorted({name.split("-")[2] for name in faint}, key=int):
    rows = [results[name] for name in faint if name.endswith(f"-{levels}")]
    refused = [row["refused"]["code"] for row in rows if "refused" in row]
    if int(levels) < 30:
        bar(len(refused) == len(rows), f"{levels} levels: {len(refused)} of {len(rows)} refused {sorted(set(refused))}")
    else:
        off = [abs(row["edge"]["length_mm"] - photos[row["name"]]["length_mm"]) for row in rows if "edge" in row]
        print(f"         {levels} levels: measured {len(off)} of {len(rows)}, at most {max(off, default=0):.2f} mm off")
sys.exit(1 if failed else 0)
