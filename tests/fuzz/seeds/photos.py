"""Writes the photo target's seeds into tests/fuzz/seeds/photos: invented sheets and pieces, told as targets/photo.rs reads them."""

import struct
from pathlib import Path

folder = Path(__file__).parent / "photos"
WIDTH = 800


def seed(height, kind, corners, size, ends, down, via, patches):
    def number(value, most):
        if kind & 4:
            return struct.pack("<d", value)
        return struct.pack("<H", max(0, min(65535, round(value / max(most, 1) * 65535))))

    places = lambda points: b"".join(number(x, WIDTH - 1) + number(y, height - 1) for x, y in points)
    out = bytes([height - 1, kind]) + places(corners) + b"".join(number(side, 400) for side in size) + places([*ends, down, *via])
    for left, right, top, bottom, level, slant in patches:
        out += bytes([left * 256 // WIDTH, right * 256 // WIDTH, min(255, top * 256 // height), min(255, bottom * 256 // height), level, slant])
    return out


sheet, piece = (80, 260, 20, 140, 230, 0), (400, 600, 20, 150, 190, 64)
corners = [(81, 20), (259, 20), (259, 139), (81, 139)]
left, right = [(400, 22), (450, 120)], [(600, 22), (640, 120)]
nonsense = [(float("nan"), 1), (1e300, 2), (-1, 3), (4, float("inf"))]
folder.mkdir(exist_ok=True)
for name, made in {
    "sheet-and-piece": seed(160, 2, corners, (210, 140), left, (455, 150), [], [sheet, piece]),
    "offered": seed(160, 0, corners, (210, 140), right, (600, 150), [], [sheet, piece]),
    "line-through": seed(160, 0x43, corners, (210, 140), right, (600, 150), [(620, 60)], [sheet, piece, (500, 504, 10, 150, 60, 64)]),
    "any-numbers": seed(160, 6, nonsense, (float("nan"), -5), [(1, 1), (2, 2)], (3, 3), [], [sheet, piece]),
    "numbers": seed(160, 6, corners, (210.0, 140.0), left, (455, 150), [], [sheet, piece]),
    "flat": seed(1, 2, corners, (210, 140), [(400, 0), (450, 0)], (455, 0), [], []),
}.items():
    (folder / name).write_bytes(made)
