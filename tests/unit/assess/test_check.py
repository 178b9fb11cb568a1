"""Whether a document can be assessed: floats and options included, with line numbers."""

import pytest
from refits import SALTMARROW, barge_document, boat, problems_of

from hullchange.assess.check import check_document, require_afloat
from hullchange.errors import DocumentError
from hullchange.start.invented import starting_document


def written(folder, text):
    path = folder / "boat.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_saltmarrow_can_be_assessed():
    assert {(f.code, str(f.severity)) for f in check_document(SALTMARROW)} >= {
        ("vcg-typed", "note")
    }
    assert {f.severity for f in check_document(SALTMARROW)} <= {"warn", "note"}
    assert problems_of(SALTMARROW) == ()


def test_each_condition_she_does_not_float_in_is_reported_and_takes_none_with_it(tmp_path):
    text = starting_document("Dot").replace("crew: {mass_kg: 225", "crew: {mass_kg: 90000")
    path = written(tmp_path, text)
    assert problems_of(path) == ()
    sunk = [f for f in check_document(path) if f.code == "sinks"]
    assert {(f.place, str(f.severity)) for f in sunk} == {("conditions.cruising", "fail")}
    assert len(sunk) == 2  # both boats
    assert "The refit in condition cruising has no results. She sinks" in sunk[1].sentence


def test_a_boat_that_sinks_in_her_reference_condition_is_refused():
    stone = {"loads": {"stone": {"mass_kg": 200_000, "at_m": [6, 0, 0]}}}
    plain = barge_document(
        12, 4, 1, 2.5, 0.2, reference_condition="one", conditions={"two": {}, "one": stone}
    )
    with pytest.raises(DocumentError) as refused:
        require_afloat(boat(plain))
    (fault,) = refused.value.faults
    assert (fault.code, fault.place) == ("sinks", "conditions.one")
    assert "name another one under reference_condition" in fault.sentence
    require_afloat(boat({**plain, "reference_condition": "two"}))


def test_an_option_that_cannot_be_built_is_reported_at_the_option(tmp_path):
    text = starting_document("Dot") + (
        "options:\n  thin:\n    set: {changes.drive.parts.battery-shelf.corners_m: "
        "[[4, 0, 0], [5, 0, 0], [6, 0, 0]]}\n"
    )
    (fault,) = problems_of(written(tmp_path, text))
    assert fault.place == "options.thin"
    assert "battery-shelf" in fault.sentence
    assert text.splitlines()[fault.line - 1].strip() == "thin:"


def test_readings_that_contradict_are_found(tmp_path):
    text = starting_document("Dot").replace("port: 1.002", "port: 1.102")
    assert "freeboards-disagree" in {f.code for f in check_document(written(tmp_path, text))}


def test_nothing_is_written(tmp_path):
    path = written(tmp_path, starting_document("Dot"))
    before = path.read_bytes()
    check_document(path)
    assert [*tmp_path.iterdir()] == [path]
    assert path.read_bytes() == before
