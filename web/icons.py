"""Draws the site's icons: python3 web/icons.py FOLDER.

The mark is our own: a neckline seen flat, the band along it. Drawn by distance
to two circles, sixteen samples a pixel, in three colours; no drawing program and
no library is needed, and the files stay small.
"""

import pathlib
import struct
import sys
import zlib

GROUND, LINE, BAND = (31, 78, 74), (247, 243, 233), (232, 163, 61)
SAMPLES = 4


def colour(x, y, scale):
    """The colour at a place of the unit square; `scale` shrinks the mark about its middle."""
    x, y = (x - 0.5) / scale + 0.5, (y - 0.5) / scale + 0.5
    # The garment below a scooped neckline: a circle's lower arc, its centre above the middle.
    far = ((x - 0.5) ** 2 + (y - 0.24) ** 2) ** 0.5
    inside = 0.1 < x < 0.9 and y > 0.24
    if inside and 0.26 <= far < 0.34:
        return BAND
    if inside and 0.34 <= far < 0.375:
        return GROUND
    if inside and far >= 0.375 and y < 0.86:
        return LINE
    return GROUND


def rows(size, scale, rounded):
    """The picture's lines, as palette-free RGBA bytes."""
    for row in range(size):
        line = bytearray([0])
        for column in range(size):
            total, seen = [0, 0, 0], 0
            for sample in range(SAMPLES * SAMPLES):
                x = (column + (sample % SAMPLES + 0.5) / SAMPLES) / size
                y = (row + (sample // SAMPLES + 0.5) / SAMPLES) / size
                if rounded and outside_corner(x, y):
                    continue
                seen += 1
                total = [a + b for a, b in zip(total, colour(x, y, scale))]
            line += bytes([round(c / seen) if seen else 0 for c in total])
            line.append(round(255 * seen / SAMPLES**2))
        yield bytes(line)


def outside_corner(x, y, radius=0.18):
    dx = max(radius - x, x - 1 + radius, 0)
    dy = max(radius - y, y - 1 + radius, 0)
    return dx * dx + dy * dy > radius * radius


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def write(file, size, scale, rounded):
    head = struct.pack(">IIBBBBB", size, size, 8, 6, 0, 0, 0)
    data = zlib.compress(b"".join(rows(size, scale, rounded)), 9)
    file.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b""))


def main():
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    write(folder / "icon-32.png", 32, 1.0, True)
    write(folder / "icon-192.png", 192, 1.0, True)
    write(folder / "icon-512.png", 512, 1.0, True)
    # A maskable icon may be cut to a circle: the mark keeps to the middle four fifths.
    write(folder / "maskable-512.png", 512, 0.72, False)


main()
