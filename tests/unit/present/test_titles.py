"""Names in any script beside their keys."""

import csv
from io import StringIO

import pytest
from refits import demo

from hullchange.document.document import Document
from hullchange.present.csv_table import CsvTable, csv_under
from hullchange.present.titles import titled
from hullchange.present.writing import Writing

TITLES = {"chayka": "Чайка", "aigaio": "Αιγαίο", "weight-1": "海鸥"}


def test_a_row_says_what_its_keys_are_called():
    rows = [("chayka", "changes.chayka.adds.aigaio", 1.5), ("bow", "weights.weight-1", 2.0)]
    table = titled(
        CsvTable.of("change path mass_kg", [*rows, ("bow", "x.anchor", 3.0)]), TITLES
    )
    assert table.columns == ("change", "path", "mass_kg", "called")
    assert [row[-1] for row in table.rows] == ["Чайка, Αιγαίο", "海鸥", ""]


def test_a_table_without_such_a_key_is_as_it_was():
    table = CsvTable.of("change title", [("bow", "chayka")])
    assert titled(table, TITLES) is table
    assert titled(table, {}) is table


@pytest.mark.parametrize("name", TITLES.values())
def test_a_csv_with_a_comma_and_feet_holds_the_name(name):
    table = titled(CsvTable.of("id x_m", [("weight-1", 0.3048)]), {"weight-1": name})
    writing = Writing("imperial", "comma")
    text = csv_under((), writing.table(table), writing.separator)
    rows = list(csv.reader(StringIO(text.lstrip()), delimiter=";"))
    assert rows == [["id", "x_ft", "called"], ["weight-1", "1", name]]


def test_a_document_without_titles_is_written_as_before():
    document = demo()[0].document
    assert "titles" not in document.model_dump()
    named = Document.model_validate(
        document.model_dump(by_alias=True, mode="json") | {"titles": TITLES}
    )
    assert named.model_dump()["titles"] == TITLES
