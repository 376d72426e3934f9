"""Makes the pattern files of this folder, and the lengths in them, by tools from outside the project.

All pieces are invented. Run by make.sh, which installs what requirements.txt pins. The same call gives the same files, but for what
the PDF and DXF libraries write of themselves (identifiers, versions).

A length in values.json comes from mpmath (quadrature of the curve's speed, 30 digits), ezdxf (its own flattening, 1e-6) or
svgelements (its own length); each says which.
"""

import json
import pathlib

import ezdxf
import ezdxf.math
import mpmath
import numpy
import pikepdf
import svgelements
from reportlab.pdfgen import canvas

HERE = pathlib.Path(__file__).parent
FILES = HERE / "files"
MM = 72 / 25.4
mpmath.mp.dps = 30

values = {"edges": [], "layers": []}


# ---- the invented pieces, in mm, y down ----


def bezier(p, t):
    s = 1 - t
    return sum(c * mpmath.mpf(v) for c, v in zip((s**3, 3 * s * s * t, 3 * s * t * t, t**3), p))


def length(curve):
    """A cubic's length by quadrature."""
    xs, ys = zip(*curve)

    def speed(t):
        s = 1 - t

        def d(v):
            a, b, c, e = (mpmath.mpf(x) for x in v)
            return 3 * (s * s * (b - a) + 2 * s * t * (c - b) + t * t * (e - c))

        return mpmath.sqrt(d(xs) ** 2 + d(ys) ** 2)

    return float(mpmath.quad(speed, [0, 0.25, 0.5, 0.75, 1]))


def neckline(size):
    """From the neck point to the centre: size 0 to 4."""
    w, d = 70 + 3 * size, 92 + 4 * size
    return [(w, 0), (w - 3, 0.55 * d), (0.58 * w, d), (0, d)]


def outline(size):
    """A half front as (command, points): neckline, fold, hem, side, armhole, shoulder."""
    g = 5 * size
    n = neckline(size)
    return [
        ("M", [n[0]]),
        ("C", n[1:]),
        ("L", [(0, 560 + g)]),
        ("L", [(235 + g, 560 + g)]),
        ("L", [(238 + g, 245 + g)]),
        ("C", [(190 + g, 240 + g), (168 + g, 130), (180 + g, 38)]),
        ("Z", []),
    ]


def whole(size):
    """The same unfolded, as (command, points)."""
    half = outline(size)
    n = half[1][1]
    m = lambda points: [(-x, y) for x, y in points]
    left = [half[0][1][0], *n]
    parts = [("M", m([left[0]])), ("C", m(n)[:3])]
    parts.append(("C", [left[2], left[1], left[0]]))
    arm = half[5][1]
    parts += [("L", [arm[2]]), ("C", [arm[1], arm[0], half[4][1][0]]), ("L", half[3][1]), ("L", m(half[3][1]))]
    parts += [("L", m(half[4][1])), ("C", m(arm)), ("Z", [])]
    return parts


def d(parts, scale=1.0):
    return " ".join(c + " ".join(f"{x * scale:.6g},{y * scale:.6g}" for x, y in points) for c, points in parts)


def edge(file, ends, wanted, by, **more):
    values["edges"].append({"file": file, "ends": ends, "length_mm": wanted, "by": by, **more})


# ---- SVG ----


def svg_layers():
    """Five sizes as titled groups; size 3 is not displayed; each with a grain line."""
    groups = []
    for size in range(5):
        hidden = ' style="display:none"' if size == 3 else ""
        groups.append(
            f'<g id="s{size}"{hidden}><title>Size {10 + 2 * size}</title>'
            f'<path d="{d(outline(size))}"/><path d="M120,200V420"/></g>'
        )
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="620mm" viewBox="-20 -20 300 620">\n'
        "<!-- An invented half front in five sizes. -->\n"
        '<g fill="none" stroke="#000" stroke-width="0.4">\n' + "\n".join(groups) + "\n</g></svg>\n"
    )
    (FILES / "five-sizes.svg").write_text(text)
    for size in range(5):
        n = neckline(size)
        peer = svgelements.Path(f"M{n[0][0]},{n[0][1]} C" + " ".join(f"{x},{y}" for x, y in n[1:])).length(error=1e-9)
        truth = length(n)
        assert abs(peer - truth) < 1e-4, (peer, truth)
        # The root's viewBox begins at -20, so that the drawing's places are 20 more.
        edge("five-sizes.svg", [[n[0][0] + 20, n[0][1] + 20], [n[3][0] + 20, n[3][1] + 20]], truth, "mpmath; svgelements", size=size)


def svg_whole():
    """A whole front in pixels, its scale unknown, turned and sized by nested transforms, with a test square of 50 mm."""
    turn = "translate(400 60) rotate(30) scale(1.5)"
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="900" height="1100" viewBox="0 0 900 1100">\n'
        "<!-- An invented whole front. 1.5 pixels are a millimetre, and nothing says so but the square. -->\n"
        f'<g transform="{turn}" fill="none" stroke="black"><path d="{d(whole(1))}"/>'
        '<rect x="-25" y="300" width="50" height="50"/></g></svg>\n'
    )
    (FILES / "whole-pixels.svg").write_text(text)
    matrix = svgelements.Matrix(turn)
    at = lambda p: list(matrix.point_in_matrix_space(svgelements.Point(*p)))
    n = neckline(1)
    sides = [at((-25, 300)), at((25, 300))]
    edge(
        "whole-pixels.svg",
        [at((-n[0][0], 0)), at((n[0][0], 0))],
        length(n),
        "mpmath",
        whole=True,
        scale={"from": sides[0], "to": sides[1], "mm": 50},
    )


def svg_dashed():
    """Every dash a line of its own, 5 mm long, 2.5 mm apart, as some programs write dashed lines."""
    curves = []
    for command, points in outline(2):
        curves.append((command, points))
    path = svgelements.Path(d(curves))
    total = path.length(error=1e-6)
    parts = []
    # Places along each segment by svgelements.
    samples = []
    for segment in path:
        if isinstance(segment, svgelements.Move):
            continue
        count = max(2, int(segment.length(error=1e-6) / 0.02))
        samples += [segment.point(i / count) for i in range(count)]
    at, begun = 0.0, []
    for a, b in zip(samples, samples[1:] + samples[:1]):
        if at % 7.5 < 5:
            begun.append(a)
        elif begun:
            parts.append(begun)
            begun = []
        at += abs(b - a)
    if begun:
        parts.append(begun)
    lines = "".join(
        '<path d="M' + "L".join(f"{p.x:.3f},{p.y:.3f}" for p in part[:: max(1, len(part) // 4)] + [part[-1]]) + '"/>' for part in parts
    )
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="620mm" viewBox="0 0 300 620">\n'
        "<!-- An invented half front in dashes. -->\n"
        f'<g fill="none" stroke="#444">{lines}</g></svg>\n'
    )
    (FILES / "dashes.svg").write_text(text)
    n = neckline(2)
    edge("dashes.svg", [list(n[0]), list(n[3])], length(n), "mpmath", near_share=0.001)
    assert total > 0


# ---- PDF ----


def content(parts, at=(0, 0), height=0.0, unit=MM):
    """PDF operators that draw parts, y turned up, so many units to a mm."""
    x0, y0 = at
    p = lambda q: f"{(q[0] + x0) * unit:.4f} {(height - q[1] - y0) * unit:.4f}"
    out, last = [], None
    for command, points in parts:
        if command == "Z":
            out.append("h")
        else:
            out.append(" ".join(p(q) for q in points) + {"M": " m", "L": " l", "C": " c"}[command])
    return "\n".join(out) + " S\n"


def pdf_drawn():
    """By reportlab: two sizes by line style, the neckline also as points of 0.4 mm."""
    # A large sheet, in points.
    name = str(FILES / "two-styles.pdf")
    c = canvas.Canvas(name, pagesize=(320 * MM, 620 * MM), pageCompression=1, invariant=1)
    for size, dash in ((0, None), (3, (6, 3))):
        if dash:
            c.setDash(*dash)
        path = c.beginPath()
        x = lambda q: ((q[0] + 20) * MM, (600 - q[1]) * MM)
        for command, points in outline(size):
            if command == "M":
                path.moveTo(*x(points[0]))
            elif command == "L":
                path.lineTo(*x(points[0]))
            elif command == "C":
                path.curveTo(*x(points[0]), *x(points[1]), *x(points[2]))
            else:
                path.close()
        c.drawPath(path)
        n = neckline(size)
        edge(
            "two-styles.pdf",
            [[n[0][0] + 20, 20 + n[0][1]], [n[3][0] + 20, 20 + n[3][1]]],
            length(n),
            "mpmath",
        )
    c.drawString(40, 40, "An invented half front")
    c.save()
    # The same as points, some noise on them.
    random = numpy.random.default_rng(7)
    name = str(FILES / "points.pdf")
    c = canvas.Canvas(name, pagesize=(320 * MM, 620 * MM), pageCompression=1, invariant=1)
    n = neckline(2)
    path = c.beginPath()
    x = lambda q: ((q[0] + 20) * MM, (600 - q[1]) * MM)
    for i in range(161):
        t = i / 160
        q = [float(bezier(v, t)) for v in zip(*n)]
        off = random.normal(0, 0.03, 2) if 0 < i < 160 else (0, 0)
        place = x((q[0] + off[0], q[1] + off[1]))
        path.moveTo(*place) if i == 0 else path.lineTo(*place)
    for command, points in outline(2)[2:]:
        if command == "L":
            path.lineTo(*x(points[0]))
        elif command == "C":
            path.curveTo(*x(points[0]), *x(points[1]), *x(points[2]))
        else:
            path.close()
    c.drawPath(path)
    c.save()
    edge("points.pdf", [[n[0][0] + 20, 20], [20, 20 + n[3][1]]], length(n), "mpmath", near_share=0.001)


def save(pdf, name, **how):
    pdf.save(FILES / name, deterministic_id=True, **how) if "encryption" not in how else pdf.save(FILES / name, **how)


def page(pdf, stream, box, resources=None, **more):
    """Adds a page."""
    entries = {
        "/Type": pikepdf.Name.Page,
        "/MediaBox": pikepdf.Array(box),
        "/Contents": pdf.make_stream(stream.encode()),
        "/Resources": resources if resources is not None else pikepdf.Dictionary(),
    }
    entries.update(more)
    pdf.pages.append(pikepdf.Page(pdf.make_indirect(pikepdf.Dictionary(entries))))


def pdf_layers():
    """By pikepdf: layers on and off, one as a form with a matrix; UserUnit 2, turned by a quarter; objects in object streams."""
    pdf = pikepdf.new()
    groups = []
    for size in range(3):
        groups.append(pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=pikepdf.String(f"Size {10 + 2 * size}"))))
    pdf.Root.OCProperties = pikepdf.Dictionary(
        OCGs=pikepdf.Array(groups), D=pikepdf.Dictionary(Order=pikepdf.Array(groups), OFF=pikepdf.Array([groups[1]]))
    )
    unit = MM / 2
    # Size 14 is a form: drawn at half size about its origin, doubled and moved by its matrix.
    form = pdf.make_stream(content(outline(2), at=(0, 0), height=0, unit=unit / 2).encode())
    form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
    form.BBox = pikepdf.Array([-1000, -1000, 1000, 1000])
    form.Matrix = pikepdf.Array([2, 0, 0, 2, 20 * unit, 600 * unit])
    form.OC = groups[2]
    resources = pikepdf.Dictionary(
        Properties=pikepdf.Dictionary(A=groups[0], B=pikepdf.Dictionary(Type=pikepdf.Name.OCMD, OCGs=pikepdf.Array([groups[1]]))),
        XObject=pikepdf.Dictionary(F=pdf.make_indirect(form)),
    )
    stream = (
        "0.3 w\n/OC /A BDC\n"
        + content(outline(0), at=(20, 0), height=600, unit=unit)
        + "EMC\n/OC /B BDC q 1 0 0 1 0 0 cm\n"
        + content(outline(1), at=(20, 0), height=600, unit=unit)
        + "Q EMC\n/F Do\n"
    )
    page(pdf, stream, [0, 0, 320 * unit, 620 * unit], resources, **{"/UserUnit": 2, "/Rotate": 90})
    save(pdf, "layers.pdf", object_stream_mode=pikepdf.ObjectStreamMode.generate, compress_streams=True)
    for size in range(3):
        n = neckline(size)
        # Turned by a quarter clockwise: what is x is y, what is y runs from the right.
        at = lambda q: [620 - (20 + q[1]), 20 + q[0]]
        edge("layers.pdf", [at(n[0]), at(n[3])], length(n), "mpmath", size=size)


def split(curve, t):
    """A cubic in two."""
    a = numpy.array(curve, float)
    b = a[:-1] + (a[1:] - a[:-1]) * t
    c = b[:-1] + (b[1:] - b[:-1]) * t
    e = c[0] + (c[1] - c[0]) * t
    left = [a[0], b[0], c[0], e]
    right = [e, c[1], b[2], a[3]]
    return [tuple(p) for p in left], [tuple(p) for p in right]


def curves(parts):
    """Parts as cubics; lines as straight ones."""
    out, at, begun = [], None, None
    for command, points in parts:
        if command == "M":
            at = begun = points[0]
            continue
        to = points[-1] if points else begun
        if command == "C":
            out.append([at, *points])
        elif at != to:
            a, b = numpy.array(at, float), numpy.array(to, float)
            out.append([tuple(a), tuple(a + (b - a) / 3), tuple(b - (b - a) / 3), tuple(b)])
        at = to
    return out


def cut(curve, box):
    """The parts of a cubic within a box (x0, y0, x1, y1), cut where it crosses its borders."""
    stops = {0.0, 1.0}
    for axis, border in ((0, box[0]), (0, box[2]), (1, box[1]), (1, box[3])):
        v = [p[axis] for p in curve]
        poly = [-v[0] + 3 * v[1] - 3 * v[2] + v[3], 3 * v[0] - 6 * v[1] + 3 * v[2], -3 * v[0] + 3 * v[1], v[0] - border]
        while poly and abs(poly[0]) < 1e-12:
            poly = poly[1:]
        for root in numpy.roots(poly) if len(poly) > 1 else []:
            if abs(root.imag) < 1e-9 and 1e-9 < root.real < 1 - 1e-9:
                stops.add(float(root.real))
    stops = sorted(stops)
    for a, b in zip(stops, stops[1:]):
        rest = split(curve, a)[1] if a > 0 else curve
        piece = split(rest, (b - a) / (1 - a))[0] if b < 1 else rest
        x, y = (float(bezier(v, 0.5)) for v in zip(*piece))
        if box[0] <= x <= box[2] and box[1] <= y <= box[3]:
            yield piece


def drawn_cut(parts, box, at, height, unit=MM):
    out = []
    for curve in curves(parts):
        for piece in cut(curve, box):
            out.append(content([("M", [piece[0]]), ("C", piece[1:])], at=at, height=height, unit=unit))
    return "".join(out)


def pdf_tiles():
    """By pikepdf: one half front over A4 pages in three ways."""
    w, h, margin = 210, 297, 10
    n = neckline(4)
    whole_lines = [outline(4), [("M", [(120, 200)]), ("L", [(120, 420)])]]
    columns, rows = 2, 3
    # The whole outline on every page, clipped to the page less a margin, each page with its own border.
    pdf = pikepdf.new()
    for row in range(rows):
        for column in range(columns):
            x0, y0 = column * (w - 2 * margin) - margin - 10, row * (h - 2 * margin) - margin - 10
            inside = f"{margin * MM:.3f} {margin * MM:.3f} {(w - 2 * margin) * MM:.3f} {(h - 2 * margin) * MM:.3f} re"
            drawn = "".join(content(parts, at=(-x0, -y0), height=h) for parts in whole_lines)
            page(pdf, f"q {inside} W n\n{drawn}Q\n{inside} S\n", [0, 0, w * MM, h * MM])
    save(pdf, "tiles-copies.pdf", object_stream_mode=pikepdf.ObjectStreamMode.generate)
    edge("tiles-copies.pdf", [[n[0][0] + margin + 10, margin + 10], [margin + 10, n[3][1] + margin + 10]], length(n), "mpmath", joined="copies")
    # Each page a window on one plane, by its own media box, lines cut at its border.
    pdf = pikepdf.new()
    total = rows * h
    for row in range(rows):
        for column in range(columns):
            box = (column * w - 10, row * h - 10, (column + 1) * w - 10, (row + 1) * h - 10)
            drawn = "".join(drawn_cut(parts, box, at=(10, 10), height=total) for parts in whole_lines)
            y1 = total - row * h
            page(pdf, drawn, [column * w * MM, (y1 - h) * MM, (column + 1) * w * MM, y1 * MM])
    save(pdf, "tiles-own.pdf", object_stream_mode=pikepdf.ObjectStreamMode.generate)
    edge("tiles-own.pdf", [[n[0][0] + 10, 10], [10, n[3][1] + 10]], length(n), "mpmath", joined="own_places")
    # Each page by itself, lines cut at a margin of 10 mm: two borders of 10 mm lie over each other.
    pdf = pikepdf.new()
    for row in range(rows):
        for column in range(columns):
            x0, y0 = column * (w - 2 * margin) - 10, row * (h - 2 * margin) - 10
            box = (x0, y0, x0 + w - 2 * margin, y0 + h - 2 * margin)
            drawn = "".join(drawn_cut(parts, box, at=(margin - x0, margin - y0), height=h) for parts in whole_lines)
            page(pdf, drawn, [0, 0, w * MM, h * MM])
    save(pdf, "tiles-hand.pdf", object_stream_mode=pikepdf.ObjectStreamMode.generate)
    edge(
        "tiles-hand.pdf",
        [[n[0][0] + 20, 20], [20, n[3][1] + 20]],
        length(n),
        "mpmath",
        joined="apart",
        join={"columns": columns, "overlap_x_mm": 2 * margin, "overlap_y_mm": 2 * margin},
    )


def pdf_refused():
    """Encrypted with and without a word, a scan, one cut short."""
    for name, user in (("encrypted-open.pdf", ""), ("encrypted-word.pdf", "opening word")):
        pdf = pikepdf.new()
        page(pdf, content(outline(0), at=(20, 20), height=620), [0, 0, 320 * MM, 620 * MM])
        save(pdf, name, encryption=pikepdf.Encryption(owner="owner's word", user=user))
    n = neckline(0)
    edge("encrypted-open.pdf", [[n[0][0] + 20, 20], [20, 20 + n[3][1]]], length(n), "mpmath")
    pdf = pikepdf.new()
    image = pdf.make_stream(bytes(range(64)) * 4)
    image.Type, image.Subtype = pikepdf.Name.XObject, pikepdf.Name.Image
    image.Width, image.Height, image.BitsPerComponent, image.ColorSpace = 16, 16, 8, pikepdf.Name.DeviceGray
    resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(I=pdf.make_indirect(image)))
    page(pdf, "q 500 0 0 700 0 0 cm /I Do Q", [0, 0, 595, 842], resources)
    save(pdf, "scan.pdf")
    bytes_ = (FILES / "two-styles.pdf").read_bytes()
    (FILES / "cut-short.pdf").write_bytes(bytes_[: len(bytes_) * 6 // 10])


# ---- DXF ----


def flat(entity):
    """An entity's length by ezdxf's own flattening to 1e-6 of a unit: cubics would be off by a ten-thousandth on a circle."""
    if entity.dxftype() in ("LWPOLYLINE", "POLYLINE"):
        return sum(flat(part) for part in entity.virtual_entities())
    if entity.dxftype() == "LINE":
        return entity.dxf.start.distance(entity.dxf.end)
    points = [ezdxf.math.Vec3(p) for p in entity.flattening(1e-6)]
    return sum(a.distance(b) for a, b in zip(points, points[1:]))


def dxf_layer(file, doc, name, entities, scale=1.0, truth=None, by="ezdxf"):
    """The length of all lines on a layer."""
    total = sum(flat(entity) for entity in entities)
    total *= scale
    if truth is not None:
        assert abs(total - truth) < 0.01, (name, total, truth)
        total = truth
    values["layers"].append({"file": file, "layer": name, "length_mm": total, "by": by})


def dxf_r12():
    """R12, no unit: LINE, ARC, CIRCLE, POLYLINE with bulges, a block inserted twice. A unit is an inch; the square says so."""
    doc = ezdxf.new("R12")
    msp = doc.modelspace()
    on = lambda layer: {"layer": layer}
    for layer in ("arc", "circle", "poly", "line", "piece", "square"):
        doc.layers.add(layer)
    inch = 25.4
    arc = msp.add_arc((3, 2), 3, 20, 130, dxfattribs=on("arc"))
    circle = msp.add_circle((1, 1), 1.5, dxfattribs=on("circle"))
    line = msp.add_line((0, 0), (4, 3), dxfattribs=on("line"))
    poly = msp.add_polyline2d([(0, 0, 0), (4, 0, 0.5), (4, 3, 0), (0, 3, -0.2)], format="xyb", close=True, dxfattribs=on("poly"))
    square = msp.add_polyline2d([(10, 0), (12, 0), (12, -2), (10, -2)], close=True, dxfattribs=on("square"))
    block = doc.blocks.new("PIECE", base_point=(1, 1))
    block.add_arc((1, 1), 2, 0, 90, dxfattribs=on("piece"))
    msp.add_blockref("PIECE", (20, 5), dxfattribs={"layer": "piece", "rotation": 30})
    msp.add_blockref("PIECE", (30, 5), dxfattribs={"layer": "piece", "xscale": -1.5, "yscale": 1.5})
    doc.saveas(FILES / "r12-inch.dxf")
    scale = {"from": [10, 0], "to": [12, 0], "mm": 2 * inch}
    pi = mpmath.pi
    # A bulge b over a chord c: radius c (1 + b^2) / 4b, angle 4 atan b.
    bulged = lambda c, b: float(c * (1 + b * b) / (4 * b) * 4 * mpmath.atan(b))
    dxf_layer("r12-inch.dxf", doc, "arc", [arc], inch, float(3 * pi * 110 / 180) * inch, "mpmath; ezdxf")
    dxf_layer("r12-inch.dxf", doc, "circle", [circle], inch, float(3 * pi) * inch, "mpmath; ezdxf")
    dxf_layer("r12-inch.dxf", doc, "line", [line], inch, 5 * inch, "mpmath; ezdxf")
    dxf_layer("r12-inch.dxf", doc, "poly", [poly], inch, (8 + bulged(3, 0.5) + bulged(3, 0.2)) * inch, "mpmath; ezdxf")
    values["layers"].append({"file": "r12-inch.dxf", "layer": "piece", "length_mm": float(pi * (1 + 1.5)) * inch, "by": "mpmath"})
    for one in values["layers"]:
        if one["file"] == "r12-inch.dxf":
            one["scale"] = scale
    assert square is not None


def dxf_current():
    """The current form, in mm: LWPOLYLINE with bulges, ELLIPSE, splines of each kind."""
    file = "shapes.dxf"
    doc = ezdxf.new("R2018", units=4)
    msp = doc.modelspace()
    made = {}

    def add(layer, entity):
        doc.layers.add(layer)
        entity.dxf.layer = layer
        made.setdefault(layer, []).append(entity)

    add("bulges", msp.add_lwpolyline([(0, 0, 0.3), (80, 10, -0.7), (120, 90, 0), (20, 60, 1)], format="xyb", close=True))
    add("ellipse", msp.add_ellipse((50, 50), major_axis=(60, 20), ratio=0.4))
    add("ellipse-part", msp.add_ellipse((50, 50), major_axis=(60, 20), ratio=0.4, start_param=0.5, end_param=4))
    add("spline", msp.add_open_spline([(0, 0), (30, 70), (90, -20), (140, 60), (200, 10)]))
    # A quarter circle of radius 80, exactly: a rational spline of degree 2.
    add("rational", msp.add_rational_spline([(80, 0), (80, 80), (0, 80)], weights=[1, 0.5**0.5, 1], degree=2))
    frame = [(0, 0), (100, 0), (120, 80), (40, 130), (-30, 60)]
    closed = msp.add_spline()
    closed.set_closed([(x, y, 0) for x, y in frame])
    closed.dxf.layer = "closed-spline"
    doc.layers.add("closed-spline")
    # An even closed spline is made of cubics whose ends are (a + 4 b + c) / 6 of three points in a row, handles a third on; ezdxf
    # flattens it beyond the part that its knots are for.
    total = 0.0
    for i in range(5):
        a, b, c, e = (numpy.array(frame[(i + k) % 5], float) for k in range(4))
        total += length([tuple((a + 4 * b + c) / 6), tuple((2 * b + c) / 3), tuple((b + 2 * c) / 3), tuple((b + 4 * c + e) / 6)])
    values["layers"].append({"file": file, "layer": "closed-spline", "length_mm": total, "by": "mpmath"})
    add("quintic", msp.add_open_spline([(0, 0), (20, 60), (50, 60), (90, -40), (120, 20), (160, 0), (180, 40)], degree=5))
    for layer, entities in made.items():
        truth = {"rational": float(mpmath.pi * 40)}.get(layer)
        dxf_layer(file, doc, layer, entities, 1.0, truth, "mpmath; ezdxf" if truth else "ezdxf")
    # Only points to go through: ezdxf's own reading of them as this kind of program writes them.
    fit = msp.add_spline(fit_points=[(0, 0), (40, 50), (100, 60), (150, 20), (210, 40)])
    doc.layers.add("fit")
    fit.dxf.layer = "fit"
    curve = ezdxf.math.fit_points_to_cad_cv([(0, 0), (40, 50), (100, 60), (150, 20), (210, 40)])
    points = list(curve.flattening(1e-6))
    total = sum(a.distance(b) for a, b in zip(points, points[1:]))
    values["layers"].append({"file": file, "layer": "fit", "length_mm": total, "by": "ezdxf"})
    doc.layers.get("ellipse").off()
    doc.saveas(FILES / file)


def dxf_pieces():
    """Pieces as blocks: five sizes of a half front, in cm; cut line on layer 1, notches, grain line, sew line on layer 14."""
    file = "five-sizes.dxf"
    doc = ezdxf.new("R2000", units=5)
    msp = doc.modelspace()
    for layer in ("1", "7", "14"):
        doc.layers.add(layer)
    cm = lambda p: (p[0] / 10, -p[1] / 10)
    for size in range(5):
        name = f"FRONT-{10 + 2 * size}"
        block = doc.blocks.new(name)
        curve = outline(size)
        n = neckline(size)
        # Neckline and armhole as splines, the rest as one polyline.
        spline = block.add_spline(dxfattribs={"layer": "1"})
        spline.control_points = [cm(p) for p in n]
        spline.knots = [0, 0, 0, 0, 1, 1, 1, 1]
        spline.dxf.degree = 3
        arm = [curve[4][1][0], *curve[5][1]]
        spline = block.add_spline(dxfattribs={"layer": "1"})
        spline.control_points = [cm(p) for p in arm]
        spline.knots = [0, 0, 0, 0, 1, 1, 1, 1]
        spline.dxf.degree = 3
        block.add_lwpolyline([cm(p) for p in (n[3], curve[2][1][0], curve[3][1][0], curve[4][1][0])], dxfattribs={"layer": "1"})
        block.add_line(cm(arm[3]), cm(n[0]), dxfattribs={"layer": "1"})
        block.add_line(cm((120, 200)), cm((120, 420)), dxfattribs={"layer": "7"})
        block.add_text(f"Size {10 + 2 * size}")
        at = (size * 40, 0)
        msp.add_blockref(name, at)
        x = lambda p: [cm(p)[0] + at[0], -cm(p)[1]]
        edge(file, [x(n[0]), x(n[3])], length(n), "mpmath", size=size)
    doc.saveas(FILES / file)


def main():
    FILES.mkdir(exist_ok=True)
    for make in (svg_layers, svg_whole, svg_dashed, pdf_drawn, pdf_layers, pdf_tiles, pdf_refused, dxf_r12, dxf_current, dxf_pieces):
        make()
    (HERE / "values.json").write_text(json.dumps(values, indent=1) + "\n")


main()
