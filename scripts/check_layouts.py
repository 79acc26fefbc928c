#!/usr/bin/env python3
"""Checks the layouts that cmd/bench wrote by an independent library (python3-shapely):

    scripts/check_layouts.py nest|bins DIR OUT

All pieces are there, lie as they may, inside their board, and no two share more than a
millionth of the smaller one's area.
"""
import json
import math
import pathlib
import sys

from shapely.affinity import rotate, translate
from shapely.geometry import Polygon, box

SLIGHT = 1e-6


def settled(shape):
    """Rounds corners to a hundred-millionth: what two sides that lie on each other differ by
    in the last digits makes an intersection come out wrong."""
    return Polygon([(round(x, 8), round(y, 8)) for x, y in shape.exterior.coords])


def main(kind, folder, out):
    for path in sorted(pathlib.Path(folder).glob("*.json")):
        instance = json.loads(path.read_text())
        if not isinstance(instance, dict) or "items" not in instance:
            continue
        result = json.loads((pathlib.Path(out) / path.name).read_text())
        items = {i["id"]: i for i in instance["items"]}
        wanted = {k: i["demand"] for k, i in items.items()}
        boards = {}
        area = 0.0
        for p in result["placements"]:
            item = items[p["item"]]
            wanted[p["item"]] -= 1
            turn = p["r"] % 360
            assert any(abs((turn - r) % 360) < 1e-9 for r in item["rotations_deg"]), (path.name, p, "turned so")
            shape = settled(translate(rotate(Polygon(item["polygon"]), p["r"], origin=(0, 0)), p["x"], p["y"]))
            area += shape.area
            boards.setdefault(p.get("board", 0), []).append(shape)
        assert not any(wanted.values()), (path.name, wanted)
        if kind == "nest":
            room = box(0, 0, result["length"], instance["strip_height"])
            print(f"{path.stem:10} {100 * area / room.area:6.2f} %")
        else:
            room = box(0, 0, instance["board_width"], instance["board_height"])
            assert len(boards) == result["value"], (path.name, len(boards))
            print(f"{path.stem:10} {len(boards)} boards")
        for shapes in boards.values():
            for i, a in enumerate(shapes):
                out_of = a.difference(room).area
                assert out_of <= SLIGHT * a.area, (path.name, i, "off the board", out_of)
                for j in range(i):
                    b = shapes[j]
                    if a.bounds[0] < b.bounds[2] and b.bounds[0] < a.bounds[2]:
                        both = a.intersection(b).area
                        assert both <= SLIGHT * min(a.area, b.area), (path.name, i, j, both)
    print("all layouts hold")


if __name__ == "__main__":
    if len(sys.argv) != 4 or sys.argv[1] not in ("nest", "bins"):
        sys.exit(__doc__)
    main(*sys.argv[1:])
