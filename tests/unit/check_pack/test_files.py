"""The check pack, read back as an engineer's own program would."""

import csv
import re
from io import StringIO

import numpy as np
import pytest
from refits import barge_document, boat, demo

from hullchange.check_pack.files import check_pack, cover_lines
from hullchange.check_pack.values import check_values
from hullchange.criteria.facts import Absent

UNITS = "_m _mm _m2 _deg _kg _kgm _l _percent _kg_m3 _per_cm _fraction _m3"
NO_UNIT = """
line kind appendage row boat house_counted tank condition belongs_to path role opening side
heeled_to closing stands_open into_hull regular progressive tank_air_pipe critical_opening
definition document openings undecided downflooding_opening no_results_because criterion
title value plus_minus limit unit margin_sd probability sense state grade source formula
inputs remarks persons of id limit_found can_be_judged place at_least fails_first sentence ratio
as_found refit made_in multiplier plus_minus_by levers_by
"""


@pytest.fixture(scope="module")
def values():
    return check_values(demo()[0], "as drawn")


@pytest.fixture(scope="module")
def pack(values):
    return check_pack(values, "signed with conditions")


def rows(text):
    """Heading, and the rows below the columns by column."""
    read = list(csv.reader(StringIO(text)))
    gap = read.index([])
    heading, columns, body = read[:gap], read[gap + 1], read[gap + 2 :]
    assert all(len(row) == len(columns) for row in body)
    return heading, [dict(zip(columns, row, strict=True)) for row in body]


def test_every_file_says_whose_it_is(pack, values):
    assert len(pack) == 20
    for text in pack.values():
        heading, body = rows(text)
        assert heading[:5] == [
            ["boat", "Saltmarrow"],
            ["document sha256", values.answer.document_sha256],
            ["option", "as drawn"],
            ["tool", f"hullchange {values.answer.hullchange}"],
            ["status", "signed with conditions"],
        ]
        assert heading[5] == ["note", "Strength is not checked."]
        assert all(key == "note" and note for key, note in heading[5:])
        assert body


def test_every_column_of_numbers_carries_its_unit(pack):
    for name, text in pack.items():
        for column in rows(text)[1][0]:
            known = column in NO_UNIT.split() or column.endswith(tuple(UNITS.split()))
            assert known, (name, column)


def test_lines_come_back_as_they_were_given(pack):
    given = demo()[0].document.hull.lines
    body = rows(pack["offsets.csv"])[1]
    for name, line in given.items():
        back = [
            tuple(float(r[c]) for c in ("x_m", "half_breadth_m", "z_m"))
            for r in body
            if r["line"] == name
        ]
        assert back == list(line.points_m)
    keel = [r for r in rows(pack["appendages.csv"])[1] if r["appendage"] == "keel"]
    assert [(float(r["x_m"]), float(r["z_m"])) for r in keel if r["row"] == "outline"] == [
        (2.75, -0.6),
        (3.75, -1.85),
        (6.75, -1.85),
    ]
    assert [r["half_thickness_m"] for r in keel if r["row"] != "outline"][1] == "0.165"


def test_the_ledger_adds_up_by_itself(pack, values):
    body = rows(pack["ledger.csv"])[1]
    four = ("mass_kg", "mx_kgm", "my_kgm", "mz_kgm")

    def added(kept):
        return [sum(float(r[c]) for r in kept) for c in four]

    for change in values.boat.document.changes:
        own = [r for r in body if r["belongs_to"] == change]
        (total,) = (r for r in own if r["role"] == "sum")
        lines = [r for r in own if r["role"] != "sum"]
        assert added(lines) == pytest.approx([float(total[c]) for c in four], abs=1e-3)
    parts = ("surveyed", "removed", "added", "moved", "part", "allowance")
    whole = next(r for r in body if r["belongs_to"] == "refit")
    lines = [r for r in body if r["role"] in parts]
    assert added(lines) == pytest.approx([float(whole[c]) for c in four], abs=1e-2)
    rest = next(
        c for c in values.answer.conditions if (c.id, c.stage) == ("survey-state", "refit")
    )
    assert float(whole["mass_kg"]) == pytest.approx(rest.displacement_kg, abs=1e-4)
    assert float(whole["x_m"]) == pytest.approx(rest.centre_of_gravity_m[0], abs=1e-3)
    for line in lines:
        if line["role"] != "moved":
            moment = float(line["mass_kg"]) * float(line["z_m"])
            assert moment == pytest.approx(float(line["mz_kgm"]), abs=1e-4)
    (rig,) = (r for r in body if r["path"].endswith("moves.rig"))
    assert (rig["mass_kg"], rig["moved_kg"], rig["x_m"]) == ("0", "268", "")
    assert float(rig["mz_kgm"]) == pytest.approx(268 * 0.18)


def test_levers_openings_and_criteria_are_the_answers(pack, values):
    body = rows(pack["levers.csv"])[1]
    for answer in values.answer.conditions:
        mine = [r for r in body if (r["condition"], r["boat"]) == (answer.id, answer.stage)]
        levers = answer.righting_levers
        assert [float(r["gz_m"]) for r in mine] == pytest.approx(levers.gz_m, abs=1e-12)
        assert [float(r["heel_deg"]) for r in mine] == pytest.approx(levers.heel_deg)
    total = sum(len(answer.criteria) for answer in values.answer.conditions)
    criteria = rows(pack["criteria.csv"])[1]
    assert len(criteria) == total
    assert {r["state"] for r in criteria} <= {
        *("met", "met within doubt", "not met within doubt", "not met"),
        *("to be confirmed", "not answered"),
    }
    assert all(r["source"] and r["formula"] for r in criteria)
    doors = sum(len(answer.openings) for answer in values.answer.conditions)
    assert len(rows(pack["openings.csv"])[1]) == doors > 0


def test_cross_curves_and_tanks_keep_their_digits(pack, values):
    body = rows(pack["cross-curves.csv"])[1]
    kn = np.concatenate([curve.kn for curve in values.cross_curves.curves])
    assert [float(r["kn_m"]) for r in body] == pytest.approx(kn.tolist(), rel=1e-8, abs=1e-12)
    tanks = rows(pack["tanks.csv"])[1]
    assert [float(r["fill_percent"]) for r in tanks] == pytest.approx(range(0, 101, 5))
    assert float(tanks[-1]["mass_kg"]) == pytest.approx(400.0)


def test_a_pocket_calculator_follows_the_sums(pack):
    heading, body = rows(pack["simpson.csv"])
    stations = [r for r in body if r["row"].startswith("station")]
    areas = [float(r["half_area_m2"]) for r in stations]
    multipliers = [int(r["multiplier"]) for r in stations]
    assert multipliers == [1, *[4, 2] * 9, 4, 1]
    products = [a * m for a, m in zip(areas, multipliers, strict=True)]
    assert [float(r["product_m2"]) for r in stations] == pytest.approx(products)
    notes = " ".join(note for _, note in heading)
    spacing = float(re.search(r"stations ([\d.]+) m apart", notes)[1])
    first = float(re.search(r"LCB = ([\d.-]+) \+", notes)[1])
    mass = 2 * spacing / 3 * sum(products) * 1025
    moments = sum(p * k for k, p in enumerate(products))
    named = {r["row"]: r for r in body}
    own = named["canoe body by these sums"]
    assert float(own["displacement_kg"]) == pytest.approx(mass, rel=1e-5)
    assert float(own["lcb_m"]) == pytest.approx(
        first + spacing * moments / sum(products), abs=1e-5
    )
    apart = [float(named[name]["displacement_kg"]) for name in ("keel", "skeg-and-rudder")]
    together = float(named["all by these sums"]["displacement_kg"])
    assert together == pytest.approx(mass + sum(apart), rel=1e-5)
    exact = float(named["all exact"]["displacement_kg"])
    assert float(named["difference overall"]["displacement_kg"]) == pytest.approx(
        together - exact, abs=1e-3
    )
    assert abs(together - exact) < 0.001 * exact


def test_growth_and_worst_fills_cover_every_condition(values):
    _, _, conditions = demo()
    dry = [c.id for c in conditions.values() if not c.floods]
    assert [(a.id, a.stage) for a in values.growth] == [
        (c, s) for c in dry for s in ("as_found", "refit")
    ]
    before = {(c.id, c.stage): c for c in values.answer.conditions}
    for grown in values.growth:
        light = before[grown.id, grown.stage]
        assert grown.displacement_kg == pytest.approx(1.05 * light.displacement_kg)
        assert grown.gm_m < light.gm_m
    assert len(values.worst_fills) == 12
    assert all(w.gm <= w.gm_as_filled for w in values.worst_fills)
    assert all(0.0 < w.volume < 0.4 for w in values.worst_fills)


def test_ratios_are_named_comparisons(pack, values):
    printed = list(cover_lines(values))
    assert "comparisons between boats, not measures of safety" in printed[0]
    assert "  Capsize screening: 1.62 → 1.62" in printed
    assert any("An arch, 2.20 m" in line for line in printed)
    heading, body = rows(pack["ratios.csv"])
    assert ["note", "A comparison between boats, not a measure of safety."] in heading
    ballast = next(r for r in body if r["ratio"] == "ballast-ratio")
    found = next(c for c in values.answer.conditions if c.id == "survey-state")
    assert float(ballast["as_found"]) == pytest.approx(3700 / found.displacement_kg)


def test_a_bare_barge_has_a_pack_that_says_what_it_lacks():
    found = check_values(
        boat(
            barge_document(
                12.0, 4.0, 1.0, 2.5, 0.2, conditions={"survey-state": {"boat": "as_found"}}
            )
        )
    )
    assert isinstance(found.allowed, Absent)
    pack = check_pack(found)
    for name, why in (
        ("crew-on-one-side", "boat.persons"),
        ("limits", "No limits can be drawn"),
        ("still-allowed", "No limits can be drawn"),
    ):
        heading, body = rows(pack[f"{name}.csv"])
        assert body == []
        assert why in heading[-1][1]
    assert rows(pack["tanks.csv"])[1] == []
    assert "No limits can be drawn" in " ".join(cover_lines(found))
    ratios = {r["ratio"]: r["refit"] for r in rows(pack["ratios.csv"])[1]}
    assert ratios["ballast-ratio"] == ""
    assert ratios["sail-area-displacement"] == ""
