"""Draws who may import whom, from the contracts in pyproject.toml: tools/floors.py [--check].

Writes tools/floors.svg and the table of rooms in DEVELOPERS.md. The sentence of a room is the
first line of its docstring. For a page of the viewer it is the first comment of its page.tsx,
for the viewer's other rooms what pyproject.toml says below their floors.
"""

import ast
import re
import sys
import textwrap
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from html import escape
from pathlib import Path

ROOT = Path(__file__).parents[1]
PICTURE = ROOT / "tools/floors.svg"
PAPER = ROOT / "DEVELOPERS.md"
MARKS = ("<!-- rooms: written by tools/floors.py -->", "<!-- end of rooms -->")

MARGIN, COLUMN, GAP = 20, 500, 24
INSET, ROW, TEXT = 6, 15, 11  # [px] of a band, of a line of text, of the letters
LETTER = 0.57  # width of a letter in shares of its height, on average
NAME = 112  # [px] kept for the name of a room that is alone on its floor


@dataclass(frozen=True)
class Room:
    """A package or module, and what it holds in one sentence."""

    name: str
    folder: Path
    sentence: str


@dataclass(frozen=True)
class House:
    """Rooms on floors, highest first; a room knows those below it."""

    title: str
    floors: tuple[tuple[Room, ...], ...]


def main() -> int:
    """Write picture and table; with ``--check``, 1 where the committed ones are out of date."""
    wanted = {PICTURE: picture(), PAPER: with_table(PAPER.read_text(encoding="utf-8"))}
    stale = {
        path: text
        for path, text in wanted.items()
        if not path.is_file() or path.read_text(encoding="utf-8") != text
    }
    for path, text in stale.items():
        if "--check" in sys.argv:
            print(f"{path.name} is out of date: run `make contract`.", file=sys.stderr)
        else:
            path.write_text(text, encoding="utf-8")
    return int("--check" in sys.argv and bool(stale))


def houses() -> tuple[House, House, House]:
    """The API, the model and the viewer, as the contracts say them."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]
    layers = {
        contract["containers"][0]: contract["layers"]
        for contract in settings["importlinter"]["contracts"]
        if "containers" in contract
    }
    viewer = settings["hullchange"]
    return (
        _house("api/hullchange_api", "API and commands", layers["hullchange_api"], {}),
        _house("model/hullchange", "The model", layers["hullchange"], {}),
        _house("viewer/src", "The viewer", viewer["viewer-rooms"], viewer["viewer-sentences"]),
    )


def _house(source: str, title: str, floors: list[str], sentences: dict[str, str]) -> House:
    folder = ROOT / source
    named = [floor.split(" | ") for floor in floors]
    rooms = [
        tuple(Room(n, folder / n, sentences.get(n) or _sentence(folder / n)) for n in names)
        for names in named
    ]
    return House(f"{title}: {source}", tuple(rooms))


def _sentence(room: Path) -> str:
    """The first sentence that a package, a module or a page says of itself."""
    for path in (room / "__init__.py", room.with_suffix(".py")):
        if path.is_file():
            docstring = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
            return docstring.split("\n\n")[0].replace("\n", " ").replace("``", "")
    page = room / "page.tsx"
    text = page.read_text(encoding="utf-8") if page.is_file() else ""
    found = re.match(r"/\*\*\s*(.*?)\s*\*/", text, re.DOTALL)
    return re.sub(r"\s*\n\s*\*\s*", " ", found[1]) if found else ""


# The table


def with_table(paper: str) -> str:
    """DEVELOPERS.md with the table of rooms between its marks."""
    before, rest = paper.split(MARKS[0])
    return f"{before}{MARKS[0]}\n{table()}{MARKS[1]}{rest.split(MARKS[1])[1]}"


def table() -> str:
    """Every room that is a folder, lowest first, with its sentence."""
    rows = [
        f"| `{room.folder.relative_to(ROOT).as_posix()}` | {room.sentence} |\n"
        for house in (houses()[1], houses()[0], houses()[2])
        for floor in reversed(house.floors)
        for room in floor
        if room.folder.is_dir()
    ]
    return "| room | holds |\n|---|---|\n" + "".join(rows)


# The picture


@dataclass(frozen=True)
class Box:
    """A room as it is drawn, the upper left corner at (x, y)."""

    room: Room
    x: float
    y: float
    width: float
    alone: bool

    @cached_property
    def lines(self) -> list[str]:
        """The sentence, broken to the width of the box."""
        width = self.width - 2 * INSET - (NAME if self.alone else 0)
        return textwrap.wrap(self.room.sentence, int(width / (TEXT * LETTER)))

    @property
    def height(self) -> float:
        """Of the box, with its name beside the sentence or above it."""
        rows = max(len(self.lines), 1) if self.alone else len(self.lines) + 1
        return rows * ROW + INSET

    def drawn(self, height: float) -> Iterator[str]:
        """The elements of the box."""
        yield f'<rect class="room" {_at(self.x, self.y)} {_size(self.width, height)} rx="3"/>'
        yield _text("name", self.x + INSET, self.y + ROW, self.room.name)
        x = self.x + INSET + (NAME if self.alone else 0)
        for i, line in enumerate(self.lines, start=0 if self.alone else 1):
            yield _text("sentence", x, self.y + ROW * (i + 1), line)


def picture() -> str:
    """The floors of all three houses, as SVG."""
    api, model, viewer = houses()
    left, top = MARGIN, MARGIN + 54
    drawn, y = _drawn(api, left, top)
    rest, below = _drawn(model, left, y + GAP)
    beside, end = _drawn(viewer, left + COLUMN + GAP, top)
    note = _text(
        "sentence",
        left + COLUMN + GAP,
        end + ROW,
        "contract.ts is generated from the API: all the viewer knows of Python.",
    )
    body = [*drawn, *rest, *beside, note]
    return _sheet(2 * (MARGIN + COLUMN) + GAP, max(below, end + ROW) + MARGIN, body)


def _drawn(house: House, x: float, y: float) -> tuple[list[str], float]:
    """The elements of a house, and where it ends."""
    elements = [_text("title", x, y, house.title)]
    y += ROW - 3
    for floor in house.floors:
        rows, end = _rows(floor, x + INSET, y + INSET)
        elements.append(f'<rect class="floor" {_at(x, y)} {_size(COLUMN, end - y)} rx="5"/>')
        elements += rows
        y = end + 4
    return elements, y


def _rows(floor: tuple[Room, ...], x: float, y: float) -> tuple[list[str], float]:
    """The rooms of a floor: three in a row where there are three, else two at most."""
    across = len(floor) if len(floor) <= 3 else 2
    alone = across == 1 and len(floor[0].name) * TEXT * 0.68 < NAME
    width = (COLUMN - (across + 1) * INSET) / across
    elements = []
    for row in (floor[i : i + across] for i in range(0, len(floor), across)):
        boxes = [Box(r, x + i * (width + INSET), y, width, alone) for i, r in enumerate(row)]
        height = max(box.height for box in boxes)
        elements += [element for box in boxes for element in box.drawn(height)]
        y += height + INSET
    return elements, y


def _sheet(width: float, height: float, body: list[str]) -> str:
    """An SVG with its own light ground, so that it is read on a dark page too."""
    head = [
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="0 0 {width:g} {height:g}">',
        "<title>Who may import whom</title>",
        "<style>text{font-family:system-ui,sans-serif;fill:#1c2733}.title{font-size:15px;"
        f"font-weight:600}}.name{{font-size:12px;font-weight:600}}.sentence{{font-size:{TEXT}px}}"
        ".floor{fill:#dde5ec}.room{fill:#fff;stroke:#9fb0bf}</style>",
        f'<rect {_size(width, height)} rx="8" fill="#f5f7f9"/>',
        _text("title", MARGIN, MARGIN + 8, "Who may import whom"),
        _text(
            "sentence",
            MARGIN,
            MARGIN + 26,
            "A room knows those below it in its column, and no other. "
            "Rooms on one floor do not know each other. The edges stand on the model.",
        ),
    ]
    return "\n".join([*head, *body, "</svg>", ""])


def _text(kind: str, x: float, y: float, words: str) -> str:
    return f'<text class="{kind}" {_at(x, y)}>{escape(words)}</text>'


def _at(x: float, y: float) -> str:
    return f'x="{x:g}" y="{y:g}"'


def _size(width: float, height: float) -> str:
    return f'width="{width:g}" height="{height:g}"'


if __name__ == "__main__":
    sys.exit(main())
