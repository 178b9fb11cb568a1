"""Tables of points and of offsets: any unit and order, every doubtful cell named."""

from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines_csv import lines_of_csv
from hullchange.hull_sources.points import TableAsked, lines_of_table
from hullchange.quantity_text import feet_inches_eighths, length_of

EXAMPLES = Path(__file__).parents[3] / "examples"
LINES = (EXAMPLES / "saltmarrow-lines.csv").read_text(encoding="utf-8")


def points(found):
    return {line.name: line.points for line in found.lines}


def in_eighths(text):
    """The demo's table in feet-inches-eighths, and the same offsets in millimetres."""
    imperial, metric = ["line,kind,x,y,z"], ["line;kind;z_mm;y_mm;x_mm"]
    for name, line in lines_of_csv(text).items():
        for point in line.points:
            cells = [feet_inches_eighths(v) for v in point]
            exact = [length_of(cell) for cell in cells]
            mm = [f"{v * 1000:.4f}".replace(".", ",") for v in exact]
            imperial.append(",".join([name, line.kind, *cells]))
            metric.append(";".join([name, line.kind, *mm[::-1]]))
    return "\n".join(imperial), "\n".join(metric)


def test_the_demo_in_metres_is_read_as_by_the_document():
    found = lines_of_table(LINES)
    assert points(found) == {n: line.points for n, line in lines_of_csv(LINES).items()}
    assert found.not_understood == ()
    assert found.missing == ()
    assert "±5 mm" in found.worth


def test_feet_and_millimetres_of_one_boat_are_the_same_to_the_digit():
    imperial, metric = in_eighths(LINES)
    feet, metres = lines_of_table(imperial), lines_of_table(metric)
    assert points(feet) == points(metres)
    hulls = [hull_of(HullInput(found.lines), 2000) for found in (feet, metres)]
    assert hulls[0].surface.key == hulls[1].surface.key


@pytest.mark.parametrize(
    ("head", "row"),
    [
        ("z_mm;y_mm;x_mm;line", "1250;1000;500;sheer"),
        ("name\theight (mm)\thalf-breadth [cm]\tstation, mm", "sheer\t1250,0\t100\t500"),
        ("line,x_m,y_m,z_m", 'sheer,50 cm,"1000 mm","4-1-2"'),
    ],
)
def test_columns_come_in_any_order_and_unit(head, row):
    found = lines_of_table(f"Lines of a boat, taken ashore\n{head}\n{row}\n")
    assert np.allclose(found.lines[0].points, [(0.5, 1.0, 1.25)], atol=0.001)


def test_lines_listed_from_the_sheer_down_are_turned_round():
    head, *rows = LINES.strip().splitlines()
    names = [line.name for line in lines_of_table(LINES).lines]
    by_line = {}
    for row in rows:
        by_line.setdefault(row.split(",")[0], []).append(row)
    downwards = [row for name in reversed(by_line) for row in by_line[name]]
    found = lines_of_table("\n".join([head, *downwards]))
    assert [line.name for line in found.lines] == names
    # the sheer first and the others from below up: as they were given
    sheer_first = [*by_line["sheer"], *(row for row in rows if row not in by_line["sheer"])]
    found = lines_of_table("\n".join([head, *sheer_first]))
    assert [line.name for line in found.lines] == names


def test_a_table_of_offsets_has_stations_across():
    table = (
        "Station;0-0-0;10-0-0;20-0-0\n"
        "Sheer half-breadth;0-2-0;5-6-4;4-0-0\n"
        "Sheer height;5-0-0;3-11-2+;4-0-0\n"
        "Keel height;1-0-0;-2-0-0;-\n"
    )
    found = points(lines_of_table(table))
    assert found["keel"] == ((0.0, 0.0, 0.3048), (3.048, 0.0, -0.6096))
    assert found["sheer"][1] == (3.048, 1.6891, 1.2017375)


def test_every_cell_that_is_not_understood_is_told_and_the_others_are_kept():
    table = "line,kind,x_m,y_m,z_m\nsheer,sheer,0,0.1,1.2\nsheer,sheer,1,abc,1.1\n"
    found = lines_of_table(table + "sheer,edge,2,0.5,5-12-1\n,fair,3,1,1\nsheer,sheer,4,1,1\n")
    assert [(c.row, c.column, c.text) for c in found.not_understood] == [
        (3, "y_m", "abc"),
        (4, "kind", "edge"),
        (4, "z_m", "5-12-1"),
        (5, "line", ""),
    ]
    assert len(found.lines[0].points) == 2


def test_the_decimal_sign_is_the_tables_or_is_asked():
    head = "line;x_mm;y_mm;z_mm\n"
    unclear = lines_of_table(f"{head}sheer;100;200;300\nsheer;1.234;200;300")
    assert "could be 1.234 or 1234" in unclear.not_understood[0].sentence
    by_the_others = lines_of_table(f"{head}sheer;1.234;200,5;300")
    assert by_the_others.lines[0].points == ((1.234, 0.2005, 0.3),)
    asked = lines_of_table(f"{head}sheer;1.234;200;300", TableAsked(decimal=","))
    assert asked.lines[0].points[0][0] == 1.234


def test_a_unit_that_is_nowhere_is_asked_for_in_one_sentence():
    table = "line,x,y,z\nsheer,100,200,300\nsheer,200,300,400"
    with pytest.raises(ModelError, match="What is the unit of column 'x'") as caught:
        lines_of_table(table)
    assert caught.value.code == "unit-missing"
    assert lines_of_table(table, TableAsked("mm")).lines[0].points[0] == (0.1, 0.2, 0.3)


def test_a_table_without_heading_asks_which_column_is_which():
    table = "sheer,300,200,100\nsheer,400,300,200"
    with pytest.raises(ModelError, match="Which column is which") as caught:
        lines_of_table(table, TableAsked("mm"))
    assert caught.value.code == "no-heading"
    found = lines_of_table(table, TableAsked("mm", ("line", "z", "y", "x")))
    assert found.lines[0].points == ((0.1, 0.2, 0.3), (0.2, 0.3, 0.4))


@pytest.mark.parametrize(
    "text", ["", "\n\n", "a\0b", "line,x_m,y_m,z_m", '"x', "x" * 1_000_001]
)
def test_what_is_no_table_is_refused_in_words(text):
    with pytest.raises(ModelError) as caught:
        lines_of_table(text)
    assert caught.value.code in ("not-a-lines-table", "no-heading")


def test_a_missing_end_and_a_missing_line_are_asked_for():
    rows = [f"sheer,{x},1,1" for x in range(11)] + [f"chine-1,{x},1,0" for x in range(8)]
    found = lines_of_table("\n".join(["line,x_m,y_m,z_m", *rows]))
    assert [sentence.split(":")[0] for sentence in found.missing] == [
        "The centreline is missing",
        "Line chine 1 ends at x 7.00 m, 3.00 m short of the others",
    ]


def test_a_boat_of_a_wrong_unit_is_asked_about():
    rows = [f"sheer,{x},1,1" for x in range(2)]
    found = lines_of_table("\n".join(["line,x_m,y_m,z_m", *rows]))
    assert "is the unit right" in found.notes[-1]


def test_knuckles_are_marked_in_a_column():
    table = "line,x_m,y_m,z_m,knuckle\nsheer,0,0,1,\nsheer,1,0.5,1,yes\nsheer,2,0.5,0.8,no"
    assert lines_of_table(table).lines[0].knuckles == (1.0,)


@pytest.mark.parametrize("seed", range(200))
def test_random_text_is_read_or_refused_and_nothing_else(seed):
    draw = np.random.default_rng(seed)
    signs = list("line,kind,x_m;y z\t\n0123456789.-+'\"/ftm⅜é")
    text = "line,x_m,y_m,z_m\n" if seed % 2 else ""
    text += "".join(draw.choice(signs, int(draw.integers(1, 200))))
    with suppress(ModelError):
        found = lines_of_table(text)
        assert all(np.isfinite(line.points).all() for line in found.lines)
