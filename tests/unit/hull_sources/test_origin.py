"""Where lines come from, in the document: strict, and its error goes through every answer."""

import copy

import pytest
from refits import assessed, barge_document, row

from hullchange.document.reading import document_of
from hullchange.errors import DocumentError


def barge(origin=None):
    plain = copy.deepcopy(barge_document(10.0, 3.0, 0.6, 1.8, 0.1))
    if origin is not None:
        plain["hull"]["from"] = origin
    return plain | {"conditions": {"as-is": {}}, "reference_condition": "as-is"}


def gm_plus_minus(plain):
    return row(assessed(plain), "as-is", "as_found").plus_minus.gm_m


def test_a_guessed_hull_is_less_certain_than_a_measured_one():
    measured = gm_plus_minus(barge())
    assert gm_plus_minus(barge({"source": "points"})) == measured
    assert gm_plus_minus(barge({"source": "points", "plus_minus_m": 0.02})) > 1.2 * measured
    guessed = barge({"source": "dimensions", "plus_minus_m": 0.15, "note": "a brochure"})
    assert gm_plus_minus(guessed) > 5.0 * measured
    # errors that run along lines do not average out as those of single readings do
    one_by_one = gm_plus_minus(barge({"source": "points", "plus_minus_m": 0.15}))
    assert gm_plus_minus(guessed) != pytest.approx(one_by_one, rel=0.05)
    assert {f.code for f in assessed(guessed).findings} >= {"hull-guessed"}
    assert "hull-guessed" not in {f.code for f in assessed(barge()).findings}


@pytest.mark.parametrize(
    ("origin", "place"),
    [
        ({"source": "dream"}, "hull.from.source"),
        ({"source": "scan", "plus_minus_m": 0.0}, "hull.from.plus_minus_m"),
        ({"source": "scan", "plus_minus_m": 3.0}, "hull.from.plus_minus_m"),
        ({"source": "scan", "plusminus": 0.1}, "hull.from.plusminus"),
        ({}, "hull.from.source"),
    ],
)
def test_an_origin_is_strict(origin, place):
    with pytest.raises(DocumentError) as caught:
        document_of(barge(origin))
    assert [fault.place for fault in caught.value.faults] == [place]
