"""Tables in feet, pounds and gallons, and with a comma: every unit, every figure, read back."""

import csv
import hashlib
from io import StringIO

import pytest
from refits import demo, demo_answer

from hullchange.hull_sources.points import lines_of_table
from hullchange.present.csv_table import CsvTable, csv_under
from hullchange.present.export import exported_tables, lines_table
from hullchange.present.writing import IMPERIAL, PLAIN, Writing
from hullchange.quantity_text import in_unit

FEET = Writing("imperial")
COMMA = Writing("metric", "comma")
BOTH = Writing("imperial", "comma")

# Source: NIST Special Publication 811 (2008), appendix B.8. Seen: not opened; inch and foot
# quoted in other tables, pound and gallon from memory. The others are their products.
EXACT = {"m": 0.3048, "mm": 25.4, "kg": 0.45359237, "l": 3.785411784, "m2": 0.09290304}
EXACT |= {"cm2": 6.4516, "m3": 0.028316846592, "kg_per_cm": 0.45359237 / 2.54}
EXACT |= {"kgm": 0.45359237 * 0.3048, "kgm_per_cm": 0.45359237 * 0.3048 / 2.54}
EXACT |= {"kg_m3": 0.45359237 / 0.3048**3, "kg_m2": 0.45359237 / 0.3048**2}
EXACT |= {"m_rad": 0.3048, "m_deg": 0.3048}


@pytest.mark.parametrize("unit", sorted(IMPERIAL))
def test_one_of_each_other_unit_is_what_was_published(unit):
    written = FEET.table(CsvTable.of(f"what_{unit}", [(EXACT[unit],)]))
    assert written.columns == (f"what_{IMPERIAL[unit][0]}",)
    assert written.rows[0][0] == pytest.approx(1.0, rel=1e-12)


def test_what_has_no_length_or_mass_stays_as_it_is():
    table = CsvTable.of(
        "id heel_deg fill_percent thickness_mm is_open count_m",
        [("a", 1.5, 50.0, 5.0, True, None)],
    )
    written = FEET.table(table)
    assert written.columns[:-1] == table.columns[:-1]
    assert written.rows == table.rows
    assert PLAIN.table(table) is table


def test_notes_name_the_columns_as_they_are_called():
    table = CsvTable.of("kn_m z_m", [(1.0, 2.0)], "A lever is kn_m - z_m sin(heel), not km_m.")
    assert FEET.table(table).notes == ("A lever is kn_ft - z_ft sin(heel), not km_m.",)


def test_a_sum_that_is_worked_in_metres_stays_in_metres():
    table = CsvTable.of("row x_m half_area_m2 multiplier product_m2", [("1", 1.0, 2.0, 4, 8.0)])
    assert FEET.table(table) is table
    assert FEET.heads((), table.columns) == ()
    assert len(FEET.heads((), ("x_m",))) == 1


def test_a_row_that_names_its_unit_is_written_by_it():
    columns = "id value plus_minus limit unit"
    rows = [
        ("a", 1.0, 0.1, 2.0, "m"),
        ("b", 30.0, None, 25.0, "deg"),
        ("c", 1.0, 0.5, None, "m rad"),
    ]
    written = FEET.table(CsvTable.of(columns, rows)).rows
    assert written[0][1:4] == pytest.approx((1 / 0.3048, 0.1 / 0.3048, 2 / 0.3048), rel=1e-12)
    assert written[0][4] == "ft"
    assert written[1] == rows[1]
    assert written[2][4] == "ft rad"


def test_a_comma_parts_decimals_and_semicolons_part_cells():
    table = CsvTable.of("x_m words", [(-1.25, "a;b"), (1234.5, "1.5")])
    text = csv_under((("boat", "a, b"),), table, COMMA.separator)
    assert text.splitlines() == ["boat;a, b", "", "x_m;words", '-1,25;"a;b"', "1234,5;1.5"]
    read = list(csv.reader(StringIO(text), delimiter=";"))
    assert [float(row[0].replace(",", ".")) for row in read[3:]] == [-1.25, 1234.5]


@pytest.mark.parametrize("writing", [PLAIN, FEET, COMMA, BOTH])
def test_lines_come_back_as_they_were_written(writing):
    boat = demo()[0]
    heads = writing.heads((("boat", "x"),))
    text = csv_under(heads, writing.table(lines_table(boat)), writing.separator)
    found = lines_of_table(text)
    before = lines_of_table(csv_under((), lines_table(boat)))
    assert [line.name for line in found.lines] == [line.name for line in before.lines]
    for one, other in zip(found.lines, before.lines, strict=True):
        for a, b in zip(one.points, other.points, strict=True):
            assert a == pytest.approx(b, abs=2e-8)  # nine digits of 33 ft


def test_every_column_of_the_exports_names_a_unit_that_is_not_metric():
    answer = demo_answer()
    metric = tuple(f"_{unit}" for unit in IMPERIAL)
    for name, table in exported_tables(answer).items():
        written = FEET.table(table)
        left = [c for c in written.columns if c.endswith(metric) and "thickness" not in c]
        assert left == [], name
        for before, after, old, new in zip(
            table.columns, written.columns, table.rows[0], written.rows[0], strict=True
        ):
            if before == after:
                assert old == new
            elif before.endswith("_kg") and isinstance(old, float):
                assert new == pytest.approx(in_unit(old, "mass", "lb"))


def test_metric_with_a_point_is_byte_for_byte_what_it_was():
    answer = demo_answer()
    heads = (("boat", "x"),)
    for table in exported_tables(answer).values():
        plain = csv_under(heads, table)
        again = csv_under(PLAIN.heads(heads), PLAIN.table(table), PLAIN.separator)
        assert (
            hashlib.sha256(plain.encode()).digest() == hashlib.sha256(again.encode()).digest()
        )
