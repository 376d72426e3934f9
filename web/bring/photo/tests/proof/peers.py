"""The same photos measured by general image libraries, as peers: a threshold, a contour, four corners, a map of the plane.

    python peers.py FOLDER

Writes peers.json into the folder: for each photo and library a length or the reason why there is none, and the time.
They are told which thing is the sheet (the corners within some px) and where the two ends are, as the person tells it.
"""

import json
import sys
import time
from pathlib import Path

import cv2
import numpy as np
from scipy.signal import savgol_filter
from skimage import filters, measure, transform


def rectangle(size):
    wide, high = size
    return np.array([[0, 0], [wide, 0], [wide, high], [0, high]], dtype=float)


def between(points, ends):
    """The shorter way along a closed contour between the places nearest to two ends."""
    first, last = (int(np.argmin(np.hypot(*(points - end).T))) for end in ends)
    if max(np.hypot(*(points[index] - end)) for index, end in zip((first, last), ends)) > 25:
        return None
    if first > last:
        first, last = last, first
    ways = (points[first : last + 1], np.vstack([points[last:], points[: first + 1]]))
    return min(ways, key=lambda way: np.hypot(*np.diff(way, axis=0).T).sum())


def smooth_length(way):
    """The length of evened places: summed raw, the grain of a contour adds percents."""
    if len(way) < 30:
        return None
    far = np.concatenate([[0], np.hypot(*np.diff(way, axis=0).T).cumsum()])
    even = np.linspace(0, far[-1], 301)
    x, y = (savgol_filter(np.interp(even, far, way[:, axis]), 25, 3) for axis in (0, 1))
    return float(np.hypot(np.diff(x), np.diff(y)).sum())


def by_opencv(grey, told):
    even = cv2.GaussianBlur(grey, (5, 5), 0)
    for level in [cv2.threshold(even, 0, 255, cv2.THRESH_OTSU)[0], 130, 150, 110, 170]:
        mask = cv2.threshold(even, level, 255, cv2.THRESH_BINARY)[1]
        contours = cv2.findContours(mask, cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)[0]
        sheet = None
        for contour in contours:
            four = cv2.approxPolyDP(contour, 0.02 * cv2.arcLength(contour, True), True)
            near = np.array(told["corners"])
            if len(four) == 4:
                order = [int(np.argmin(np.hypot(*(four[:, 0] - corner).T))) for corner in near]
                if sorted(order) == [0, 1, 2, 3] and np.hypot(*(four[order, 0] - near).T).max() < 40:
                    sheet = four[order].astype(np.float32)
        if sheet is None:
            continue
        criteria = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 40, 0.01)
        sheet = cv2.cornerSubPix(grey, sheet, (7, 7), (-1, -1), criteria)[:, 0]
        to_mm = cv2.getPerspectiveTransform(sheet, rectangle(told["rectangle_mm"]).astype(np.float32))
        for contour in sorted(contours, key=len, reverse=True)[:6]:
            way = between(contour[:, 0].astype(float), np.array(told["ends"]))
            if way is not None:
                return smooth_length(cv2.perspectiveTransform(way[None], to_mm)[0])
    return None


def by_skimage(grey, told):
    even = filters.gaussian(grey, 1.0, preserve_range=True)
    for level in [*filters.threshold_multiotsu(even[::4, ::4], 3), filters.threshold_otsu(even)]:
        contours = [contour[:, ::-1] for contour in measure.find_contours(even, level) if len(contour) > 300]
        near = np.array(told["corners"])
        sheet = None
        for contour in contours:
            four = measure.approximate_polygon(contour, 12)[:-1]
            if len(four) == 4:
                order = [int(np.argmin(np.hypot(*(four - corner).T))) for corner in near]
                if sorted(order) == [0, 1, 2, 3] and np.hypot(*(four[order] - near).T).max() < 40:
                    sheet = four[order]
        if sheet is None:
            continue
        to_mm = transform.ProjectiveTransform.from_estimate(sheet, rectangle(told["rectangle_mm"]))
        for contour in sorted(contours, key=len, reverse=True)[:6]:
            way = between(contour, np.array(told["ends"]))
            if way is not None:
                return smooth_length(to_mm(way))
    return None


def main():
    folder = Path(sys.argv[1])
    out = []
    for told in json.loads((folder / "photos.json").read_text()):
        grey = cv2.imread(str(folder / f"{told['name']}.pgm"), cv2.IMREAD_GRAYSCALE)
        row = {"name": told["name"]}
        for name, act in (("opencv", by_opencv), ("skimage", by_skimage)):
            began = time.process_time()
            row[name] = {"length_mm": act(grey, told), "ms": (time.process_time() - began) * 1e3}
        out.append(row)
    (folder / "peers.json").write_text(json.dumps(out, indent=1))


main()
