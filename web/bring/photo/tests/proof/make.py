"""Makes photos of an invented piece beside a known rectangle, with their truth, into a folder:

    python make.py FOLDER [FIRST LAST]

A pinhole camera with a lens that bends, tilted to 30 degrees, over a grained ground; a piece with a quarter of an ellipse, of a circle,
a straight or a hollowed line as its half neckline; a seam line and a grain line printed on it. Each photo is darkened
to one side and to its corners, blurred, grained and packed as JPEG. Lengths are closed forms, worked out by mpmath. Nothing here
knows of how photos are measured.
"""

import json
import sys
from pathlib import Path

import cv2
import mpmath
import numpy as np

SIZES = {"a4": (210.0, 297.0, 0.0), "card": (85.60, 53.98, 0.76)}


class Camera:
    """A pinhole with one term of radial distortion (Brown 1966); the plane z = 0 is the table, z up."""

    def __init__(self, width, height, focal, bend, tilt, toward, roll, target, distance):
        self.width, self.height, self.focal, self.bend = width, height, focal, bend
        view = -np.array([np.sin(tilt) * np.cos(toward), np.sin(tilt) * np.sin(toward), np.cos(tilt)])
        right = np.cross(view, [0.0, 1.0, 0.1])
        right /= np.linalg.norm(right)
        down = np.cross(view, right)
        # The piece is drawn with y down, as in the photo: the table is seen from above, so its y is turned round.
        c, s = np.cos(roll), np.sin(roll)
        self.axes = np.array([c * right + s * down, -s * right + c * down, view])
        self.place = np.array([target[0], -target[1], 0.0]) - view * distance

    def project(self, points, above=0.0):
        points = np.atleast_2d(points).astype(float)
        world = np.column_stack([points[:, 0], -points[:, 1], np.full(len(points), above)])
        seen = (world - self.place) @ self.axes.T
        x, y = seen[:, 0] / seen[:, 2], seen[:, 1] / seen[:, 2]
        factor = 1 + self.bend * (x * x + y * y)
        middle = ((self.width - 1) / 2, (self.height - 1) / 2)
        return np.column_stack([x * factor * self.focal + middle[0], y * factor * self.focal + middle[1]])

    def rays(self):
        column, row = np.meshgrid(np.arange(self.width), np.arange(self.height))
        x = (column - (self.width - 1) / 2) / self.focal
        y = (row - (self.height - 1) / 2) / self.focal
        bent = (x, y)
        for _ in range(8):
            factor = 1 + self.bend * (x * x + y * y)
            x, y = bent[0] / factor, bent[1] / factor
        return self.axes[0] * x[..., None] + self.axes[1] * y[..., None] + self.axes[2]

    def on_table(self, rays, above=0.0):
        far = (above - self.place[2]) / rays[..., 2]
        return self.place[0] + rays[..., 0] * far, -(self.place[1] + rays[..., 1] * far)


def neckline(kind, wide, deep, hollow):
    """What is inside of the opening, mm (positive: in the cloth, away from the edge), the length, and points of the edge."""
    if kind in ("ellipse", "circle"):
        deep = wide if kind == "circle" else deep
        long, short = max(wide, deep), min(wide, deep)
        length = mpmath.mpf(long) * mpmath.ellipe(1 - mpmath.mpf(short) ** 2 / mpmath.mpf(long) ** 2)

        def away(x, y):
            u, v = x / wide, np.maximum(y, 0) / deep
            level = np.hypot(u, v)
            steep = np.hypot(u / wide, v / deep) / np.maximum(level, 1e-9)
            return np.where(y >= 0, (level - 1) / np.maximum(steep, 1e-9), y)

        turn = np.linspace(0, np.pi / 2, 200)
        return away, float(length), deep, np.column_stack([wide * np.cos(turn), deep * np.sin(turn)])
    # A parabola's arc from neck (wide, 0) to centre (0, deep), its handle beside the middle of the chord.
    chord = np.array([-wide, deep])
    out = np.array([deep, wide]) / np.hypot(wide, deep)
    handle = np.array([wide, 0.0]) + chord / 2 - out * 2 * hollow
    first, last = np.array([wide, 0.0]), np.array([0.0, deep])
    a, b = first - 2 * handle + last, 2 * (handle - first)
    speed = lambda t: mpmath.hypot(2 * a[0] * t + b[0], 2 * a[1] * t + b[1])
    length = mpmath.quad(speed, [0, 0.5, 1])
    t = np.linspace(0, 1, 801)[:, None]
    edge = first * (1 - t) ** 2 + 2 * handle * t * (1 - t) + last * t * t

    def away(x, y):
        # Along the chord and out from it: the parabola is a graph there.
        d = chord / np.hypot(*chord)
        along, beside = (x - wide) * d[0] + y * d[1], (x - wide) * out[0] + y * out[1]
        of_edge = (edge - first) @ np.column_stack([d, out])
        middle = np.interp(along, of_edge[:, 0], of_edge[:, 1])
        slope = np.interp(along, of_edge[:, 0], np.gradient(of_edge[:, 1], of_edge[:, 0]))
        return (beside - middle) / np.hypot(1, slope)

    return away, float(length), deep, edge


def make(folder, seed, rectangle, contrast=None, longest=2000, tilt_to=30.0):
    chance = np.random.default_rng([seed, len(rectangle), int(contrast or 0)])
    kind = ["ellipse", "ellipse", "circle", "v", "hollow"][seed % 5]
    wide, deep = chance.uniform(70, 95), chance.uniform(80, 130)
    away, length, deep, edge = neckline(kind, wide, deep, 0.0 if kind == "v" else chance.uniform(3, 8))
    width_mm, height_mm, thick = SIZES[rectangle]

    turned = np.radians(chance.uniform(-8, 8))
    turn = np.array([[np.cos(turned), -np.sin(turned)], [np.sin(turned), np.cos(turned)]])
    centre = np.array([-135.0, 110.0]) if rectangle == "a4" else np.array([-62.0, 45.0])
    centre = centre + chance.uniform(-8, 8, 2)
    half = np.array([width_mm, height_mm]) / 2
    corners = (np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half) @ turn.T + centre

    width, height = longest, longest * 3 // 4
    focal = longest * chance.uniform(0.68, 0.8)
    fold_mm = deep + chance.uniform(90, 120)
    wanted = np.vstack([corners, edge, [[0, fold_mm]], [[wide + 40, 20]]])
    target = (wanted.min(0) + wanted.max(0)) / 2
    tilt = np.radians(chance.uniform(0, tilt_to)) if seed % 4 else np.radians(tilt_to)
    toward, roll = chance.uniform(0, 2 * np.pi), np.radians(chance.uniform(-12, 12))
    bend = chance.uniform(-0.01, 0.01)
    distance = 200.0
    while True:
        camera = Camera(width, height, focal, bend, tilt, toward, roll, target, distance)
        seen = camera.project(wanted)
        if (seen.min() > 40) and (seen[:, 0].max() < width - 40) and (seen[:, 1].max() < height - 40):
            break
        distance *= 1.02

    rays = camera.rays()
    x, y = camera.on_table(rays)
    mm_per_px = np.sqrt(np.abs(np.gradient(x, axis=1) * np.gradient(y, axis=0) - np.gradient(x, axis=0) * np.gradient(y, axis=1)))
    covers = lambda inside: np.clip(0.5 + inside / mm_per_px, 0, 1)

    ground = chance.uniform(70, 110)
    piece = min(ground + (contrast if contrast is not None else chance.uniform(60, 120)), 215)
    grain = cv2.GaussianBlur(chance.normal(0, 1, (height, width)).astype(np.float32), (0, 0), 9, sigmaY=2) * 18
    light = np.full((height, width), ground) + grain * chance.uniform(2, 5)
    shoulder = (y - (x - wide) * 0.33) / np.hypot(1, 0.33)
    inside = np.minimum.reduce([x, fold_mm + 60 - y, np.where(x > wide - 30, shoulder, 1e3), 170 - x])
    inside = np.minimum(inside, np.where((x < wide + 1) & (y < deep + 1), away(x, y), 1e3))
    light += (piece - light) * covers(inside)
    # A seam line 10 mm in from the neckline, and a grain line.
    seam = 0.3 - np.abs(away(x, y) - 10.0)
    grain_line = np.minimum(0.25 - np.abs(x - 110), 60 - np.abs(y - (deep + 60)))
    printed = np.maximum(np.where((x > 0) & (y > 0) & (x < wide + 20) & (y < deep + 12) & (inside > 1), seam, -1e3), grain_line)
    light += (0.45 * piece - light) * covers(printed)
    cx, cy = camera.on_table(rays, thick)
    local = (np.stack([cx, cy], -1) - centre) @ turn
    off = np.abs(local) - half
    if rectangle == "card":
        # Round corners of 3.18 mm (ISO/IEC 7810).
        off = off + 3.18
        out = np.hypot(np.maximum(off[..., 0], 0), np.maximum(off[..., 1], 0)) + np.minimum(off.max(-1), 0) - 3.18
        sheet = chance.uniform(190, 235)
    else:
        out = off.max(-1)
        sheet = chance.uniform(225, 245)
    light += (sheet - light) * covers(-out)

    u, v = (np.arange(width) - width / 2) / width, (np.arange(height) - height / 2)[:, None] / width
    slope = chance.uniform(-0.2, 0.2, 2)
    light *= (1 + slope[0] * u + slope[1] * v) * (1 - 0.25 * (u * u + v * v))
    light = cv2.GaussianBlur(light, (0, 0), chance.uniform(0.5, 1.2))
    light += chance.normal(0, chance.uniform(1, 4), light.shape)
    packed = cv2.imencode(".jpg", np.clip(light, 0, 255).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, int(chance.integers(85, 96))])[1]
    name = f"{rectangle}-{seed:02d}" + (f"-{contrast}" if contrast is not None else "")
    cv2.imwrite(str(folder / f"{name}.pgm"), cv2.imdecode(packed, cv2.IMREAD_GRAYSCALE))
    (folder / f"{name}.jpg").write_bytes(packed.tobytes())

    ends = np.array([[wide, 0.0], [0.0, deep]])
    near = lambda points: camera.project(points)
    angle = chance.uniform(0, 2 * np.pi, 2)
    rough = near(ends + np.column_stack([np.cos(angle), np.sin(angle)]) * 1.0)
    return {
        "name": name,
        "shape": kind,
        "rectangle_mm": [width_mm, height_mm],
        "corners": (camera.project(corners, thick) + chance.normal(0, 3, (4, 2))).tolist(),
        "corners_true": camera.project(corners, thick).tolist(),
        "ends": rough.tolist(),
        "ends_true": near(ends).tolist(),
        "down": (near([[0.0, fold_mm]])[0] + chance.normal(0, 1, 2)).tolist(),
        "edge_true": near(edge).tolist(),
        "mm_per_px": float(np.median(mm_per_px)),
        "tilt_deg": float(np.degrees(tilt)),
        "bend": bend,
        "contrast": float(piece - ground),
        "length_mm": length,
        "width_mm": float(wide),
        "depth_mm": float(deep),
    }


def main():
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    first, last = (int(v) for v in (sys.argv[2:4] or (1, 20)))
    photos = [make(folder, seed, rectangle) for rectangle in SIZES for seed in range(first, last + 1)]
    photos += [make(folder, seed, "a4", contrast) for contrast in (10, 20, 40) for seed in range(first, min(first + 4, last + 1))]
    (folder / "photos.json").write_text(json.dumps(photos, indent=1))


main()
