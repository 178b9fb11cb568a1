"""Pictures of the shop as PDF and SVG, millimetre for millimetre or to scale."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path
from xml.sax.saxutils import escape

import numpy as np
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray
from hullchange.latin import ascii_of
from hullchange.shop.contour import Contour
from hullchange.shop.layers import Layer
from hullchange.shop.picture import Picture
from hullchange.units import MM_PER_M

POINT = 72.0 / 25.4
"""Of a PDF in a millimetre."""

INKS: dict[Layer, tuple[str, float]] = {
    "CUT": ("#111111", 0.35),
    "MARK": ("#1450aa", 0.18),
    "BEND": ("#a0308c", 0.18),
    "TEXT": ("#1450aa", 0.15),
    "REF": ("#1e7a46", 0.18),
    "SHEET": ("#777777", 0.25),
    "INFO": ("#444444", 0.15),
}
"""Colour and width [mm] of each layer's lines."""

FACE, FACE_BOLD = "Helvetica", "Helvetica-Bold"


def new_canvas(stream: BytesIO, size_mm: tuple[float, float], title: str) -> Canvas:
    """A PDF that is the same every time."""
    canvas = Canvas(
        stream,
        pagesize=(size_mm[0] * POINT, size_mm[1] * POINT),
        invariant=1,
        pageCompression=1,
    )
    canvas.setTitle(title)
    canvas.setCreator("hullchange")
    return canvas


def draw(
    canvas: Canvas, picture: Picture, scale: float, corner_mm: tuple[float, float]
) -> None:
    """A picture on a page.

    Args:
        canvas: of a page.
        picture: [m].
        scale: ratio to full size.
        corner_mm: where the picture's origin lies on the page.
    """
    unit = MM_PER_M * scale * POINT
    origin = np.array(corner_mm) * POINT
    rows = [(layer, loop.points, True) for layer, loop in picture.loops]
    rows += [(layer, line, False) for layer, line in picture.lines]
    for layer, (colour, width) in INKS.items():
        canvas.setStrokeColor(colour)
        canvas.setLineWidth(width * POINT)
        path = canvas.beginPath()
        for points, close in ((p, c) for of, p, c in rows if of == layer):
            (x, y), *others = (points * unit + origin).tolist()
            path.moveTo(x, y)
            for x, y in others:
                path.lineTo(x, y)
            if close:
                path.close()
        canvas.drawPath(path)


def draw_text(
    canvas: Canvas, at_mm: tuple[float, float], words: str, size: float = 9, bold: bool = False
) -> None:
    """Draw words on a page from their lower left corner, in a size [pt]."""
    canvas.setFillColor("#111111")
    face, shown = font_and_text(words, bold)
    canvas.setFont(face, size)
    canvas.drawString(at_mm[0] * POINT, at_mm[1] * POINT, shown)


def width_of(words: str, size: float, bold: bool = False) -> float:
    """How wide ``draw_text`` writes words [point]."""
    face, shown = font_and_text(words, bold)
    return float(stringWidth(shown, face, size))


def font_and_text(words: str, bold: bool = False) -> tuple[str, str]:
    """A face that has all signs of words, and the words; in Latin letters where none has.

    The faces that every reader has know Western Europe's signs alone. For others a face that
    comes with the CAD kernel's drawing library is put into the file.
    """
    with suppress(UnicodeEncodeError):
        words.encode("cp1252")
        return (FACE_BOLD if bold else FACE), words
    wider = _wider_face(bold)
    if wider is not None:
        has = wider.face.charToGlyph
        shown = (s if ord(s) in has else ascii_of(s) for s in words)
        return wider.fontName, "".join(shown)
    return (FACE_BOLD if bold else FACE), ascii_of(words)


@cached(2)
def _wider_face(bold: bool) -> TTFont | None:
    """A face of Europe's scripts; None where it is not installed."""
    library = find_spec("matplotlib")
    name = "DejaVuSans-Bold" if bold else "DejaVuSans"
    for place in (library.submodule_search_locations or ()) if library else ():
        file = Path(place) / "mpl-data" / "fonts" / "ttf" / f"{name}.ttf"
        if file.is_file():
            face = TTFont(name, str(file))
            registerFont(face)
            return face
    return None


def dimension(
    canvas: Canvas, start_mm: tuple[float, float], end_mm: tuple[float, float], words: str
) -> None:
    """A level or upright dimension line with its words."""
    canvas.setStrokeColor("#444444")
    canvas.setLineWidth(0.15 * POINT)
    (x0, y0), (x1, y1) = start_mm, end_mm
    canvas.line(x0 * POINT, y0 * POINT, x1 * POINT, y1 * POINT)
    level = abs(y1 - y0) < abs(x1 - x0)
    for x, y in (start_mm, end_mm):
        dx, dy = (0.0, 1.2) if level else (1.2, 0.0)
        canvas.line((x - dx) * POINT, (y - dy) * POINT, (x + dx) * POINT, (y + dy) * POINT)
    canvas.saveState()
    canvas.translate((x0 + x1) / 2.0 * POINT, (y0 + y1) / 2.0 * POINT)
    canvas.rotate(0 if level else 90)
    canvas.setFillColor("#111111")
    face, shown = font_and_text(words)
    canvas.setFont(face, 8)
    canvas.drawCentredString(0, 1.2 * POINT, shown)
    canvas.restoreState()


def svg_of(picture: Picture, texts: Mapping[str, str]) -> str:
    """An SVG in millimetres, arcs as arcs, a group for each layer.

    Args:
        picture: [m].
        texts: what it is, for title and description.
    """
    low, high = picture.bounds * MM_PER_M
    width, height = (high - low + 20.0).tolist()
    left, top = low[0] - 10.0, -(high[1] + 10.0)
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.2f}mm" '
        f'height="{height:.2f}mm" viewBox="{left:.2f} {top:.2f} {width:.2f} {height:.2f}">',
        *(f"<{tag}>{escape(words)}</{tag}>" for tag, words in texts.items()),
    ]
    for layer, (colour, _) in INKS.items():
        loops = (loop for of, loop in picture.loops if of == layer)
        lines = (line for of, line in picture.lines if of == layer)
        path = svg_path(loops, lines)
        if path:
            rows.append(
                f'<g id="{layer}" fill="none" stroke="{colour}" stroke-width="1">'
                f'<path d="{path}"/></g>'
            )
    return "\n".join([*rows, "</svg>", ""])


def svg_path(loops: Iterable[Contour] = (), lines: Iterable[FloatArray] = ()) -> str:
    """SVG path data in millimetres, y down, with arcs as arcs.

    Args:
        loops: closed.
        lines: (n, 2) [m] open ones.
    """
    return " ".join([*map(_loop_path, loops), *map(_line_path, lines)])


def _loop_path(loop: Contour) -> str:
    nodes = loop.nodes * np.array([MM_PER_M, -MM_PER_M, 1.0])
    steps = [f"M{nodes[0, 0]:.3f} {nodes[0, 1]:.3f}"]
    for k, radius in enumerate(loop.radii * MM_PER_M):
        x, y = nodes[(k + 1) % len(nodes), :2]
        bulge = nodes[k, 2]
        if bulge == 0.0:
            steps.append(f"L{x:.3f} {y:.3f}")
        else:
            large, left = int(abs(bulge) > 1.0), int(bulge < 0.0)
            steps.append(f"A{radius:.3f} {radius:.3f} 0 {large} {left} {x:.3f} {y:.3f}")
    return "".join([*steps, "Z"])


def _line_path(line: FloatArray) -> str:
    return "".join(
        f"{'L' if k else 'M'}{x * MM_PER_M:.3f} {-y * MM_PER_M:.3f}"
        for k, (x, y) in enumerate(line.tolist())
    )
