"""Whether the places that show one quantity say the same, and whether anything is silent.

Every function answers sentences: one for each contradiction, gap or trace of a fall.
"""

import csv
import io
import re
from math import isclose, isfinite

import pygltflib

from hullchange.plain_words import condition_in_words, id_in_words

MASS = 1e-6  # kilograms by two sums of the same lines
CHORDS = 1e-5  # relative, of meshes for true outlines
PRINTED = re.compile(r"-?[\d,]*\.?\d+")


def rows_of(text):
    """Rows of a CSV that says above its columns whose it is, by column."""
    return list(csv.DictReader(io.StringIO(text.split("\n\n", 1)[1])))


def same(first, second, rel=1e-8, tiny=1e-9):
    """Whether two figures are one; null is null and an empty cell."""
    if first in (None, "") or second in (None, ""):
        return first in (None, "") and second in (None, "")
    try:
        return isclose(float(first), float(second), rel_tol=rel, abs_tol=tiny)
    except ValueError:  # words
        return str(first) == str(second)


def differing(first, second, path=""):
    """Paths at which two plain values differ."""
    if isinstance(first, dict) and isinstance(second, dict):
        for key in sorted(first.keys() | second.keys()):
            yield from differing(first.get(key), second.get(key), f"{path}.{key}")
    elif isinstance(first, list) and isinstance(second, list) and len(first) == len(second):
        for n, (a, b) in enumerate(zip(first, second, strict=True)):
            yield from differing(a, b, f"{path}.{n}")
    elif first != second:
        yield f"{path}: {first!r} and {second!r}"


def leaves(value, path=""):
    """(path, number) of every number of a plain answer."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, f"{path}.{key}")
    elif isinstance(value, list):
        for n, inner in enumerate(value):
            yield from leaves(inner, f"{path}.{n}")
    elif isinstance(value, float):
        yield path, value


def incomplete_results(plain, answer):
    """Everything the document names is answered, in numbers that are numbers."""
    yield from (f"{p} is {v}" for p, v in leaves(answer) if not isfinite(v))
    asked = {
        (name, stage)
        for name, condition in plain["conditions"].items()
        for stage in ("as_found", "refit")
        if condition.get("boat", stage) == stage
    }
    there = {(c["id"], c["stage"]) for c in answer["conditions"]}
    yield from (f"condition {name}, {stage} is not answered" for name, stage in asked - there)
    named = {name for change in plain["changes"].values() for name in change.get("parts", ())}
    yield from (f"part {n} is not answered" for n in named ^ {p["id"] for p in answer["parts"]})
    for group, where in (("changes", "changes"), ("targets", "targets")):
        ids = {one["id"] for one in answer[group]}
        yield from (f"{where}.{n} is not answered" for n in ids ^ set(plain.get(group, ())))
    for part in answer["parts"]:
        if not part["plates"] or part["mass_kg"] <= 0.0:
            yield f"part {part['id']} has no plates"
        yield from (
            f"plate {part['id']}.{p['id']} weighs nothing"
            for p in part["plates"]
            if p["mass_kg"] <= 0.0
        )
    for c in answer["conditions"]:
        if c["displacement_kg"] is None and not _found(answer, c["id"]):
            yield f"{c['id']}, {c['stage']}: no answer and no finding"
    for c in conditions_afloat(answer):
        yield from _condition_complete(plain, answer, c)


def _condition_complete(plain, answer, c):
    where = f"{c['id']}, {c['stage']}"
    marks = {(m, s) for m in plain["survey"]["marks"] for s in ("port", "starboard")}
    if {(f["mark"], f["side"]) for f in c["freeboards"]} != marks:
        yield f"{where}: freeboards are missing"
    if c["righting_levers"] is None and not _found(answer, c["id"]):
        yield f"{where}: no levers and no finding"
    if c["righting_levers"] is not None and not c["criteria"]:
        yield f"{where}: no criteria"
    for rule in c["criteria"]:
        if rule["value"] is None and not rule["remarks"]:
            yield f"{where}: {rule['id']} has no value and no reason"
    here = {
        name
        for name, opening in plain.get("openings", {}).items()
        if opening.get("boat", c["stage"]) == c["stage"]
    }
    if c["righting_levers"] is not None and here != {o["id"] for o in c["openings"]}:
        yield f"{where}: openings {sorted(here)} and {[o['id'] for o in c['openings']]}"


def _found(answer, condition):
    return any(
        condition in f["place"] or condition in f["sentence"] for f in answer["findings"]
    )


def sums_that_differ(answer):
    """Sums that stand beside what they are made of."""
    items = answer["items"]
    for part in answer["parts"]:
        steel = sum(p["mass_kg"] for p in part["plates"])
        line = [
            i["mass_kg"]
            for i in items
            if i["role"] == "part" and i["path"].rsplit(".", 1)[1] == part["id"]
        ]
        # a plate weighs by its outline, a part by its meshes, whose chords cut bends short
        if not same(steel, part["mass_kg"], 2e-4) or not same(sum(line), part["mass_kg"], 1e-9):
            yield f"{part['id']}: {part['mass_kg']} kg, plates {steel}, ledger {line}"
    for change in answer["changes"]:
        own = [i for i in items if i["change"] == change["id"]]
        by = {
            "added_kg": ("added", "part", "allowance"),
            "removed_kg": ("removed",),
            "moved_kg": ("moved",),
        }
        for key, roles in by.items():
            total = sum(i["mass_kg"] for i in own if i["role"] in roles)
            if not same(total, change[key], tiny=MASS):
                yield f"{change['id']}.{key}: {change[key]}, its lines {total}"
        if not same(change["added_kg"] - change["removed_kg"], change["net_kg"], tiny=MASS):
            yield f"{change['id']}: net {change['net_kg']} is not added less removed"
    yield from _waterfall(answer)
    for c in conditions_afloat(answer):
        yield from _loaded(answer, c)


def _waterfall(answer):
    fall, reference = answer["waterfall"], answer["reference_condition"]
    before, after = (
        next(c for c in answer["conditions"] if (c["id"], c["stage"]) == (reference, stage))
        for stage in ("as_found", "refit")
    )
    net = sum(change["net_kg"] for change in answer["changes"])
    gained = after["displacement_kg"] - before["displacement_kg"]
    if not same(net, gained, tiny=1e-3):
        yield f"changes weigh {net} together, she gains {gained}"
    difference = after["change"]
    shown = {
        "sinkage_mm": difference["sinkage_mm"],
        "trim_mm": difference["trim_mm"],
        "heel_deg": difference["heel_deg"],
        "gm_mm": difference["gm_m"] * 1000.0,
        "vcg_mm": difference["vcg_m"] * 1000.0,
    }
    for key, value in shown.items():
        steps = sum(step["effect"][key] for step in fall["steps"])
        if not same(steps, fall["total"][key], tiny=1e-5):
            yield f"waterfall {key}: steps {steps}, total {fall['total'][key]}"
        if not same(value, fall["total"][key], rel=1e-6, tiny=1e-4):
            yield f"{key}: change of {reference} {value}, waterfall {fall['total'][key]}"
    for key in ("displacement_kg", "sinkage_mm", "trim_mm", "heel_deg", "gm_m"):
        if not same(after[key] - before[key], difference[key], tiny=1e-6):
            yield f"{key}: {after[key]} less {before[key]} is answered as {difference[key]}"


def _loaded(answer, c):
    """All that is aboard weighs what she displaces, about her centre of gravity."""
    lines = [(one["mass_kg"], one["at_m"]) for one in c["loaded"]]
    if c["stage"] == "refit":
        for i in answer["items"]:
            if i["role"] == "moved":
                lines += [(-i["mass_kg"], i["at_m"]), (i["mass_kg"], i["to_m"])]
            else:
                sign = -1.0 if i["role"] == "removed" else 1.0
                lines.append((sign * i["mass_kg"], i["at_m"]))
    mass = sum(m for m, _ in lines)
    if not same(mass, c["displacement_kg"], tiny=1e-3):
        yield f"{c['id']}, {c['stage']}: lines {mass} kg, displacement {c['displacement_kg']}"
    for axis in range(3):
        centre = sum(m * at[axis] for m, at in lines) / mass
        if not same(centre, c["centre_of_gravity_m"][axis], tiny=2e-4):
            stated = c["centre_of_gravity_m"][axis]
            yield f"{c['id']}, {c['stage']}: centre {'xyz'[axis]} {stated}, by lines {centre}"


def contradictory_verdicts(plain, answer):
    """Verdicts, findings and angles that belong together."""
    for c in conditions_afloat(answer):
        where = f"{c['id']}, {c['stage']}"
        yield from _angles(plain, c, where)
        yield from _sides(c, where)
        yield from _shares(c, where)
        yield from _failed(answer, c, where)
    for target in answer["targets"]:
        yield from _target(answer, target)


def conditions_afloat(answer):
    """The conditions she floats in; of the others a finding says why there is nothing."""
    return [c for c in answer["conditions"] if c["displacement_kg"] is not None]


def _angles(plain, c, where):
    angles = [c["vanishing_angle_deg"], c["downflooding_angle_deg"]]
    known = [angle for angle in angles if angle is not None]
    if c["range_deg"] is not None and not same(min(known), c["range_deg"], tiny=1e-6):
        yield f"{where}: range {c['range_deg']}, vanishing and flooding {angles}"
    if c["critical_opening"] and c["critical_opening"] not in plain["openings"]:
        yield f"{where}: critical opening {c['critical_opening']} is none of hers"


def _failed(answer, c, where):
    """A criterion that is not met has a finding, with its figure."""
    at = [f["sentence"] for f in answer["findings"] if f["place"].endswith(c["id"])]
    for rule in c["criteria"]:
        if rule["state"].replace("_", " ") != "not met":
            continue
        sentences = [sentence for sentence in at if rule["title"] in sentence]
        figures = [(_figures(s, rule["title"]), s) for s in sentences]
        if not sentences:
            yield f"{where}: {rule['id']} is not met and no finding says so"
        elif all(list(_shown([rule["value"]], words, s)) for words, s in figures):
            yield f"{where}: {rule['id']} is {rule['value']}, findings say {sentences}"


def _sides(c, where):
    for key in ("downflooding_angle_deg", "deck_edge_angle_deg", "coaming_angle_deg"):
        sides = [one[key] for one in (c["sides"] or {}).values() if one[key] is not None]
        if c["sides"] and not same(min(sides, default=None), c[key], tiny=1e-6):
            yield f"{where}: {key} {c[key]}, of its sides {sides}"
    both = [c["vanishing_angle_port_deg"], c["vanishing_angle_starboard_deg"]]
    if None not in both and not same(min(both), c["vanishing_angle_deg"], tiny=1e-6):
        yield f"{where}: vanishes at {c['vanishing_angle_deg']}, of both sides {both}"


def _shares(c, where):
    for key, shares in c["shares"].items():
        parts = [one["share_percent"] for one in shares]  # of the largest causes only
        if sum(parts) > 100.01 or min(parts, default=0.0) < 0.0:
            yield f"{where}: shares of {key} add up to {sum(parts):.2f} %"


def _target(answer, target):
    rows = [c for c in answer["conditions"] if c["id"] == target["condition"]]
    row = next((c for c in rows if c["stage"] == "refit"), None)
    if row is None:
        return
    if target["result"].startswith("freeboards."):
        _, mark, *side = target["result"].split(".")
        both = {f["side"]: f["freeboard_mm"] for f in row["freeboards"] if f["mark"] == mark}
        if not side and 0.5 <= abs(row["heel_deg"]) <= 90.0:
            yield f"target {target['id']}: the mean of both sides, and she lists"
        figure = both[side[0]] if side else sum(both.values()) / len(both)
    else:
        figure = row[target["result"]]
    if not same(figure, target["value"], tiny=1e-9):
        yield f"target {target['id']}: {target['value']}, the result is {figure}"
    if target["value"] is None:
        return
    low, high = target["at_least"], target["at_most"]
    inside = (low is None or target["value"] >= low) and (
        high is None or target["value"] <= high
    )
    upright = abs(row["heel_deg"]) <= 90.0  # upside down no target is met
    if (inside and upright) != target["state"].startswith("met"):
        yield f"target {target['id']}: {target['value']} is {target['state']}"


def differences_in_printed_tables(answer, text):
    """Each float's line of the printed tables holds the figures of the answer."""
    for c in conditions_afloat(answer):
        boat, name = c["stage"].replace("_", " "), condition_in_words(c["id"])
        head = re.compile(rf"{re.escape(name)}\s+{boat}\s")
        heads = [line for line in text.splitlines() if head.match(line)]
        if len(heads) < 2:
            yield f"{name}, {boat}: {len(heads)} lines are printed of her"
            continue
        weighs, lies = (_figures(line, name) for line in heads[:2])
        x, _, z = c["centre_of_gravity_m"]
        wanted = [c["displacement_kg"], c["plus_minus"]["displacement_kg"], x, z]
        if abs(c["heel_deg"]) <= 90.0:
            wanted += [abs(c["trim_mm"])]
        yield from _shown(wanted, weighs, heads[0])
        wanted = [c["gm_m"], c["plus_minus"]["gm_m"]]
        if abs(c["heel_deg"]) <= 90.0:
            wanted += [abs(c["heel_deg"]), *(f["freeboard_mm"] for f in c["freeboards"])]
        yield from _shown(wanted, lies, heads[1])
    for part in answer["parts"]:
        name = id_in_words(part["id"])
        lines = [line for line in text.splitlines() if re.match(rf"{name}  +\d", line)]
        numbers = _figures(lines[0], name) if lines else []
        wanted = [part["mass_kg"], *part["centroid_m"]]
        yield from _shown(wanted, numbers, lines[0] if lines else part["id"])


def _figures(line, name):
    return [w.replace(",", "") for w in PRINTED.findall(line.removeprefix(name))]


def _shown(wanted, words, line):
    """Each figure stands in the line to half its last printed digit."""
    for value in wanted:
        for word in words:
            decimals = len(word.partition(".")[2])
            if abs(float(word) - value) <= 0.5000001 * 10.0**-decimals:
                break
        else:
            if abs(value) > 0.5:  # nought may be said in words
                yield f"printed without {value:.6g}: {line.strip()}"


def differences_in_csv_tables(answer, tables):
    """The check pack's tables beside the answer."""
    yield from _tabled_conditions(answer, rows_of(tables["conditions.csv"]))
    rows = rows_of(tables["openings.csv"])
    if len(rows) != sum(len(c["openings"]) for c in answer["conditions"]):
        yield "openings.csv has another number of openings"
    rows, expected = rows_of(tables["criteria.csv"]), _all(answer, "criteria")
    if [(r["criterion"], r["state"]) for r in rows] != [
        (r["id"], in_words(r)) for r in expected
    ]:
        yield "criteria.csv holds other criteria or states"
    for row, rule in zip(rows, expected, strict=False):
        if not same(row["value"], rule["value"]):
            yield f"criteria.csv {rule['id']}: {row['value']}, answered {rule['value']}"
    rows = rows_of(tables["levers.csv"])
    curves = [c["righting_levers"] for c in answer["conditions"] if c["righting_levers"]]
    expected = [gz for curve in curves for gz in curve["gz_m"]]
    alike = (same(row["gz_m"], gz) for row, gz in zip(rows, expected, strict=False))
    if len(rows) != len(expected) or not all(alike):
        yield "levers.csv holds other levers"
    yield from _ledger(answer, rows_of(tables["ledger.csv"]))


def _all(answer, key):
    return [one for c in answer["conditions"] for one in c[key]]


def _tabled_conditions(answer, rows):
    by = {(c["id"], c["stage"]): c for c in answer["conditions"]}
    for row in rows:
        c = by[row["condition"], row["boat"]]
        x, y, z = c["centre_of_gravity_m"]
        flat = {"lcg_m": x, "tcg_m": y, "vcg_m": z, "water_kg_m3": c["water_density_kg_m3"]}
        for key, cell in row.items():
            if key in ("condition", "boat"):
                continue
            spread = key.removeprefix("plus_minus_")
            expected = flat[key] if key in flat else c.get(key, c["plus_minus"].get(spread))
            if not same(expected, cell, 1e-8, 1e-9):
                where = f"conditions.csv {row['condition']}, {row['boat']} {key}"
                yield f"{where}: {cell}, {expected}"


def _ledger(answer, rows):
    refit = next(r for r in rows if r["belongs_to"] == "refit" and r["role"] == "sum")
    total = answer["survey"]["displacement_kg"] + sum(c["net_kg"] for c in answer["changes"])
    if not same(refit["mass_kg"], total, 1e-8):
        yield f"ledger.csv: the refit weighs {refit['mass_kg']}, by changes {total}"
    by_path = {r["path"]: float(r["mass_kg"]) for r in rows}
    for part in answer["parts"]:
        own = by_path[f"changes.{part['change']}.parts.{part['id']}"]
        if not same(own, part["mass_kg"]):
            yield f"ledger.csv: {part['id']} {own} kg, {part['mass_kg']}"


def differences_in_cut_lists(answer, files):
    """Every plate and bar of the answer on the cut list once, at its mass."""
    rows = rows_of(files["yard/cut-list.csv"])
    listed = {}
    for r in rows:  # a plate larger than any sheet is cut in several pieces
        listed.setdefault((r["part"], r["plate"]), []).append(float(r["mass_kg"]))
    masses = {(p["id"], q["id"]): q["mass_kg"] for p in answer["parts"] for q in p["plates"]}
    yield from (f"{'.'.join(one)} is on no cut list" for one in sorted(masses.keys() - listed))
    yield from (
        f"{'.'.join(one)} is cut and weighed nowhere" for one in sorted(listed - masses.keys())
    )
    for one in sorted(masses.keys() & listed):
        printed, by_list = 0.51e-3 * len(listed[one]), sum(listed[one])  # each to the gram
        if not same(masses[one], by_list, CHORDS, printed):
            yield f"{'.'.join(one)}: {by_list} kg on the cut list, {masses[one]:.4f}"
    yield from _seams(answer, files)


def _seams(answer, files):
    """No plate of a part with several stands alone, unless a finding names it."""
    rows = rows_of(files["yard/seams.csv"])
    joined = {name for r in rows for name in (r["first"], r["second"])}
    sentences = files["yard/findings.csv"] + " ".join(f["sentence"] for f in answer["findings"])
    for part in answer["parts"]:
        names = [f"{part['id']}.{p['id']}" for p in part["plates"]]
        if part["kind"] in ("hull_plate", "plating"):
            continue
        yield from (
            f"{name} meets nothing and no finding says so"
            for name in names
            if name not in joined and name not in sentences
        )


def plates_missing_from_scene(answer, glb):
    """Every plate has a node under its part's in the scene."""
    scene = pygltflib.GLTF2.load_from_bytes(glb)
    names = {node.name for node in scene.nodes}
    expected = {f"{p['id']}.{q['id']}" for p in answer["parts"] for q in p["plates"]}
    yield from (f"{name} is not drawn" for name in sorted(expected - names))
    ids = {node.extras.get("id") for node in scene.nodes if node.extras}
    yield from (f"{p['id']} has no node" for p in answer["parts"] if p["id"] not in ids)


def differences_in_explanations(answer, opened):
    """Each figure that opens shows the answer's own value."""
    by_path = dict(_paths(answer))
    for one in opened:
        if one["path"] in by_path and not same(one["value"], by_path[one["path"]], 1e-12):
            yield f"{one['path']} opens as {one['value']}, answered {by_path[one['path']]}"


def _paths(answer):
    """(path, number) of the figures of conditions, parts and changes."""
    for c in conditions_afloat(answer):
        for key, value in c.items():
            if isinstance(value, float):
                yield f"conditions.{c['id']}.{c['stage']}.{key}", value
        for f in c["freeboards"]:
            head = f"conditions.{c['id']}.{c['stage']}.freeboards.{f['mark']}.{f['side']}"
            yield f"{head}.freeboard_mm", f["freeboard_mm"]
    for part in answer["parts"]:
        yield f"parts.{part['id']}.mass_kg", part["mass_kg"]
    for change in answer["changes"]:
        yield f"changes.{change['id']}.net_kg", change["net_kg"]


def in_words(rule):
    """The state of a criterion as a table says it."""
    answered = rule["value"] is not None
    return rule["state"].replace("_", " ") if answered else "not answered"
