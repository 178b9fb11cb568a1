"""Effects held against documents written without the thing: two ways to every difference."""

import copy
from functools import cache
from itertools import accumulate

import pytest
from refits import (
    assessed,
    barge_document,
    boat,
    capsizing_answer,
    changed,
    demo_answer,
    demo_document,
    row,
    weight,
)

from hullchange.afloat.effects import (
    change_effects,
    changes_that_differ,
    effect_baseline,
    waterfall,
)
from hullchange.answer.changes import Effect
from hullchange.assess.assessment import assessment
from hullchange.boat.conditions import conditions_of
from hullchange.survey.as_found import surveyed

STATE = "survey-state"
FIELDS = tuple(Effect.model_fields)
CHANGES = {
    "stage": True,
    "change": True,
    "freeboards_at_marks": {"__all__": {"change_mm"}},
}
CLOSE = 1e-6  # [mm], [deg]: two descents to 1e-11


def without_openings(plain):
    """The document without what rises with the house, so that the house can be left out."""
    plain = copy.deepcopy(plain)
    del plain["openings"], plain["targets"], plain["options"]
    del plain["rig"]["stands_on"]
    # by the old well's name, which each boat floods the well for that she has
    plain["conditions"]["cockpit-flooded"]["floods"] = ["old-cockpit"]
    return plain


@cache
def bare():
    """Saltmarrow without mast support and openings: her house can be taken out."""
    plain = without_openings(demo_document())
    del plain["changes"]["deckhouse"]["parts"]["mast-support"]
    return plain


def figures(plain):
    """The refit's six figures in the survey state."""
    here = row(assessed(plain, only=STATE), STATE)
    vcg, gm = 1000 * here.centre_of_gravity_m[2], 1000 * here.gm_m
    aft = [f.freeboard_mm for f in here.freeboards if f.mark == "aft"]
    return (here.sinkage_mm, here.trim_mm, here.heel_deg, vcg, gm, sum(aft) / 2)


def minus(after, before):
    return [a - b for a, b in zip(after, before, strict=True)]


def values(effect):
    return [getattr(effect, field) for field in FIELDS]


def plus(effects):
    return [sum(column) for column in zip(*map(values, effects), strict=True)]


@cache
def bare_answer():
    return assessed(bare())


def part(name):
    return next(p for p in bare_answer().parts if p.id == name)


def test_net_effect_of_a_house_puts_the_old_one_back():
    other = copy.deepcopy(bare())
    change = other["changes"]["deckhouse"]
    del change["replaces"], change["parts"], change["moves"]  # rig and gear come down again
    del change["removes"]["roof"], change["removes"]["sides"]
    expected = minus(figures(bare()), figures(other))
    assert values(part("house").effect) == pytest.approx(expected, abs=CLOSE)


def test_gross_effect_of_a_house_leaves_a_hole():
    other = copy.deepcopy(bare())
    change = other["changes"]["deckhouse"]
    del change["parts"], change["moves"]  # rig and gear come down again, the old roof stays off
    for key in ("roof", "sides"):
        del change["removes"][key]["replaced_by"]
    expected = minus(figures(bare()), figures(other))
    assert values(part("house").effect_gross) == pytest.approx(expected, abs=CLOSE)


def test_net_effect_of_a_cockpit_floods_the_old_well_again():
    other = copy.deepcopy(bare())
    del other["changes"]["cockpit"]
    expected = minus(figures(bare()), figures(other))
    assert values(part("cockpit").effect) == pytest.approx(expected, abs=CLOSE)
    gross = copy.deepcopy(bare())
    del gross["changes"]["cockpit"]["parts"]
    del gross["changes"]["cockpit"]["removes"]["steelwork"]["replaced_by"]
    expected = minus(figures(bare()), figures(gross))
    assert values(part("cockpit").effect_gross) == pytest.approx(expected, abs=CLOSE)


def test_a_part_that_replaces_nothing_has_one_effect():
    for name in ("extension", "platform"):
        assert part(name).effect == part(name).effect_gross


def test_a_part_weighs_what_its_effects_leave_out():
    # a bow platform displaces nothing: net and gross are its weight alone
    answer = assessed(bare(), levers=None)
    one = next(p for p in answer.parts if p.id == "platform")
    assert one.mass_kg == pytest.approx(sum(plate.mass_kg for plate in one.plates), rel=1e-3)
    counted = one.mass_kg + one.weld_metal_kg + one.paint_kg
    assert one.mass_counted_kg == pytest.approx(counted)
    assert one.mass_counted_kg > one.mass_kg
    kg_per_cm = next(c for c in answer.conditions if c.stage == "refit").kg_per_cm
    assert one.effect.sinkage_mm == pytest.approx(
        10.0 * one.mass_counted_kg / kg_per_cm, abs=0.3 * abs(one.effect.trim_mm)
    )


@pytest.mark.parametrize("name", ["deckhouse", "electric-drive", "ground-tackle", "transom"])
def test_effect_of_a_change_is_the_refit_less_the_refit_without_it(name):
    other = copy.deepcopy(bare())
    del other["changes"][name]
    expected = minus(figures(bare()), figures(other))
    change = next(c for c in bare_answer().changes if c.id == name)
    assert values(change.effect) == pytest.approx(expected, abs=CLOSE)


def test_steps_of_the_waterfall_are_documents_with_the_first_changes():
    plain = bare()
    names = list(plain["changes"])
    firsts = [{}, *accumulate(({n: plain["changes"][n]} for n in names), lambda a, b: a | b)]
    floats = [figures({**plain, "changes": first}) for first in firsts[:5]]
    steps = bare_answer().waterfall.steps
    assert [s.change for s in steps] == names
    for step, before, after in zip(steps[:4], floats[:-1], floats[1:], strict=True):
        assert values(step.effect) == pytest.approx(minus(after, before), abs=CLOSE)


@pytest.mark.parametrize("answer", [demo_answer, bare_answer])
def test_the_waterfall_closes_and_says_what_leaving_one_out_misses(answer):
    assessed_refit = answer()
    fall = assessed_refit.waterfall
    assert plus([s.effect for s in fall.steps]) == pytest.approx(values(fall.total), abs=1e-9)
    rest = minus(values(fall.total), plus([c.effect for c in assessed_refit.changes]))
    assert values(fall.leave_one_out_remainder) == pytest.approx(rest, abs=1e-9)
    change = row(assessed_refit, STATE).change
    assert sum(s.displacement_kg for s in fall.steps) == pytest.approx(change.displacement_kg)
    whole = (change.sinkage_mm, change.trim_mm, change.heel_deg, change.vcg_m, change.gm_m)
    scale = (1, 1, 1, 1000, 1000)
    assert values(fall.total)[:5] == pytest.approx(
        [a * b for a, b in zip(whole, scale, strict=True)], abs=CLOSE
    )


def test_order_of_changes_moves_the_steps_and_not_the_total():
    turned = {**bare(), "changes": dict(reversed(bare()["changes"].items()))}
    after, before = assessed(turned, levers=None), bare_answer()
    assert values(after.waterfall.total) == pytest.approx(
        values(before.waterfall.total), abs=CLOSE
    )
    one = {s.change: values(s.effect) for s in after.waterfall.steps}
    two = {s.change: values(s.effect) for s in before.waterfall.steps}
    assert max(abs(a - b) for n in one for a, b in zip(one[n], two[n], strict=True)) > 0.1
    alone = {c.id: values(c.effect) for c in after.changes}
    for change in before.changes:
        assert alone[change.id] == pytest.approx(values(change.effect), abs=CLOSE)


def test_removing_every_change_restores_every_number():
    none = assessed({**without_openings(demo_document()), "changes": {}})
    for name in demo_document()["conditions"]:
        old, new = row(none, name, "as_found"), row(none, name)
        same = old.model_dump(exclude=CHANGES)
        assert flat(new.model_dump(exclude=CHANGES)) == pytest.approx(
            flat(same), abs=1e-9, rel=1e-9
        )
        as_found = row(bare_answer(), name, "as_found").model_dump(exclude=CHANGES)
        assert flat(same) == pytest.approx(flat(as_found), abs=1e-9, rel=1e-9)
    assert none.waterfall.steps == ()
    assert values(none.waterfall.total) == [0.0] * 6


def flat(value):
    """Every number of a nested answer, by its place."""
    if isinstance(value, dict):
        return {f"{k}.{i}": v for k, inner in value.items() for i, v in flat(inner).items()}
    if isinstance(value, list | tuple):
        return flat(dict(enumerate(value)))
    return {"": value} if isinstance(value, int | float) else {}


def test_items_add_up_to_the_refit_but_for_bending():
    answer = demo_answer()
    item = next(i for i in answer.items if i.path == "changes.old-pigs.removes.lead-pigs")
    change = next(c for c in answer.changes if c.id == "old-pigs")
    assert values(item.effect) == pytest.approx(values(change.effect), abs=CLOSE)
    assert item.effect.sinkage_mm < 0 < item.effect.trim_mm  # weight off the bow
    assert all(i.effect is not None for i in answer.items)


def test_the_old_steel_has_an_effect_of_its_own():
    replaced = {r.id: r for r in demo_answer().replaced}
    assert set(replaced) == {"existing.old-house", "existing.old-cockpit"}
    assert replaced["existing.old-house"].mass_kg == 236 + 128
    assert replaced["existing.old-cockpit"].mass_kg == 300
    assert replaced["existing.old-cockpit"].change == "cockpit"
    cockpit = next(
        i for i in demo_answer().items if i.path == "changes.cockpit.removes.steelwork"
    )
    assert values(replaced["existing.old-cockpit"].effect) == pytest.approx(
        values(cockpit.effect)
    )


def test_effects_of_a_barge_by_hand():
    change = {
        "adds": {"low": weight(984, (6, 0, -0.9))},
        "moves": {"crate": weight(1000, (3, 0, 0)) | {"to_m": [9, 0, 0]}},
    }
    plain = barge_document(12, 4, 1, 2.5, 0.2, changes={"cargo": change})
    items = {i.path.rsplit(".", 1)[1]: i.effect for i in assessed(plain).items}
    assert items["low"].sinkage_mm == pytest.approx(20, rel=1e-3)
    assert items["crate"].sinkage_mm == pytest.approx(0, abs=1e-3)
    # 6000 kg m at 463.3 kg m per cm, as displacement times GM over a hundred lengths
    assert items["crate"].trim_mm == pytest.approx(10 * 6000 / 463.3, rel=0.01)


def test_effects_are_asked_in_the_reference_condition():
    built = boat(demo_document())
    as_surveyed, conditions = surveyed(built), conditions_of(built.document)
    loaded = effect_baseline(built, as_surveyed, conditions["departure"])
    light = effect_baseline(built, as_surveyed, conditions[STATE])
    arch = [change_effects(stick)["arch"].sinkage_mm for stick in (loaded, light)]
    assert arch[0] != pytest.approx(arch[1], rel=1e-3)
    effects = change_effects(loaded)
    total = waterfall(loaded, effects, steps=False).total
    departure = row(demo_answer(), "departure").change
    # the old boat's fuel tank was full at departure, and no change puts fuel back
    assert total.trim_mm == pytest.approx(departure.trim_mm, abs=CLOSE)


def test_after_an_edit_the_effects_of_what_it_touches_are_answered_alone():
    before = boat(demo_document())
    raised = boat(
        changed(demo_document(), changes__deckhouse__parts__house__side_height_m=0.65)
    )
    touched = changes_that_differ(raised, before)
    assert touched == {"deckhouse"}
    after = assessment(raised, only=STATE, levers=None, before=before)
    assert {c.id for c in after.changes if c.effect} == touched
    assert {p.change for p in after.parts if p.effect} <= touched
    whole = assessment(raised, only=STATE, levers=None)
    for some, every in zip(after.changes, whole.changes, strict=True):
        assert some.effect in (None, every.effect)


def test_an_edit_of_the_boat_herself_touches_every_change():
    fresh = boat(changed(demo_document(), water="fresh"))
    assert changes_that_differ(fresh, boat(demo_document())) == set(fresh.document.changes)
    assert changes_that_differ(fresh, fresh) == set()


def test_effects_of_a_boat_that_capsizes_are_of_the_floats_that_are_answered():
    # from the refit upside down the boat as found would be found upside down too
    answer = capsizing_answer()
    reference = answer.reference_condition
    change = row(answer, reference).change
    assert abs(row(answer, reference).heel_deg) > 90.0
    assert abs(row(answer, reference, "as_found").heel_deg) < 5.0
    total = answer.waterfall.total
    assert (total.sinkage_mm, total.trim_mm) == pytest.approx(
        (change.sinkage_mm, change.trim_mm)
    )
    assert total.heel_deg == pytest.approx(change.heel_deg)
