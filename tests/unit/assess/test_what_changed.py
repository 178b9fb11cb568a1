"""An edit costs what it changes: everything else is found in the cache. Counted, not timed."""

import pytest
from refits import assessed, barge_document, boat, weight, with_all, with_plates

from hullchange.assess import assessment
from hullchange.boat import boat as ledger
from hullchange.boat import built as building
from hullchange.boat.profile import profile_of
from hullchange.cache import Recent
from hullchange.input_checks import overlaps
from hullchange.present import scene

PLATES = 12
PLATE = "changes.plates.parts.plate-5"


@pytest.fixture
def counted(monkeypatch):
    """Calls of a function by its place, each as what it was handed."""

    def count(module, name):
        calls, function = [], getattr(module, name)

        def counting(*given, **more):
            calls.append(given)
            return function(*given, **more)

        monkeypatch.setattr(module, name, counting)
        return calls

    return count


def plated():
    conditions = {
        "light": {},
        "laden": {"loads": {"crew": weight(300.0, (6.0, 0.0, 0.5))}},
    }
    adds = {"adds": {"engine": weight(350.0, (9.0, 0.1, -0.2))}}
    plain = barge_document(
        12.0,
        4.0,
        1.0,
        2.5,
        0.2,
        conditions=conditions,
        reference_condition="light",
        changes={"drive": adds},
        targets={"level": {"result": "trim_mm", "condition": "light", "between": [-90, 90]}},
    )
    return with_plates(plain, PLATES)


def shown(plain):
    """All that a page shows of a document."""
    built = boat(plain)
    answer = assessed(plain)
    profile_of(built, 6.0)
    return built, answer, [piece.name for piece in scene.scene_pieces(built)]


def test_one_plate_is_built_weighed_and_compared_alone(counted):
    shown(plated())
    weighed = counted(building, "weigh")
    entered = counted(ledger, "steel_entries")
    compared = counted(overlaps, "_found")
    one = with_all(plated(), {f"{PLATE}.thickness_mm": 6.0})
    _, answer, _ = shown(one)
    assert len(weighed) == 1
    assert [part for _, _, part, *_ in entered] == ["plate-5"]
    assert {name for pair in compared for name in (part.id for part in pair)} <= {"plate-5"}
    assert len(answer.parts) == PLATES


def test_a_plate_that_comes_near_another_is_compared_with_it_alone(counted):
    plain = plated()
    shown(plain)
    compared = counted(overlaps, "_found")
    corners = plain["changes"]["plates"]["parts"]["plate-6"]["corners_m"]
    near = [[x + 0.01, y, z] for x, y, z in corners]
    shown(with_all(plain, {f"{PLATE}.corners_m": near}))
    assert [(one.id, other.id) for one, other in compared] == [("plate-5", "plate-6")]


def test_one_mesh_has_another_name():
    _, _, before = shown(plated())
    _, _, after = shown(with_all(plated(), {f"{PLATE}.thickness_mm": 7.0}))
    assert len(before) == len(after)
    assert sum(one != other for one, other in zip(before, after, strict=True)) == 1


def test_one_load_is_floated_and_heeled_in_its_condition_alone(counted):
    assessed(plated())
    heeled = counted(assessment, "with_stability")
    floated = counted(assessment, "answers_of")
    effects = counted(assessment, "change_effects")
    assessed(with_all(plated(), {"conditions.laden.loads.crew.mass_kg": 320.0}))
    assert [condition.id for _, _, condition in floated] == ["laden"]
    assert [(row.stage, row.condition.id) for _, row, *_ in heeled] == [("refit", "laden")]
    assert effects == []


@pytest.mark.parametrize("path", ["targets.level", "options.other", "stock.plates.thin"])
def test_what_no_float_depends_on_floats_nothing(counted, path):
    given = {
        "targets.level": {"result": "gm_m", "condition": "light", "at_least": 0.5},
        "options.other": {"set": {f"{PLATE}.thickness_mm": 5.0}},
        "stock.plates.thin": {"thickness_mm": 4, "sizes_m": [[2.0, 1.0]]},
    }
    assessed(plated())
    calls = [counted(assessment, name) for name in ("with_stability", "answers_of")]
    calls.append(counted(assessment, "change_effects"))
    assessed(with_all(plated(), {path: given[path]}))
    assert calls == [[], [], []]


def test_an_unchanged_boat_adds_nothing_to_the_cache(monkeypatch):
    shown(plated())
    added = []
    keep = Recent.keep

    def counting(self, key, value):
        added.append(key)
        keep(self, key, value)

    monkeypatch.setattr(Recent, "keep", counting)
    shown(plated())
    assert added == []
