"""DXF files: closed polylines with bulges, millimetres, one layer an operation."""

import io
import logging
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from ezdxf import recover, units
from ezdxf._options import options
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from hullchange.geometry.frame import FloatArray
from hullchange.latin import ascii_of
from hullchange.shop.contour import Contour
from hullchange.shop.layers import LAYERS, Layer
from hullchange.shop.picture import Picture
from hullchange.units import MM_PER_M

Version = Literal["R2000", "R12"]

DIGITS = 4
"""Of a millimetre: a tenth of a micron."""

_COLOURS: dict[Layer, int] = {
    "CUT": 1, "MARK": 5, "BEND": 6, "TEXT": 3, "REF": 4, "SHEET": 8, "INFO": 9
}  # fmt: skip

logging.getLogger("ezdxf").setLevel(logging.ERROR)  # it warns of the unit that R12 cannot hold
options.write_fixed_meta_data_for_testing = True  # the same drawing, the same file


def dxf_of(
    picture: Picture,
    comments: Sequence[str],
    names: Mapping[Layer, str] | None = None,
    version: Version = "R2000",
) -> str:
    """The text of a DXF file.

    Args:
        picture: what is drawn; a layer without anything on it is left out.
        comments: comments at the head of the file: what it is, revision and state.
        names: what the layers are to be called, no two alike.
        version: R2000 states that it is in millimetres; R12 has no place for it.
    """
    called = {layer: (names or {}).get(layer, layer) for layer in LAYERS}
    document = _empty(version)
    used = {layer for layer, _ in (*picture.loops, *picture.lines)}
    for layer in LAYERS:
        if layer in used:
            _add_layer(document, called[layer], _COLOURS[layer])
    space = document.modelspace()
    for layer, loop in picture.loops:
        _polyline(space, _rows(loop), called[layer], version, close=True)
    for layer, line in picture.lines:
        rows = [(x, y, 0.0) for x, y in np.round(line * MM_PER_M, DIGITS).tolist()]
        _polyline(space, rows, called[layer], version, close=False)
    return _written(document, comments)


@dataclass(frozen=True)
class DxfText:
    """Words on a level line.

    Attributes:
        words: in any script.
        at_mm: where the base line stands.
        height_mm: of a capital.
        across: [-] 0, 0.5 or 1 where they begin there, are about it, or end there.
    """

    words: str
    at_mm: tuple[float, ...]
    height_mm: float
    across: float = 0.0


ALIGNMENTS = {
    0.0: TextEntityAlignment.LEFT,
    0.5: TextEntityAlignment.CENTER,
    1.0: TextEntityAlignment.RIGHT,
}


def drawing_dxf(
    lines: Iterable[tuple[str, FloatArray, bool]],
    words: Iterable[DxfText],
    colours: Mapping[str, int],
    comments: Sequence[str],
) -> bytes:
    """A DXF file of a drawing with words, which lie on the layer TEXT; in millimetres.

    Args:
        lines: layer, points (n, 2) [mm], and whether they close.
        words: of the drawing.
        colours: of every layer.
        comments: comments at the head of the file.
    """
    document = _empty("R2000")
    for layer, colour in colours.items():
        _add_layer(document, layer, colour)
    space = document.modelspace()
    for layer, line, close in lines:
        rows = [(x, y, 0.0) for x, y in np.round(line, DIGITS).tolist()]
        _polyline(space, rows, layer, "R2000", close)
    for one in words:
        traits = {"layer": "TEXT"}
        text = space.add_text(one.words, height=round(one.height_mm, DIGITS), dxfattribs=traits)
        at = (round(one.at_mm[0], DIGITS), round(one.at_mm[1], DIGITS))
        text.set_placement(at, align=ALIGNMENTS[one.across])
    # signs that the file's code page lacks are written by their numbers
    return _written(document, comments).encode(document.output_encoding, "dxfreplace")


def _written(document: Drawing, comments: Sequence[str]) -> str:
    text = io.StringIO()
    document.write(text)
    return "".join(f"999\n{_plain(row)}\n" for row in comments) + text.getvalue()


def audited(text: str) -> list[str]:
    """What ezdxf's own audit finds wrong with a file."""
    _, auditor = recover.read(io.BytesIO(text.encode("utf-8")))
    return [f"{error.message}" for error in (*auditor.errors, *auditor.fixes)]


def _empty(version: Version) -> Drawing:
    document = new(version, setup=False)
    document.units = units.MM
    document.header["$MEASUREMENT"] = 1
    return document


def _add_layer(document: Drawing, name: str, colour: int) -> None:
    """Add a layer in its colour; every file has a layer 0 from the start."""
    if name in document.layers:
        document.layers.get(name).color = colour
    else:
        document.layers.add(name, color=colour)


def _rows(loop: Contour) -> list[tuple[float, float, float]]:
    at = np.round(loop.nodes[:, :2] * MM_PER_M, DIGITS)
    return [(x, y, b) for (x, y), b in zip(at.tolist(), loop.nodes[:, 2].tolist(), strict=True)]


def _polyline(
    space: Modelspace,
    rows: list[tuple[float, float, float]],
    layer: str,
    version: Version,
    close: bool,
) -> None:
    where = {"layer": layer}
    if version == "R12":
        space.add_polyline2d(rows, format="xyb", close=close, dxfattribs=where)
    else:
        space.add_lwpolyline(rows, format="xyb", close=close, dxfattribs=where)


def _plain(row: str) -> str:
    """ASCII on one line, as the format of 1992 wants it."""
    return ascii_of(" ".join(row.split()))


Entity = tuple[str, list[tuple[int, str]]]


def read_again(text: str) -> tuple[tuple[str, bool, FloatArray], ...]:
    """Layer, closed or not, and nodes (n, 3) [m] of every polyline of a file.

    A reader of its own, that shares nothing with the writer.
    """
    found: list[tuple[str, bool, list[tuple[float, ...]]]] = []
    for kind, values in _entities(text):
        flags = dict(values)
        if kind in ("LWPOLYLINE", "POLYLINE"):
            nodes = _nodes(values) if kind == "LWPOLYLINE" else []
            found.append((flags[8], bool(int(flags.get(70, "0")) & 1), nodes))
        elif kind == "VERTEX":
            found[-1][2].extend(_nodes(values))
    scale = np.array([MM_PER_M, MM_PER_M, 1.0])
    return tuple((layer, closed, np.array(nodes) / scale) for layer, closed, nodes in found)


def _entities(text: str) -> list[Entity]:
    """Every entity of the model with its pairs of code and value."""
    rows = text.splitlines()
    found: list[Entity] = []
    for code, value in zip(rows[::2], rows[1::2], strict=False):
        if int(code) == 0:
            found.append((value.strip(), []))
        elif found:
            found[-1][1].append((int(code), value.strip()))
    return found


def _nodes(values: list[tuple[int, str]]) -> list[tuple[float, ...]]:
    """x, y and bulge of each node, in an entity's pairs."""
    nodes: list[list[float]] = []
    for code, value in values:
        if code == 10:
            nodes.append([float(value), 0.0, 0.0])
        elif code in (20, 42) and nodes:
            nodes[-1][1 if code == 20 else 2] = float(value)
    return [tuple(node) for node in nodes]
