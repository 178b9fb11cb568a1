"""Loading conditions: chains, what is left out, what replaces the survey's."""

import pytest
from refits import assessed, barge_document, boat, demo, demo_answer, row, weight

from hullchange.boat.conditions import conditions_of
from hullchange.document.document import DocumentCondition
from hullchange.errors import DocumentError

BARGE = (12, 4, 1, 2.5, 0.2)
STATE = "survey-state"


def conditions(**named):
    plain = barge_document(
        *BARGE,
        survey={"aboard": {"gear": weight(240, (5, 0, 0)), "oil": weight(84, (9, 0, 0))}},
        tanks={
            "water": {"at_m": [5, 0, -0.5], "capacity_l": 400, "contents": "fresh"},
            "oil": {"at_m": [9, 0, -0.2], "capacity_l": 300, "density_kg_m3": 840},
        },
        conditions={STATE: {}, **named},
    )
    return assessed(plain)


def test_a_chain_merges_loads_field_by_field():
    document = demo()[0].document
    arrival = conditions_of(document)["arrival"]
    stores = next(w for w in arrival.loads if w.path.endswith("stores"))
    assert stores.mass == 21
    assert stores.centre == (5.90, 0, 0.10)  # from departure
    assert stores.sd_mass == pytest.approx(0.15 * 21)  # the 40 kg belonged to 210
    assert arrival.fills == {"water": 0.038, "fuel": 0.031}
    assert arrival.without == {"gear"}
    assert [w.path.rsplit(".", 1)[1] for w in arrival.loads] == list(
        document.conditions["departure"].loads
    )


def test_a_longer_chain_keeps_the_nearest_word():
    document = demo()[0].document
    chain = {
        "one": DocumentCondition.model_validate({"water": "fresh", "fills": {"water": 100}}),
        "two": DocumentCondition.model_validate(
            {"like": "one", "without": ["gear"], "boat": "refit"}
        ),
        "three": DocumentCondition.model_validate({"like": "two", "fills": {"water": 50}}),
    }
    merged = conditions_of(document.model_copy(update={"conditions": chain}))
    assert merged["three"].water_density == 1000
    assert merged["three"].fills == {"water": 0.05}
    assert merged["three"].without == {"gear"}
    assert merged["three"].stages == ("refit",)
    assert merged["one"].stages == ("as_found", "refit")
    assert merged["one"].water_density == 1000
    keys = {c.key for c in merged.values()}
    assert len(keys) == 3


def test_loads_come_on_top_and_without_leaves_out():
    crew = weight(300, (8, 0, 1))
    answer = conditions(full={"loads": {"crew": crew}, "without": ["gear"]})
    light, full = row(answer, STATE), row(answer, "full")
    assert full.displacement_kg - light.displacement_kg == pytest.approx(300 - 240)
    moment = full.displacement_kg * full.centre_of_gravity_m[0]
    before = light.displacement_kg * light.centre_of_gravity_m[0]
    assert moment - before == pytest.approx(300 * 8 - 240 * 5)


def test_a_fill_replaces_the_surveys():
    answer = conditions(
        more={"fills": {"oil": 200}},
        empty={"fills": {"oil": 0}},
        out={"without": ["oil"]},
        other={"without": ["oil"], "fills": {"oil": 200}},
        water={"fills": {"water": 400}},
    )
    here = row(answer, STATE).displacement_kg
    change = {c.id: c.displacement_kg - here for c in answer.conditions if c.stage == "refit"}
    assert change["more"] == pytest.approx(168 - 84)
    assert change["empty"] == change["out"] == pytest.approx(-84)
    assert change["other"] == pytest.approx(168 - 84)  # what is filled is there
    assert change["water"] == pytest.approx(400)  # the survey had none


def test_saltmarrow_by_hand():
    answer = demo_answer()

    def gain(name, stage):
        here = row(answer, STATE, stage).displacement_kg
        return row(answer, name, stage).displacement_kg - here

    loads = 330 + 210 + 120 + 70 + 34 + 45 + 240
    # 380 l where there were 190, the gear stowed anew, 310 l of fuel for 126 kg
    assert gain("departure", "refit") == pytest.approx(loads + 190 - 240)
    assert gain("departure", "as_found") == pytest.approx(loads + 190 - 240 + 310 * 0.84 - 126)
    assert gain("arrival", "refit") == pytest.approx(loads - 210 + 21 + 38 - 190 - 240)
    assert gain("arrival", "as_found") == pytest.approx(
        loads - 210 + 21 + 38 - 190 - 240 + 31 * 0.84 - 126
    )
    for stage in ("as_found", "refit"):
        assert gain("stripped", stage) == pytest.approx(-190 - 240)
        assert gain("fresh-water", stage) == pytest.approx(0, abs=1e-8)


def test_fuel_is_taken_off_once():
    answer = demo_answer()
    change = next(c for c in answer.changes if c.id == "electric-drive")
    assert change.removed_kg == 247 + 33 + 21 + 64 + 126 + 171
    # and stays off wherever the tank is filled
    old, new = row(answer, "departure", "as_found"), row(answer, "departure")
    light_old, light_new = row(answer, STATE, "as_found"), row(answer, STATE)
    refit = light_new.displacement_kg - light_old.displacement_kg
    at_sea = new.displacement_kg - old.displacement_kg
    assert at_sea - refit == pytest.approx(126 - 310 * 0.84)


def test_a_tank_of_one_boat_is_filled_in_that_boat():
    plain = barge_document(
        *BARGE,
        tanks={
            "old": {
                "at_m": [5, 0, 0],
                "capacity_l": 100,
                "contents": "fresh",
                "boat": "as_found",
            },
            "new": {"at_m": [7, 0, 0], "capacity_l": 50, "contents": "fresh", "boat": "refit"},
        },
        conditions={STATE: {}, "full": {"fills": {"old": 100, "new": 50}}},
    )
    answer = assessed(plain)
    here = row(answer, STATE).displacement_kg
    assert row(answer, "full", "as_found").displacement_kg - here == pytest.approx(100)
    assert row(answer, "full").displacement_kg - here == pytest.approx(50)


def test_a_tank_taken_off_full_takes_what_was_in_it():
    box = {"x": [4, 6], "y": [-1, 1], "z": [-0.8, -0.3]}
    plain = barge_document(
        *BARGE,
        survey={"aboard": {"water": {"tank": "water", "fill_l": 1000, "plus_minus_l": 30}}},
        tanks={"water": {"box_m": box, "capacity_l": 2000, "contents": "fresh"}},
        changes={"dry": {"removes": {"water": {"aboard": "water"}}}},
        conditions={STATE: {}, "full": {"fills": {"water": 2000}}},
    )
    answer = assessed(plain)
    old, new = row(answer, STATE, "as_found"), row(answer, STATE)
    assert new.displacement_kg - old.displacement_kg == pytest.approx(-1000)
    assert old.gm_solid_m - old.gm_m > 0.01 > new.gm_solid_m - new.gm_m
    assert new.gm_solid_m == new.gm_m
    lead = old.displacement_kg * old.centre_of_gravity_m[2]
    low = new.displacement_kg * new.centre_of_gravity_m[2]
    assert low - lead == pytest.approx(1000 * 0.675)  # it lay 0.25 m deep from -0.8
    assert row(answer, "full").displacement_kg == pytest.approx(new.displacement_kg)
    assert row(answer, "full", "as_found").displacement_kg == pytest.approx(
        old.displacement_kg + 1000
    )
    # 30 l of doubt: not in the boat that was weighed with it, in the one that lost it
    doubt = [c.plus_minus.displacement_kg**2 for c in (new, old)]
    assert doubt[0] - doubt[1] == pytest.approx(30**2, rel=1e-6)
    # the same where other water is filled in
    full = row(answer, "full", "as_found").plus_minus.displacement_kg ** 2
    assert full - doubt[1] == pytest.approx(30**2, rel=1e-6)


def test_a_condition_for_one_boat_is_run_for_that_boat():
    answer = conditions(old={"boat": "as_found"}, new={"boat": "refit"})
    rows = [(c.id, c.stage) for c in answer.conditions]
    assert rows == [
        (STATE, "as_found"),
        (STATE, "refit"),
        ("old", "as_found"),
        ("new", "refit"),
    ]
    assert [c.id for c in answer.conditions if c.change is not None] == [STATE]


def test_fresh_water_by_the_fresh_water_allowance():
    answer = demo_answer()
    for stage in ("as_found", "refit"):
        salt, fresh = row(answer, STATE, stage), row(answer, "fresh-water", stage)
        deeper = fresh.sinkage_mm - salt.sinkage_mm
        # displacement over forty times the kilograms per centimetre, in cm; second order: the
        # waterplane grows by 2 % on the way
        assert deeper == pytest.approx(
            salt.displacement_kg / (40 * salt.kg_per_cm) * 10, rel=0.05
        )


def test_a_load_without_place_is_refused():
    plain = barge_document(*BARGE, conditions={STATE: {"loads": {"crew": {"mass_kg": 300}}}})
    with pytest.raises(DocumentError) as refused:
        boat(plain)
    assert refused.value.code == "load-incomplete"
