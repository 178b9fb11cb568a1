"""The document's classes, and what they say of what is wrong."""

import copy
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError
from refits import assessed, barge_document, problems_of

from hullchange.document.document import Document, Target
from hullchange.document.items import DocumentTank, DocumentWeight
from hullchange.document.lines_file import plain_lines
from hullchange.document.paths import with_value
from hullchange.document.reading import document_of, read_document
from hullchange.document.sections import Survey, Water
from hullchange.errors import DocumentError
from hullchange.hull.lines_csv import COLUMNS
from hullchange.start.invented import starting_document

EXAMPLE = Path(__file__).parents[3] / "examples/saltmarrow.yaml"
JARGON = ("Input ", "valid", "type=", "pydantic", "tuple", "dict", "NoneType", "field")


@cache
def example():
    return read_document(EXAMPLE)


@pytest.fixture
def reading():
    return example()


@pytest.fixture
def plain(reading):
    return copy.deepcopy(reading.plain)


def faults_of(plain):
    with pytest.raises(DocumentError) as refused:
        document_of(plain)
    return refused.value.faults


def with_words_as_numbers(value):
    """The plain document as the classes keep it: waters as densities, all numbers decimal."""
    match value:
        case "salt":
            return {"density_kg_m3": 1025.0}
        case "fresh":
            return {"density_kg_m3": 1000.0}
        case dict():
            return {key: with_words_as_numbers(inner) for key, inner in value.items()}
        case list():
            return [with_words_as_numbers(inner) for inner in value]
        case _:
            return value


def test_every_key_of_the_example_is_kept_as_it_is_written(reading, plain):
    plain["tanks"]["water"].pop("contents")  # fresh there is a liquid by name
    written = reading.document.model_dump(mode="json", by_alias=True, exclude_unset=True)
    assert written["tanks"]["water"].pop("contents") == "fresh"
    assert written == with_words_as_numbers(plain)


def test_the_example_is_read_by_its_names(reading):
    boat = reading.document
    assert boat.changes["deckhouse"].parts["house"].side_height_m == 0.58
    assert boat.changes["deckhouse"].parts["mast-support"].stand == "house"
    assert boat.changes["electric-drive"].adds["battery"].may_lie_m.x == (3.5, 7.0)
    assert boat.survey.aboard["water"].fill_l == 190
    assert boat.survey.vcg.from_ == "inclining"
    assert boat.survey.vcg.note == "readings lost, so KM is unknown"
    assert boat.hull.appendages["skeg-and-rudder"].half_thickness_m == 0.045
    assert boat.allowances.weld_metal_percent == 2
    assert list(boat.hull.lines) == ["centreline", "lower-chine", "upper-chine", "sheer"]


def test_lines_from_the_table_are_those_of_the_document(reading, plain):
    for lines in (
        {"lines": {"file": "saltmarrow-lines.csv"}},
        {"file": "saltmarrow-lines.csv"},
    ):
        plain["hull"] = {k: v for k, v in plain["hull"].items() if k != "lines"} | lines
        assert document_of(plain, EXAMPLE.parent).hull.lines == reading.document.hull.lines


def test_lines_in_a_table_are_named_with_hyphens():
    table = ",".join(COLUMNS) + "\nUpper_chine,chine,0,0.28,0.58\n"
    assert plain_lines(table) == {
        "upper-chine": {"kind": "chine", "points_m": [[0.0, 0.28, 0.58]]}
    }


def test_a_document_cannot_be_changed_in_place(reading):
    with pytest.raises(ValidationError):
        reading.document.water = Water(density_kg_m3=1000)
    with pytest.raises(ValidationError):
        reading.document.survey.vcg.z_m = 0.2


@pytest.mark.parametrize(
    ("origin", "sd_mass", "sd_place"),
    [
        ("weighed", 2.0, (0.020, 0.020, 0.010)),
        ("drawn", 10.0, (0.020, 0.020, 0.010)),
        ("catalogue", 10.0, (0.050, 0.050, 0.050)),
        ("guessed", 30.0, (0.050, 0.050, 0.050)),
    ],
)
def test_without_plus_minus_the_figures_origin_gives_it(origin, sd_mass, sd_place):
    weight = DocumentWeight.model_validate({"mass_kg": 200, "at_m": [1, 0, 2], "from": origin})
    assert weight.sd_mass() == pytest.approx(sd_mass, rel=1e-12)
    assert weight.sd_place() == sd_place


def test_a_given_plus_minus_counts_and_nothing_given_is_a_guess():
    given = {"mass_kg": 200, "at_m": [1, 0, 2], "plus_minus_kg": 0, "plus_minus_m": 0.1}
    assert DocumentWeight.model_validate(given | {"from": "guessed"}).sd_mass() == 0
    assert DocumentWeight.model_validate(given).sd_place() == (0.1, 0.1, 0.1)
    three = given | {"plus_minus_m": [0.2, 0.1, 0.3]}
    assert DocumentWeight.model_validate(three).sd_place() == (0.2, 0.1, 0.3)
    assert DocumentWeight.model_validate({"mass_kg": 200, "at_m": [1, 0, 2]}).from_ == "guessed"


@pytest.mark.parametrize(
    ("bound", "low", "high"),
    [
        ({"between": [-25, 25]}, -25, 25),
        ({"at_least": 0.95}, 0.95, float("inf")),
        ({"at_most": 3}, -float("inf"), 3),
        ({"at_least_mm": 1060}, 1060, float("inf")),
    ],
)
def test_a_target_has_bounds(bound, low, high):
    target = Target.model_validate({"result": "gm_m", "condition": "departure", **bound})
    assert target.bounds() == (low, high)


def test_a_tank_knows_its_liquid():
    place = {"at_m": [0, 0, 0], "capacity_l": 10}
    assert DocumentTank.model_validate({**place, "contents": "fresh"}).liquid_density() == 1000
    assert DocumentTank.model_validate({**place, "contents": "salt"}).liquid_density() == 1025
    assert DocumentTank.model_validate({**place, "density_kg_m3": 840}).liquid_density() == 840
    for wrong in ({}, {"contents": "salt", "density_kg_m3": 840}):
        with pytest.raises(ValidationError):
            DocumentTank.model_validate(place | wrong)


def test_an_inclining_is_kept_as_it_was_read(plain):
    readings = [{"moment_kgm": 60, "heel_deg": 1.1}, {"moment_kgm": -60, "heel_deg": -1.2}]
    plain["survey"].pop("vcg")
    plain["survey"]["inclining"] = {"readings": readings, "water": "fresh"}
    survey = document_of(plain).survey
    assert isinstance(survey, Survey)
    assert [r.moment_kgm for r in survey.inclining.readings] == [60, -60]
    assert survey.inclining.water.density_kg_m3 == 1000


def test_the_shortest_document_has_a_condition_to_run():
    plain = read_document(Path(__file__).parents[2] / "wrong/sound.yaml").document
    assert list(plain.conditions) == [plain.reference_condition]


@pytest.mark.parametrize(
    ("conditions", "reference"),
    [
        ({"cruising": {}, "home": {}}, "cruising"),
        ({"cruising": {}, "survey-state": {}}, "survey-state"),
        ({}, "survey-state"),
    ],
)
def test_a_document_that_names_no_reference_condition_has_one(conditions, reference):
    answer = assessed({**barge_document(12, 4, 1, 2.5, 0.2), "conditions": conditions})
    assert answer.reference_condition == reference
    assert reference in {row.id for row in answer.conditions}


@pytest.mark.parametrize("name", ["Tern", 'So: "called"', "Ärger # 2", "12", "yes", "null"])
def test_the_start_is_sound_and_carries_the_boats_name(tmp_path, name):
    path = tmp_path / "boat.yaml"
    path.write_text(starting_document(name), encoding="utf-8")
    assert read_document(path).document.boat.name == name


def test_a_boat_can_be_built_of_example_and_start(tmp_path):
    start = tmp_path / "boat.yaml"
    start.write_text(starting_document("Tern"), encoding="utf-8")
    assert problems_of(EXAMPLE) == problems_of(start) == ()


def test_a_key_in_another_unit_is_one_fault_with_the_number_in_the_right_one(plain):
    house = plain["changes"]["deckhouse"]["parts"]["house"]
    house["side_height_mm"] = house.pop("side_height_m") * 1000
    (fault,) = faults_of(plain)
    assert fault.place == "changes.deckhouse.parts.house.side_height_mm"
    assert fault.sentence.endswith("write side_height_m: 0.58.")


def test_faults_of_every_sort_are_listed_in_one_go(plain):
    plain["boat"]["persons"] = "4"
    plain["targets"]["stiff"]["condition"] = "depature"
    plain["changes"]["bow"]["adds"]["anchor"]["at_m"][0] = 60
    plain["changes"]["cockpit"]["parts"]["cockpit"]["plate_mm"] = -4
    places = [fault.place for fault in faults_of(plain)]
    assert places == [
        "boat.persons",
        "changes.cockpit.parts.cockpit.plate_mm",
        "targets.stiff.condition",
        "changes.bow.adds.anchor.at_m.x",
    ]


def test_a_hundred_faults_are_enough(plain):
    plain["changes"] |= {f"C{i}": {} for i in range(5000)}
    assert len(faults_of(plain)) <= 100


def places_in(value, path=()):
    """Every place of a plain value."""
    yield path
    if isinstance(value, dict | list):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from places_in(inner, (*path, key))


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["kind", "mass_kg", "at_m", "like", "x", "tank"]), inner
        )
    ),
    max_leaves=6,
)


@given(st.data())
def test_whatever_stands_in_a_document_it_is_read_or_refused_in_plain_words(data):
    plain = copy.deepcopy(example().plain)
    places = [path for path in places_in(plain) if path]
    for index in data.draw(st.lists(st.integers(0, len(places) - 1), min_size=1, max_size=3)):
        path = places[index]
        holder = plain
        for step in path[:-1]:
            holder = (
                holder[step] if isinstance(holder, list | dict) and _has(holder, step) else {}
            )
        if isinstance(holder, dict | list) and _has(holder, path[-1]):
            holder[path[-1]] = data.draw(anything)
    try:
        assert isinstance(document_of(plain), Document)
    except DocumentError as refused:
        for fault in refused.faults:
            assert fault.code
            assert fault.sentence.endswith(".")
            assert not any(word in fault.sentence for word in JARGON), fault


def _has(holder, step):
    if isinstance(holder, dict):
        return step in holder
    return isinstance(step, int) and step < len(holder)


@pytest.mark.parametrize("number", [10**400, -(10**400), 2**1024])
@pytest.mark.parametrize(
    "path",
    [
        *("hull.length_waterline_m", "hull.lines.sheer.points_m.0.x", "hull.kind", "boat.name"),
        *("tanks.water.capacity_l", "tanks.water.box_m.x.0", "conditions.departure.fills.fuel"),
        *("changes.bow.adds.anchor.at_m.x", "boat.persons", "format"),
    ],
)
def test_a_number_too_long_to_reckon_with_is_refused_where_it_stands(plain, path, number):
    faults = faults_of(with_value(plain, path, number))
    assert path.removesuffix(".0").removesuffix(".0.x") in faults[0].place


@pytest.mark.parametrize("word", ["maybe", 3.5, 2, [], {}])
def test_what_is_no_flag_is_called_so(plain, word):
    place = "changes.cockpit.parts.cockpit.forward_coaming"
    (fault,) = faults_of(with_value(plain, place, word))
    assert (fault.code, fault.place) == ("not-a-flag", place)


def test_a_name_that_is_too_long_is_refused_in_characters(plain):
    plain["boat"]["name"] = "Tern " * 21
    (fault,) = faults_of(plain)
    assert (fault.code, fault.place) == ("too-long", "boat.name")
    assert fault.sentence == "name is longer than 100 characters: shorten it."
    plain["boat"]["name"] = "T" * 100
    document_of(plain, EXAMPLE.parent)
