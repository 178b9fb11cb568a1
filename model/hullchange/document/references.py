"""Names that point to something: each must be there, and nothing may lead back to itself.

The plain document is examined, so that these faults are listed together with all the others.
"""

from collections.abc import Callable, Iterator, Mapping

from pydantic import JsonValue

from hullchange.answer.assessment import ConditionResult
from hullchange.document.document import DEFAULT_CONDITION
from hullchange.document.grammar import suggestion
from hullchange.document.matching import PlainDocument, last_step, matches, names_at, words_at
from hullchange.document.paths import value_at
from hullchange.errors import DocumentError, Fault, ModelError

FEW = 6
BETWEEN = ("path", "fills", "loads")
ONE_OF = {"openings": "opening", "conditions": "condition", "targets": "target"}


def reference_faults(document: Mapping[str, JsonValue]) -> Iterator[Fault]:
    """What points to nothing, to itself, or twice to what can be taken only once."""
    plain = dict(document)
    for examine in (_names, _replaced_by, _heights, _results, _rings, _taken_twice, _equal_ids):
        yield from examine(plain)


def still_needed_error(error: DocumentError) -> ModelError:
    """The refusal to leave something out, by what is wrong with the document without it.

    Returns:
        ``still-needed``, naming what refers to it in plain words.
    """
    names = list(dict.fromkeys(_referring(fault.place) for fault in error.faults))
    most = names if len(names) <= FEW else [*names[: FEW - 1], f"{len(names) - FEW + 1} more"]
    listed = " and ".join(filter(None, [", ".join(most[:-1]), most[-1]]))
    sentence = (
        f"Something still depends on it: {listed}. Leave that out first, or set it to "
        "something else."
    )
    return ModelError("still-needed", sentence, error.faults[0].place)


def _referring(place: str) -> str:
    """What stands at a place, in words: "opening side windows (leads to)"."""
    section, *steps = place.split(".")
    kept = [step for step in steps if not step.isdecimal() and step not in BETWEEN]
    *names, key = kept or [section]
    of = [ONE_OF.get(section, "" if names else section), *names[-1:]]
    words = " ".join(filter(None, of)).replace("-", " ").replace("_", " ")
    return f"{words} ({key.replace('-', ' ').replace('_', ' ')})"


def _conditions(plain: PlainDocument) -> list[str]:
    return names_at(plain, "conditions") or [DEFAULT_CONDITION]


def _part_names(plain: PlainDocument) -> list[str]:
    return names_at(plain, "changes.*.parts") + names_at(plain, "existing")


def _part_paths(plain: PlainDocument) -> list[str]:
    return [path for path, _ in matches(plain, "changes.*.parts.*")] + _existing_paths(plain)


def _existing_paths(plain: PlainDocument) -> list[str]:
    return [f"existing.{name}" for name in names_at(plain, "existing")]


def _aboard(plain: PlainDocument) -> list[str]:
    return names_at(plain, "survey.aboard")


def _tanks(plain: PlainDocument) -> list[str]:
    return names_at(plain, "tanks")


_POINTERS: tuple[tuple[str, str, Callable[[PlainDocument], list[str]]], ...] = (
    ("reference_condition", "a condition", _conditions),
    ("conditions.*.like", "a condition", _conditions),
    ("targets.*.condition", "a condition", _conditions),
    ("conditions.*.without.*", "something under survey.aboard", _aboard),
    ("changes.*.removes.*.aboard", "something under survey.aboard", _aboard),
    ("survey.aboard.*.tank", "a tank", _tanks),
    (
        "conditions.*.floods.*",
        "the path of a part, such as existing.old-cockpit",
        lambda plain: [*_part_paths(plain), *_part_names(plain)],
    ),
    ("changes.*.replaces", "an existing part, such as existing.old-house", _existing_paths),
    (
        "changes.*.parts.*.stand",
        "a new part it can stand on",
        lambda plain: names_at(plain, "changes.*.parts"),
    ),
    ("existing.*.stand", "an existing part", lambda plain: names_at(plain, "existing")),
    ("rig.stands_on", "the path of a part", _part_paths),
    ("openings.*.leads_to", "hull or the path of a part", lambda p: ["hull", *_part_paths(p)]),
    (
        "voids.*.within",
        "hull or an appendage of it",
        lambda plain: ["hull", *names_at(plain, "hull.appendages")],
    ),
)


def _names(plain: PlainDocument) -> Iterator[Fault]:
    for pattern, what, known_in in _POINTERS:
        known = known_in(plain)
        for path, name in words_at(plain, pattern):
            if name not in known:
                yield _nothing(path, name, what, known)
    known = _tanks(plain)
    for path, _ in matches(plain, "conditions.*.fills.*"):
        if last_step(path) not in known:
            yield _nothing(path, last_step(path), "a tank", known)


def _nothing(path: str, name: str, what: str, known: list[str]) -> Fault:
    return Fault("unknown-name", path, f"{name!r} is not {what}{suggestion(name, known)}.")


def _replaced_by(plain: PlainDocument) -> Iterator[Fault]:
    for change in names_at(plain, "changes"):
        known = names_at(plain, f"changes.{change}.parts")
        for path, name in words_at(plain, f"changes.{change}.removes.*.replaced_by"):
            if name not in known:
                yield _nothing(path, name, "a part of this change", known)


def _heights(plain: PlainDocument) -> Iterator[Fault]:
    """What ``rises_with`` names must be a length of the document."""
    for pattern in ("changes.*.adds.*", "changes.*.moves.*", "openings.*"):
        for place, path in words_at(plain, f"{pattern}.rises_with.path"):
            try:
                value = value_at(plain, path)
            except ModelError as error:
                if error.code != "no-value":
                    yield Fault("unknown-name", place, f"{path}: {error.sentence}")
                continue
            is_number = isinstance(value, int | float) and not isinstance(value, bool)
            if not is_number or path.endswith(("_mm", "_deg", "count")):
                sentence = f"{path} is no length in metres: name one, such as a side_height_m."
                yield Fault("unknown-name", place, sentence)


def target_results(plain: PlainDocument) -> list[str]:
    """Every figure of a condition a target may name."""
    fields = ConditionResult.model_fields.items()
    figures = [name for name, info in fields if info.annotation in (float, float | None)]
    marks = names_at(plain, "survey.marks")
    sides = [f"{mark}.{side}" for mark in marks for side in ("port", "starboard")]
    return figures + [f"freeboards.{mark}" for mark in (*marks, *sides)]


def _results(plain: PlainDocument) -> Iterator[Fault]:
    known = target_results(plain)
    for path, result in words_at(plain, "targets.*.result"):
        if result not in known:
            yield _nothing(path, result, "a figure of a condition", known)
        elif not result.endswith("_mm") and not result.startswith("freeboards."):
            target = path.removesuffix(".result")
            for bound in ("at_least_mm", "at_most_mm", "between_mm"):
                for place, _ in matches(plain, f"{target}.{bound}"):
                    plainly = bound.removesuffix("_mm")
                    sentence = f"{result} is not in mm: write {plainly}, in the result's unit."
                    yield Fault("wrong-unit", place, sentence)


def _rings(plain: PlainDocument) -> Iterator[Fault]:
    likes = {path.split(".")[1]: name for path, name in words_at(plain, "conditions.*.like")}
    yield from _ring("is like", likes, {name: f"conditions.{name}.like" for name in likes})
    stands = [
        found
        for group in ("changes.*.parts", "existing")
        for found in words_at(plain, f"{group}.*.stand")
    ]
    places = {path.split(".")[-2]: path for path, _ in stands}
    yield from _ring("stands on", {path.split(".")[-2]: on for path, on in stands}, places)


def _ring(does: str, leads: Mapping[str, str], places: Mapping[str, str]) -> Iterator[Fault]:
    """One fault for each ring of names that lead to each other."""
    seen: set[str] = set()
    for start in leads:
        chain: list[str] = []
        name = start
        while name in leads and name not in seen:
            seen.add(name)
            chain.append(name)
            name = leads[name]
        if name in chain:
            ring = [*chain[chain.index(name) :], name]
            sentence = f"{f' {does} '.join(ring)}: this leads in a ring. Cut it at one place."
            yield Fault("ring", places[name], sentence)


def _taken_twice(plain: PlainDocument) -> Iterator[Fault]:
    for pattern, done in (
        ("changes.*.removes.*.aboard", "taken off"),
        ("changes.*.replaces", "replaced"),
    ):
        first: dict[str, str] = {}
        for path, name in words_at(plain, pattern):
            if first.setdefault(name, path) != path:
                sentence = f"{name} is {done} already, at {first[name]}: do it once."
                yield Fault("taken-twice", path, sentence)


def _equal_ids(plain: PlainDocument) -> Iterator[Fault]:
    first: dict[str, str] = {}
    for path in _part_paths(plain):
        name = last_step(path)
        if first.setdefault(name, path) != path:
            sentence = f"There is a part {name} already, {first[name]}: give one another name."
            yield Fault("equal-ids", path, sentence)
