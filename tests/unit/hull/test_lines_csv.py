"""Lines from a table."""

import pytest

from hullchange.errors import DocumentError, ModelError
from hullchange.hull.lines_csv import lines_of_csv

TABLE = """line,kind,x_m,y_m,z_m
Lower_chine,chine,0,0.5,-0.25
lower chine,chine,1.5,0.75,-0.5

sheer,sheer,0,1,1
"""


def test_a_table_is_read_by_name():
    lines = lines_of_csv(TABLE)
    assert list(lines) == ["lower-chine", "sheer"]
    assert lines["lower-chine"].points == ((0.0, 0.5, -0.25), (1.5, 0.75, -0.5))
    assert lines["sheer"].kind == "sheer"


def test_columns_may_stand_in_any_order_with_more_beside_them():
    lines = lines_of_csv("z_m,Y_m,note,X_M,kind,line\n3,2,hello,1,fair,bilge\n")
    assert lines["bilge"].points == ((1.0, 2.0, 3.0),)


ABOVE = 'boat,Dot\nnote,"two\nlines, of a kind"\n\n'


def test_what_stands_above_the_heading_is_passed_over():
    assert lines_of_csv(ABOVE + TABLE) == lines_of_csv(TABLE)
    with pytest.raises(DocumentError) as refusal:
        lines_of_csv(ABOVE + TABLE + "4,5\n")
    assert [fault.place for fault in refusal.value.faults] == ["line 10"]


@pytest.mark.parametrize("separator", [";", "\t"])
def test_decimal_commas(separator):
    text = "\ufeff" + TABLE.replace(",", separator).replace(".", ",")
    assert lines_of_csv(text) == lines_of_csv(TABLE)


def test_every_bad_row_is_named_by_its_number():
    text = "\n" + TABLE + "sheer,sheer,1,one,1\nsheer,chine,2,1,1\nsheer,gunwale,3,1,1\n4,5\n"
    text += "sheer,sheer,nan,1,1\n,sheer,1,1,1\n"
    with pytest.raises(DocumentError) as refusal:
        lines_of_csv(text)
    faults = refusal.value.faults
    assert [fault.place for fault in faults] == [f"line {n}" for n in range(7, 13)]
    assert {fault.code for fault in faults} == {"bad-row"}
    assert "y_m 'one' is not a number" in faults[0].sentence


@pytest.mark.parametrize(
    "junk", ["", "\n\n", "a,b\n1,2\n", "\0" * 50, "x" * 10_000_000, "line,kind,x_m,y_m,z_m\n"]
)
def test_junk_is_refused_in_one_sentence(junk):
    with pytest.raises(ModelError) as refusal:
        lines_of_csv(junk)
    assert refusal.value.code == "not-a-lines-table"
    assert len(refusal.value.sentence) < 200


def test_a_long_list_of_bad_rows_is_cut_short():
    with pytest.raises(DocumentError) as refusal:
        lines_of_csv(TABLE + "sheer,sheer,?,1,1\n" * 1000)
    assert len(refusal.value.faults) == 31
    assert refusal.value.faults[-1].sentence == "970 more rows cannot be read."
