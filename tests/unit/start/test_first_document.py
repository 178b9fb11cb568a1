"""First documents of boats of every type: they float on their lines; refusals say what fits."""

import re
from dataclasses import replace

import numpy as np
import pytest

from hullchange.afloat.floats_in_conditions import answers_of
from hullchange.boat.boat import boat_of
from hullchange.boat.conditions import conditions_of
from hullchange.boat.figures import figures_of
from hullchange.document.assumed import is_assumed
from hullchange.document.reading import document_of
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange.hull_sources.main_dimensions import TEMPLATES
from hullchange.proposals.appendage_shares import KEELS
from hullchange.start.first_document import first_document
from hullchange.start.proportions import FirstDimensions
from hullchange.survey.as_found import surveyed

SLOOP = FirstDimensions(
    "multi-chine", 11.2, 9.3, 3.4, 9500.0, 1.6, (1.4, 1.0, 1.1), 2.2, "long"
)
TON, FOOT = 1016.05, 0.3048


def drawn(seed):
    """Dimensions of a boat of 6 to 18 m, light or heavy, shoal or deep."""
    draw = np.random.default_rng(seed)
    kind = draw.choice(list(TEMPLATES))
    length = draw.uniform(6.0, 18.0)
    waterline, beam = length * draw.uniform(0.74, 0.93), length**0.7 * draw.uniform(0.58, 0.78)
    mass = TON * draw.uniform(160.0, 320.0) * (waterline / FOOT / 100.0) ** 3
    least = length * draw.uniform(0.06, 0.10)
    ends = least * draw.uniform(1.2, 1.6), least * draw.uniform(1.0, 1.25)
    transom = 0.0 if kind == "canoe-stern" else beam * draw.uniform(0.3, 0.85)
    return FirstDimensions(
        str(kind),
        length,
        waterline,
        beam,
        mass,
        length * draw.uniform(0.12, 0.19),
        (ends[0], least, ends[1]),
        transom,
        str(draw.choice(list(KEELS))),
        float(draw.choice([1000.0, 1025.0])),
    )


def read(given, name="Wren"):
    return document_of(parsed(first_document(name, given)).document())


def afloat(document):
    boat = boat_of(document)
    (condition,) = conditions_of(document).values()
    return answers_of(boat, surveyed(boat), condition)[0].answer


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(16))
def test_she_floats_upright_on_her_lines_at_the_displacement_given(seed):
    given = drawn(seed)
    answer = afloat(read(given))
    assert answer.displacement_kg == pytest.approx(given.displacement, rel=0.01)
    assert answer.heel_deg == pytest.approx(0.0, abs=0.01)
    assert answer.trim_mm == pytest.approx(0.0, abs=3.0)
    assert answer.sinkage_mm == pytest.approx(0.0, abs=3.0)
    assert answer.gm_m > 0.05 * given.beam
    read_off = {f.mark: f.freeboard_mm / 1000.0 for f in answer.freeboards}
    assert tuple(read_off.values()) == pytest.approx(given.freeboards, abs=0.005)


def test_what_was_given_is_hers_and_nothing_else():
    document = read(SLOOP)
    own = {path for path in figures_of(document) if not is_assumed(path, document.assumed)}
    reads = {
        f"survey.marks.{mark}.freeboard_m.{side}"
        for mark in document.survey.marks
        for side in ("port", "starboard")
    }
    assert own == {"hull.length_waterline_m", *reads}


def test_the_keel_reaches_the_draught_and_the_deck_is_cambered():
    document = read(SLOOP)
    boat = boat_of(document)
    assert boat.hull.draught == pytest.approx(1.6, abs=0.001)
    assert document.hull.deck.camber_m == pytest.approx(3.4 / 2 / 30, abs=0.001)
    assert boat.hull.length == pytest.approx(11.2, abs=0.002)
    assert boat.hull.beam == pytest.approx(3.4, abs=0.02)


def test_a_waterline_that_the_lines_do_not_reach_is_not_called_hers():
    document = read(replace(SLOOP, waterline=7.3))
    assert "hull.length_waterline_m" in document.assumed
    assert document.hull.length_waterline_m > 7.35


def test_a_name_in_any_script_stays_as_typed():
    assert read(SLOOP, 'Möwe: "II" # 海鸥').boat.name == 'Möwe: "II" # 海鸥'


def offered(given, pattern):
    """The dimension a refusal offers."""
    with pytest.raises(ModelError) as refusal:
        first_document("Wren", given)
    assert refusal.value.code == "dimensions-disagree"
    return [float(n.replace(",", "")) for n in re.findall(pattern, refusal.value.sentence)]


@pytest.mark.parametrize("draught", [0.3, 0.8, 9.0])
def test_a_draught_that_does_not_fit_is_refused_with_those_that_do(draught):
    (fits,) = offered(replace(SLOOP, draught=draught), r"(?:from|up to) ([\d.]+) m fits")
    read(replace(SLOOP, draught=fits))


def test_a_beam_on_which_she_would_not_stand_is_refused_with_one_that_does():
    narrow = replace(SLOOP, beam=1.9, transom=1.0)
    (beam,) = offered(narrow, r"about ([\d.]+) m she would")
    answer = afloat(read(replace(narrow, beam=beam)))
    assert 0.0 < answer.gm_m < 0.2 * beam


def test_a_displacement_too_small_for_the_keel_is_refused_with_one_that_fits():
    light = replace(SLOOP, displacement=1800.0, draught=2.4)
    (mass,) = offered(light, r"about ([\d,]+) kg it fits")
    afloat(read(replace(light, displacement=mass)))


@pytest.mark.parametrize(
    "wrong",
    [
        {"displacement": float("nan")},
        {"draught": float("nan")},
        {"beam": 0.1},
        {"waterline": 12.0},
        {"displacement": 950_000.0},
        {"freeboards": (0.5, 1.0, 1.1)},
        {"transom": -1.0},
    ],
)
def test_dimensions_that_cannot_be_are_refused(wrong):
    with pytest.raises(ModelError) as refusal:
        first_document("Wren", replace(SLOOP, **wrong))
    assert refusal.value.code == "dimensions-disagree"
