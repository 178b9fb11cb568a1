"""Dotted paths: read, set, taken away; what is typed after --set."""

import copy
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.document.paths import assignment, value_at, with_value, without_value
from hullchange.document.reading import document_of
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError

EXAMPLE = Path(__file__).parents[3] / "examples/saltmarrow.yaml"
HOUSE = "changes.deckhouse.parts.house"


@cache
def example():
    return parsed(EXAMPLE.read_text(encoding="utf-8")).document()


@pytest.fixture
def plain():
    return copy.deepcopy(example())


def leaves(value, path=""):
    """Path of every single value."""
    if not isinstance(value, dict | list):
        yield path
        return
    items = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in items:
        yield from leaves(inner, f"{path}.{key}" if path else str(key))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (f"{HOUSE}.side_height_m", 0.58),
        ("changes.electric-drive.adds.battery.at_m.x", 5.35),
        ("changes.electric-drive.adds.battery.at_m.2", -0.38),
        ("changes.electric-drive.adds.battery.at_m[2]", -0.38),
        ("hull.lines.sheer.points_m.3.z", 1.35),
        ("hull.lines.sheer.points_m[3].z", 1.35),
        ("tanks.water.box_m.y", [-0.5, 0.5]),
        ("survey.aboard.water.fill_l", 190),
        ("water", "salt"),
        (f"{HOUSE}.door.corner_radius_m", 0.05),
        ("changes.bow.parts.platform.bracket_m.1", 0.25),
        ("allowances.weld_metal_percent", 2.0),
    ],
)
def test_a_value_is_read_by_its_path_or_by_its_default(plain, path, value):
    assert value_at(plain, path) == value


@pytest.mark.parametrize(
    ("path", "near"),
    [
        (f"{HOUSE}.side_heigth_m", "side_height_m"),
        ("changes.dekhouse.parts.house.side_height_m", "deckhouse"),
        ("changes.bow.adds.anchor.at_m.q", "x, y, z"),
        ("changes.bow.adds.anchor.at_m.3", "x, y, z"),
        ("hull.lines.sheer.points_m.15.x", "0 to 14"),
        ("survey.aboard.water.mass_kg", "fill_l"),
        ("chnges", "changes"),
        ("changes.bow.stage.more", "proposed"),
        ("water.density_kg_m3", "salt"),
    ],
)
@pytest.mark.parametrize(
    "question", [value_at, lambda d, p: with_value(d, p, 1), without_value]
)
def test_an_unknown_path_is_refused_and_the_nearest_known_is_named(plain, question, path, near):
    with pytest.raises(ModelError) as refused:
        question(plain, path)
    assert refused.value.code == "unknown-path"
    assert refused.value.place == path
    if question is not without_value:
        assert near in refused.value.sentence


def test_a_known_path_without_a_value_says_so(plain):
    with pytest.raises(ModelError) as refused:
        value_at(plain, "changes.bow.note")
    assert refused.value.code == "no-value"


@given(st.data())
def test_what_is_set_is_read_and_nothing_else_changes(data):
    before = example()
    # below set, the keys of an option are paths themselves
    paths = [path for path in leaves(before) if ".set." not in path]
    path = paths[data.draw(st.integers(0, len(paths) - 1))]
    untouched = copy.deepcopy(before)
    after = with_value(before, path, 0.4321)
    assert value_at(after, path) == 0.4321
    assert before == untouched
    assert with_value(after, path, value_at(before, path)) == before
    rest = {p: value_at(after, p) for p in paths[::40] if p != path}
    assert rest == {p: value_at(before, p) for p in rest}


def test_groups_are_made_where_the_grammar_has_them(plain):
    del plain["changes"]["arch"]["adds"]
    del plain["stock"]
    for path, value in [
        ("changes.arch.adds.arch", {"mass_kg": 148, "at_m": [10.75, 0, 2.15]}),
        ("changes.cockpit.parts.cockpit.stiffeners.spacing_m", 0.25),
        ("allowances.paint_kg_m2", 0.3),
        ("changes.bow.parts.platform.bracket_m.x", 0.4),
        ("conditions.departure.fills.water", 300),
        ("stock.plates.3-mm.price", 2.5),
    ]:
        if path.startswith("stock"):
            plain = with_value(plain, "stock.plates.3-mm", {"thickness_mm": 3})
        plain = with_value(plain, path, value)
        assert value_at(plain, path) == value
    assert plain["allowances"] == {"paint_kg_m2": 0.3}
    assert plain["changes"]["bow"]["parts"]["platform"]["bracket_m"] == [0.4, 0.25]
    assert document_of(plain).allowances.weld_metal_percent == 2


def test_taking_away_and_putting_back_restores_the_document(plain):
    path = "changes.bow.adds.anchor"
    anchor = value_at(plain, path)
    assert "anchor" not in value_at(without_value(plain, path), "changes.bow.adds")
    assert with_value(without_value(plain, path), path, anchor) == plain
    assert with_value(plain, path, None) == without_value(plain, path)
    shorter = without_value(plain, "conditions.stripped.without.1")
    assert value_at(shorter, "conditions.stripped.without") == ["water"]
    assert plain == example()


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("survey.vcg.z_m=0.12", "survey.vcg.z_m", 0.12),
        ("a.b = [1, 2.5]", "a.b", [1, 2.5]),
        ("a={x: 1, y: [a, b]}", "a", {"x": 1, "y": ["a", "b"]}),
        ("note.text=5 = 5", "note.text", "5 = 5"),
        ("water=fresh", "water", "fresh"),
        ("changes.arch=null", "changes.arch", None),
        ("changes.arch=", "changes.arch", None),
        ("a='5'", "a", "5"),
    ],
)
def test_an_assignment_is_a_path_and_a_value(text, path, value):
    assert assignment(text) == (path, value)


@pytest.mark.parametrize(
    "text", ["", "=", "=3", "a", "a..b=3", ".a=3", "a=[1,", "a=&x 1", "a=b: c: d"]
)
def test_what_is_no_assignment_is_refused(text):
    with pytest.raises(ModelError) as refused:
        assignment(text)
    assert refused.value.code == "not-an-assignment"


@pytest.mark.parametrize("path", ["", ".", "..", "[]", "[.]"])
@pytest.mark.parametrize(
    "write", [lambda plain, path: with_value(plain, path, 1), without_value]
)
def test_a_path_without_a_step_names_no_value(plain, path, write):
    with pytest.raises(ModelError) as refusal:
        write(plain, path)
    assert refusal.value.code == "unknown-path"
