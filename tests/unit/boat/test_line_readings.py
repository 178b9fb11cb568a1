"""The document's readings compared: what was taped, what was read again, and how often."""

from copy import deepcopy

import pytest
from refits import demo_document

from hullchange.assess.assessment import assessment
from hullchange.assess.lines import lines_result
from hullchange.boat.boat import boat_of
from hullchange.boat.line_readings import reading_findings, readings_of
from hullchange.document.reading import document_of

ENDS = {"from": {"line": "sheer", "at_x_m": 10.95}, "to": {"line": "sheer", "at_x_m": 10.95}}
POINT = 14  # of the sheer, at its after end


def with_hull(change):
    """The demo's document with its hull changed."""
    plain = deepcopy(demo_document())
    change(plain["hull"])
    return document_of(plain)


def breadth_aft(hull):
    """The whole breadth of the sheer aft, by the readings [m]."""
    return 2.0 * hull["lines"]["sheer"]["points_m"][POINT][1]


def taped(hull, distance):
    hull["taped"] = {
        "breadth-aft": {
            **ENDS,
            "to": {**ENDS["to"], "side": "port"},
            "distance_m": distance,
            "note": "two people, steel tape",
        }
    }


def test_a_tape_that_fits_says_nothing():
    document = with_hull(lambda hull: taped(hull, breadth_aft(hull) + 0.004))
    assert reading_findings(document) == ()
    (tape,) = readings_of(document).tapes
    assert tape.tape.distance - tape.by_readings == pytest.approx(0.004)
    assert tape.scatter == pytest.approx((0.005**2 + (2 * 0.005) ** 2) ** 0.5, rel=0.25)
    assert tape.fits


def test_a_tape_that_does_not_fit_names_both_points():
    document = with_hull(lambda hull: taped(hull, breadth_aft(hull) - 0.12))
    found = {finding.code: finding for finding in reading_findings(document)}
    assert found["taped-does-not-fit"].place == "hull.taped.breadth-aft"
    assert "to port" in found["taped-does-not-fit"].sentence
    assert found["reading-does-not-fit"].place == f"hull.lines.sheer.points_m[{POINT}]"


def test_read_again_closes_the_doubt_and_the_note_stays():
    def slip(hull):
        hull["lines"]["sheer"]["points_m"][5][2] += 0.1

    (doubt,) = reading_findings(with_hull(slip))
    assert doubt.place == "hull.lines.sheer.points_m[5]"
    assert "hull.read_again" in doubt.sentence

    def slip_read_again(hull):
        slip(hull)
        x = hull["lines"]["sheer"]["points_m"][5][0]
        hull["read_again"] = {"bump": {"line": "sheer", "at_x_m": x, "note": "a dent"}}

    document = with_hull(slip_read_again)
    assert reading_findings(document) == ()
    assert document.hull.read_again["bump"].note == "a dent"


def test_what_was_taped_stays_when_other_points_come_and_go():
    def more_points(hull):
        taped(hull, breadth_aft(hull) - 0.12)
        points = hull["lines"]["sheer"]["points_m"]
        del points[7]
        points.insert(3, [(a + b) / 2.0 for a, b in zip(points[2], points[3], strict=True)])

    findings = reading_findings(with_hull(more_points))
    assert "taped-does-not-fit" in {finding.code for finding in findings}


def test_an_edit_of_anything_else_does_not_compare_again():
    plain = deepcopy(demo_document())
    before = readings_of(document_of(plain))
    plain["survey"]["vcg"]["z_m"] += 0.01
    plain["hull"]["deck"]["camber_m"] = 0.07
    assert readings_of(document_of(plain)) is before


def test_a_document_without_tapes_keeps_its_values():
    document = with_hull(lambda _: None)
    assert not {"taped", "read_again"} & set(document.hull.model_dump())
    with_one = with_hull(lambda hull: taped(hull, 2.0))
    assert set(with_one.hull.model_dump()["taped"]) == {"breadth-aft"}


def test_a_drag_of_the_lines_waits_for_no_comparison_and_the_whole_answer_has_it():
    def slip(hull):
        hull["lines"]["sheer"]["points_m"][5][2] += 0.1

    before, after = boat_of(document_of(demo_document())), boat_of(with_hull(slip))
    condition = after.document.reference_condition

    def found(built, **how):
        answer = assessment(built, only=condition, levers=None, **how)
        assert answer.lines is None
        return "reading-does-not-fit" in {finding.code for finding in answer.findings}

    assert not found(after, before=before)
    assert found(after, before=after)
    whole = assessment(after, levers=None)
    assert whole.lines.worst[0] == "hull.lines.sheer.points_m[5]"
    assert "reading-does-not-fit" in {finding.code for finding in whole.findings}


@pytest.mark.parametrize(
    ("source", "codes"), [("tape", ["reading-does-not-fit"]), ("scan", [])]
)
def test_lines_that_nobody_read_are_not_to_be_measured_again(source, codes):
    def slip(hull):
        hull["lines"]["sheer"]["points_m"][5][2] += 0.1
        hull["from"] = {"source": source}

    document = with_hull(slip)
    assert [finding.code for finding in reading_findings(document)] == codes
    assert bool(lines_result(boat_of(document)).asked) == bool(codes)
