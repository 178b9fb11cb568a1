"""In the viewer a unit is written by shared/words alone, so that all follow what is chosen."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "viewer/src"
UNIT = (
    r"(?:mm|cm|m|kg|t|m²|m³|cm²|kg/cm|kg·m|kg·m/cm|kg/m³|litres|l|metres|millimetres|kilograms)"
)
END = r"(?![\w²³/·])"
WRITTEN = (
    re.compile(rf"""\}}(?:\{{'\s'\}})?\s*{UNIT}{END}(?!\s*[:,=(?&|]|\s*(?:===|=>))"""),
    re.compile(rf"""['"`] {UNIT}['"`. ]"""),
    re.compile(rf"""[\w>)], {UNIT}(?: aft| up|[<'"`]|$)""", re.MULTILINE),
    re.compile(rf"""\d {UNIT}{END}"""),
    re.compile(rf"""^\s+{UNIT}$""", re.MULTILINE),
    re.compile(r"""\.toFixed\(\d\)\}? ?(?:m|mm|kg)\b"""),
)
"""Behind a value, in a string of its own, behind a heading, behind a digit, alone on a line."""
MAY = {
    "shared/words/typed.ts": "what may be typed, by example",
    "guide/measure.ts": "sentences, shown by `reworded`",
    "shared/input/steps.ts": "sentences, shown by `reworded`",
    "shared/input/pictures.tsx": "drawings of a scale and of a meter, as these are marked",
}
"""Files in which a unit stands, each with the reason."""


def sources():
    return [
        path
        for ending in ("ts", "tsx")
        for path in sorted(SOURCE.rglob(f"*.{ending}"))
        if ".test." not in path.name and "testing" not in path.parts
    ]


def units_in(text):
    """The lines of a source in which a unit is written, without comments and imports."""
    code = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    code = re.sub(r"(?<!:)//[^\n]*|^import [^;]*;$", "", code, flags=re.MULTILINE)
    return [found[0].strip() for shape in WRITTEN for found in shape.finditer(code)]


@pytest.mark.parametrize("path", sources(), ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_page_writes_a_unit_itself(path):
    if str(path.relative_to(SOURCE)) in MAY:
        return
    assert units_in(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "line",
    [
        "`${number(x, 1)} mm`",
        "<td>{number(x, 1)} kg</td>",
        "<td>{number(x, 1)}{' '} m</td>",
        "['x, m aft', 1]",
        "<th>trim, mm</th>",
        "text + ' mm'",
        "exact: '5 to 10 mm',",
        "<th>\n  kg\n</th>",
        "`${x.toFixed(2)} m`",
    ],
)
def test_a_unit_on_a_page_is_found(line):
    assert units_in(line) != []


def test_every_exception_is_needed():
    needless = [
        name for name in MAY if not units_in((SOURCE / name).read_text(encoding="utf-8"))
    ]
    assert needless == []
