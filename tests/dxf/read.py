"""Reads DXF files with ezdxf and prints what is in each as a line of JSON: read.py FILE..."""

import json
import sys

import ezdxf


def points(entity):
    """The places along what is drawn, in mm as the file has them."""
    if entity.dxftype() == "LINE":
        return [list(entity.dxf.start)[:2], list(entity.dxf.end)[:2]]
    if entity.dxftype() == "LWPOLYLINE":
        return [[x, y] for x, y in entity.get_points("xy")]
    if entity.dxftype() == "POLYLINE":
        return [[vertex.dxf.location.x, vertex.dxf.location.y] for vertex in entity.vertices]
    return [list(entity.dxf.insert)[:2]]


def drawn(entity):
    text = entity.dxftype() == "TEXT"
    return {
        "kind": entity.dxftype(),
        "layer": entity.dxf.layer,
        "closed": bool(getattr(entity, "is_closed", False)),
        "points": points(entity),
        "text": entity.plain_text() if text else "",
        "turned": entity.dxf.rotation if text else 0.0,
    }


def contents(name):
    """What a file holds. It is read as it is, with no repair; what ezdxf's audit then finds to repair or not is listed."""
    document = ezdxf.readfile(name)
    audit = document.audit()
    return {
        "version": document.dxfversion,
        "units": document.header.get("$INSUNITS", None),
        "metric": document.header.get("$MEASUREMENT", None),
        "comment": next((tag[1] for tag in tags(name) if tag[0] == "999"), ""),
        "extent": [list(document.header[key])[:2] for key in ("$EXTMIN", "$EXTMAX")],
        "layers": sorted(layer.dxf.name for layer in document.layers),
        "layouts": document.layout_names(),
        "faults": [str(error.message) for error in audit.errors + audit.fixes],
        "drawn": [drawn(entity) for entity in document.modelspace()],
    }


def tags(name):
    with open(name, encoding="ascii") as file:
        lines = file.read().split("\n")
    return zip(lines[0::2], lines[1::2])


for file in sys.argv[1:]:
    print(json.dumps(contents(file)))
