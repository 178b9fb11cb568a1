"""What is not the same in two answers: inputs, steel, results, criteria, formulas, version."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple, get_args

from pydantic import Field, JsonValue

from hullchange.answer.assessment import Assessment, ConditionResult
from hullchange.answer.changes import PartResult, PlateResult
from hullchange.answer.heeled import CriterionResult
from hullchange.answer.verdicts import state_in_words, verdict_in_words
from hullchange.answer.wire import Wire
from hullchange.comparison.differences import ValueChange, differences
from hullchange.comparison.signed_changes import normalized_document
from hullchange.document.document import Document
from hullchange.unit_suffixes import unit_of

Group = Literal[
    "tool",
    "dimensions",
    "weights",
    "other figures",
    "parts",
    "plates",
    "results",
    "criteria",
    "formulas",
]
GROUPS: tuple[Group, ...] = get_args(Group)
INPUTS = {"dimensions", "weights", "other figures"}
WEIGHT_KEYS = ("removes", "adds", "moves")


class ComparedRow(Wire):
    """One thing that is not the same."""

    group: Group
    path: str = Field(description="dotted path of the value or the result")
    where: str = Field(description="part, change, or condition and boat; empty for the whole")
    what: str
    before: JsonValue = Field(description="null where it is new")
    after: JsonValue = Field(description="null where it is gone")
    unit: str
    step: float | None = Field(description="to which a result is shown; null for an input")
    is_small: bool = Field(description="less than one step: nothing to act on")


class Comparison(Wire):
    """Two answers side by side; what is the same is left out."""

    before: str = Field(description="in words: which revision")
    after: str = Field(description="in words: which revision, or the working copy")
    sentence: str
    rows: tuple[ComparedRow, ...] = Field(description="by group; in a group, as documented")


class Shown(NamedTuple):
    """The name of a result, its unit, and the step in that unit that it is rounded to."""

    what: str
    unit: str
    step: float


# the finest steps at which results are read
PART_FIGURES = {
    "mass_kg": Shown("mass", "kg", 0.1),
    "centroid_m.x": Shown("centroid aft of FP", "m", 0.005),
    "centroid_m.y": Shown("centroid to starboard", "m", 0.005),
    "centroid_m.z": Shown("centroid above DWL", "m", 0.005),
    "plate_area_m2": Shown("area of plate", "m2", 0.01),
    "buoyant_volume_m3": Shown("buoyant volume", "m3", 0.005),
}
PLATE_FIGURES = {
    "thickness_mm": Shown("thickness", "mm", 0.1),
    "area_m2": Shown("area", "m2", 0.01),
    "mass_kg": Shown("mass", "kg", 0.1),
}
CONDITION_FIGURES = {
    "displacement_kg": Shown("displacement", "kg", 1.0),
    "centre_of_gravity_m.x": Shown("LCG", "m", 0.005),
    "centre_of_gravity_m.y": Shown("TCG", "m", 0.001),
    "centre_of_gravity_m.z": Shown("VCG", "m", 0.005),
    "sinkage_bow_mm": Shown("sinkage at the bow", "mm", 1.0),
    "sinkage_mm": Shown("sinkage midships", "mm", 1.0),
    "sinkage_stern_mm": Shown("sinkage at the stern", "mm", 1.0),
    "trim_mm": Shown("trim by the stern", "mm", 1.0),
    "heel_deg": Shown("list to starboard", "deg", 0.1),
    "gm_m": Shown("GM upright", "m", 0.005),
    "gm_at_rest_m": Shown("GM at rest", "m", 0.005),
    "vanishing_angle_deg": Shown("angle of vanishing stability", "deg", 0.1),
    "vanishing_angle_without_house_deg": Shown(
        "angle of vanishing stability, no house", "deg", 0.1
    ),
    "downflooding_angle_deg": Shown("first unclosed opening under water", "deg", 0.1),
    "downflooding_angle_in_use_deg": Shown("first opening under water, boards out", "deg", 0.1),
    "downflooding_by_area_deg": Shown("downflooding angle by area", "deg", 0.1),
    "range_deg": Shown("range", "deg", 0.1),
    "greatest_gz_m": Shown("maximum GZ", "m", 0.001),
    "critical_opening": Shown("opening that floods first", "", 0.0),
}
HULL_FIGURES = {
    "displacement_at_dwl_kg": Shown("displacement at DWL", "kg", 1.0),
    "length_waterline_m": Shown("length of waterline", "m", 0.005),
    "draught_m": Shown("draught", "m", 0.005),
    "km_m": Shown("KM at DWL", "m", 0.005),
}
FORMULA_FIGURES = ("formula", "source", "grade", "limit_in_words")


def compared(
    before: tuple[str, Document, Assessment], after: tuple[str, Document, Assessment]
) -> Comparison:
    """What is not the same in two answers.

    Args:
        before: name in words, document and answer.
        after: the same of the other.
    """
    (old_name, old_document, old), (new_name, new_document, new) = before, after
    rows = [
        *_tool(old, new),
        *_inputs(
            differences(normalized_document(old_document), normalized_document(new_document))
        ),
        *_parts(old, new),
        *_results(old, new),
        *_criteria(old, new),
    ]
    return Comparison(
        before=old_name,
        after=new_name,
        sentence=_in_one_sentence(rows),
        rows=tuple(sorted(rows, key=lambda row: GROUPS.index(row.group))),
    )


def _in_one_sentence(rows: list[ComparedRow]) -> str:
    if not rows:
        return "No differences: same document, same results."
    groups = {row.group for row in rows}
    large = [row.group for row in rows if not row.is_small]
    counted = [
        f"{large.count(group)} in {group}"
        for group in GROUPS
        if group in large and group != "tool"
    ]
    if len(large) < len(rows):
        counted.append(f"{len(rows) - len(large)} too small to matter")
    sentence = f"Differences: {', '.join(counted)}." if counted else ""
    if "tool" in groups and not groups & INPUTS:
        sentence += " The documents are the same; the results come from another version."
    return sentence.strip()


def _tool(old: Assessment, new: Assessment) -> Iterator[ComparedRow]:
    if old.hullchange != new.hullchange:
        yield _row("tool", "hullchange", "", "version", (old.hullchange, new.hullchange))


def _inputs(changes: Iterable[ValueChange]) -> Iterator[ComparedRow]:
    for change in changes:
        steps = change.steps
        group: Group = "other figures"
        where = ".".join(steps[:-1])
        if steps[0] == "changes" and len(steps) >= 4:
            group = "weights" if steps[2] in WEIGHT_KEYS else group
            group = "dimensions" if steps[2] == "parts" else group
            where = f"{steps[1]}: {steps[3]}" if len(steps) > 4 else steps[1]
        pair = (change.before, change.after)
        row = _row(group, change.path, where, steps[-1], pair)
        yield row.model_copy(update={"unit": unit_of(steps[-1])})


def _parts(old: Assessment, new: Assessment) -> Iterator[ComparedRow]:
    before = {part.id: part for part in old.parts}
    after = {part.id: part for part in new.parts}
    for name in {**after, **before}:
        path = f"parts.{name}"
        was, now = before.get(name), after.get(name)
        if was is None or now is None:
            yield _row("parts", path, name, "steel", (_mass(was), _mass(now)), ("kg", 0.1))
        else:
            yield from _figures("parts", path, name, PART_FIGURES, (was, now))
            yield from _plates(path, name, was.plates, now.plates)


def _plates(
    path: str, part: str, old: tuple[PlateResult, ...], new: tuple[PlateResult, ...]
) -> Iterator[ComparedRow]:
    before = {plate.id: plate for plate in old}
    after = {plate.id: plate for plate in new}
    for name in {**after, **before}:
        here, where = f"{path}.plates.{name}", f"{part}: {name}"
        was, now = before.get(name), after.get(name)
        if was is None or now is None:
            yield _row("plates", here, where, "plate", (_mass(was), _mass(now)), ("kg", 0.1))
        else:
            yield from _figures("plates", here, where, PLATE_FIGURES, (was, now))


def _results(old: Assessment, new: Assessment) -> Iterator[ComparedRow]:
    yield from _figures("results", "hull", "hull", HULL_FIGURES, (old.hull, new.hull))
    before, after = _by_condition(old), _by_condition(new)
    for key in {**after, **before}:
        path, where = f"conditions.{key[0]}", _stage_words(*key)
        was, now = before.get(key), after.get(key)
        if was is None or now is None:
            pair = tuple(None if c is None else c.displacement_kg for c in (was, now))
            yield _row("results", path, where, "displacement", pair, ("kg", 1.0))
            continue
        yield from _figures("results", path, where, CONDITION_FIGURES, (was, now))
        marks = _freeboards(was), _freeboards(now)
        for mark in {**marks[1], **marks[0]}:
            pair = (marks[0].get(mark), marks[1].get(mark))
            if pair[0] != pair[1]:
                here = f"{path}.freeboards"
                yield _row("results", here, where, f"freeboard {mark}", pair, ("mm", 1.0))


def _criteria(old: Assessment, new: Assessment) -> Iterator[ComparedRow]:
    before, after = _all_criteria(old), _all_criteria(new)
    formulas: dict[tuple[str, str], ComparedRow] = {}
    for (where, name), was, now in _paired(before, after):
        path = f"criteria.{name}"
        title = (now or was).title  # type: ignore[union-attr]
        if was is None or now is None:
            pair = tuple(None if c is None else verdict_in_words(c) for c in (was, now))
            yield _row("criteria", path, where, title, pair)
            continue
        if state_in_words(was) != state_in_words(now):
            pair = (verdict_in_words(was), verdict_in_words(now))
            yield _row("criteria", path, where, title, pair)
        step = _criterion_step(now)
        for field, what in (("value", title), ("limit", f"{title}: limit")):
            pair = (getattr(was, field), getattr(now, field))
            if pair[0] != pair[1]:
                yield _row("criteria", path, where, what, pair, (now.unit, step))
        for field in FORMULA_FIGURES:
            pair = (getattr(was, field), getattr(now, field))
            if pair[0] != pair[1]:
                what = f"{title}: {field.replace('_', ' ')}"
                formulas[name, field] = _row("formulas", path, "", what, pair)
    yield from formulas.values()


def _paired(
    before: Mapping[tuple[str, str], CriterionResult],
    after: Mapping[tuple[str, str], CriterionResult],
) -> Iterator[tuple[tuple[str, str], CriterionResult | None, CriterionResult | None]]:
    for key in {**after, **before}:
        yield key, before.get(key), after.get(key)


def _figures(
    group: Group, path: str, where: str, figures: Mapping[str, Shown], pair: tuple[Wire, Wire]
) -> Iterator[ComparedRow]:
    for key, shown in figures.items():
        was, now = _value(pair[0], key), _value(pair[1], key)
        if was != now:
            here = f"{path}.{key}"
            yield _row(group, here, where, shown.what, (was, now), (shown.unit, shown.step))


def _value(of: Wire, key: str) -> JsonValue:
    field, _, axis = key.partition(".")
    value: JsonValue = getattr(of, field)
    return value["xyz".index(axis)] if axis and isinstance(value, tuple) else value


def _row(
    group: Group,
    path: str,
    where: str,
    what: str,
    pair: tuple[JsonValue, ...],
    shown: tuple[str, float | None] = ("", None),
) -> ComparedRow:
    was, now = pair
    unit, step = shown
    both = isinstance(was, int | float) and isinstance(now, int | float)
    small = bool(both and step and abs(now - was) < step)  # type: ignore[operator]
    return ComparedRow(
        group=group,
        path=path,
        where=where,
        what=what,
        before=was,
        after=now,
        unit=unit,
        step=step or None,
        is_small=small,
    )


def _criterion_step(criterion: CriterionResult) -> float:
    return {"deg": 0.1, "m": 0.005, "mm": 1.0, "kg": 1.0}.get(criterion.unit, 0.001)


def _mass(of: PartResult | PlateResult | None) -> float | None:
    return None if of is None else of.mass_kg


def _stage_words(condition: str, stage: str) -> str:
    return f"{condition}, {'refit' if stage == 'refit' else 'as found'}"


def _by_condition(answer: Assessment) -> dict[tuple[str, str], ConditionResult]:
    return {(row.id, row.stage): row for row in answer.floats}


def _freeboards(row: ConditionResult) -> dict[str, float]:
    return {f"{f.mark}, {f.side}": f.freeboard_mm for f in row.freeboards}


def _all_criteria(answer: Assessment) -> dict[tuple[str, str], CriterionResult]:
    found = {
        (_stage_words(row.id, row.stage), criterion.id): criterion
        for row in answer.floats
        for criterion in row.criteria
    }
    for cockpit in answer.cockpits:
        where = _stage_words(cockpit.id, cockpit.stage)
        found |= {(where, criterion.id): criterion for criterion in cockpit.criteria}
    return found
