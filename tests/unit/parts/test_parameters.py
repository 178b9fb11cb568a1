"""Parameter classes: strict, frozen, and enough in their schema to draw a form."""

import json

import pytest
from pydantic import TypeAdapter, ValidationError

from hullchange.parts.parameters import Deckhouse, Plating
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS, LATER, AnyPart

ANY = TypeAdapter(AnyPart)
EXAMPLES = {name: kind.example for name, kind in KINDS.items()}
OLD_HOUSE = {
    "kind": "deckhouse", "x_forward_m": 2.90, "x_aft_m": 7.00,
    "roof_half_breadth_forward_m": 0.78, "roof_half_breadth_aft_m": 1.14, "side_height_m": 0.40,
    "tumblehome_deg": 13, "front_rake_deg": 35, "roof_camber_m": 0.060, "roof_plate_mm": 3,
    "side_plate_mm": 3,
}  # fmt: skip


@pytest.mark.parametrize("name", KINDS)
def test_examples_survive_a_round_trip(name):
    example = EXAMPLES[name]
    plain = json.loads(example.model_dump_json())
    assert ANY.validate_python(plain) == example
    assert ANY.validate_json(json.dumps(plain)) == example
    assert hash(ANY.validate_python(plain)) == hash(example)


@pytest.mark.parametrize("name", KINDS)
def test_examples_can_be_built(name, host):
    example = EXAMPLES[name]
    if name == "transom_extension":  # its heights are those of the demo's transom
        low = float(host.transom_outline()[0, 2])
        heights = {"bottom_forward_z_m": low, "bottom_aft_z_m": low + 0.1}
        example = example.model_copy(update={**heights, "platform_z_m": low + 0.5})
    house = KINDS["deckhouse"].build(EXAMPLES["deckhouse"], Site(host))
    part = KINDS[name].build(example, Site(host, house))
    assert part.kind == name
    assert part.plates
    assert part.side_view


def numbers(schema, root, path=""):
    """Every number of a schema, by its path."""
    if "$ref" in schema:
        schema = root["$defs"][schema["$ref"].rsplit("/", 1)[1]]
    for option in schema.get("anyOf", []):
        yield from numbers(option, root, path)
    for key, value in schema.get("properties", {}).items():
        yield from numbers(value, root, f"{path}.{key}")
    for k, value in enumerate(schema.get("prefixItems", [])):
        yield from numbers(value, root, f"{path}.{k}")
    if schema.get("type") == "number":
        yield path, schema


@pytest.mark.parametrize("name", [name for name in KINDS if name != "plating"])
def test_every_number_has_limits_a_slider_and_a_meaning(name):
    schema = KINDS[name].parameters.model_json_schema()
    found = dict(numbers(schema, schema))
    assert found
    for path, number in found.items():
        assert number["description"], path
        assert number["title"], path
        low, high = number["typical_minimum"], number["typical_maximum"]
        assert number["minimum"] <= low < high <= number["maximum"], path
        assert 0.0 < number["step"] <= (high - low) / 4, path


@pytest.mark.parametrize("name", KINDS)
def test_units_are_in_the_names_and_not_in_the_labels(name):
    schema = KINDS[name].parameters.model_json_schema()
    for key, entry in schema["properties"].items():
        assert not entry["title"].endswith((" m", " mm", " deg"))
        assert entry["title"][0].isupper()
        assert key.isascii()


def test_absent_groups_are_none():
    old = ANY.validate_python(OLD_HOUSE)
    assert isinstance(old, Deckhouse)
    assert old.roof_beams is old.side_windows is old.door is None
    assert old.end_plate_mm == 3.0


@pytest.mark.parametrize(
    ("key", "value", "why"),
    [
        ("side_height", 0.5, "extra_forbidden"),
        ("roof_plate_mm", -3.0, "greater_than_equal"),
        ("roof_plate_mm", 3000.0, "less_than_equal"),
        ("roof_plate_mm", float("nan"), "finite_number"),
        ("roof_plate_mm", "3", "float_type"),
        ("roof_plate_mm", True, "float_type"),
        ("roof_beams", {"spacing_m": 0.4}, "missing"),
        ("roof_beams", {"spacing_m": 0.4, "flat_mm": [50]}, "missing"),
        ("roof_beams", {"spacing_m": 0.4, "flat_mm": [50, 5, 5]}, "too_long"),
        ("side_windows", {"count": 1.5, "size_m": [1, 1], "lower_edge_z_m": 1}, "int_type"),
    ],
)
def test_refused_at_the_door(key, value, why):
    with pytest.raises(ValidationError) as refused:
        ANY.validate_python({**OLD_HOUSE, key: value})
    (error,) = refused.value.errors()
    assert error["type"] == why
    assert error["loc"][1] == key


@pytest.mark.parametrize(
    "heights",
    [
        {},
        {"side_height_m": 0.4, "side_height_aft_m": 0.5},
        {"side_height_forward_m": 0.4},
        {"side_height_aft_m": 0.4},
        {"side_height_m": 0.4, "side_height_forward_m": 0.4, "side_height_aft_m": 0.5},
    ],
)
def test_a_house_has_one_height_or_one_at_each_end(heights):
    plain = {key: value for key, value in OLD_HOUSE.items() if key != "side_height_m"}
    with pytest.raises(ValidationError, match="one height, or one at each end"):
        ANY.validate_python(plain | heights)
    both = plain | {"side_height_forward_m": 0.4, "side_height_aft_m": 0.5}
    assert ANY.validate_python(both).end_heights_m == (0.4, 0.5)


def test_a_part_without_a_kind_or_with_an_unknown_one_is_refused():
    for wrong in ({"x_m": 1.0}, {"kind": "pergola"}, {"kind": "script"}):
        with pytest.raises(ValidationError) as refused:
            ANY.validate_python(wrong)
        assert refused.value.errors()[0]["type"].startswith("union_tag")


def test_kinds_that_come_later_are_named_in_words():
    assert set(LATER) == {
        *("spray_cover", "chain_locker", "bulkhead", "keel_ballast", "tube", "bar"),
        *("rolled_plate", "rudder_trunk", "box", "script"),
    }
    assert not set(LATER) & set(KINDS)
    assert all(sentence.endswith(".") for sentence in LATER.values())


def test_nothing_is_changed_in_place():
    with pytest.raises(ValidationError):
        EXAMPLES["deckhouse"].side_height_m = 1.0


def test_two_corners_are_no_plate():
    with pytest.raises(ValidationError):
        Plating(corners_m=((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), thickness_mm=5.0)
