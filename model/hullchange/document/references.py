"""Names that point to something: each must be there, and nothing may lead back to itself.

The plain document is examined, so that these faults are listed together with all the others.
"""

from collections.abc import Iterator, Mapping

from pydantic import JsonValue

from hullchange.document.assumed import path_faults
from hullchange.document.grammar import suggestion
from hullchange.document.matching import PlainDocument, last_step, matches, words_at
from hullchange.document.paths import value_at
from hullchange.document.pointers import FIGURES, POINTERS, accepted_for
from hullchange.errors import DocumentError, Fault, ModelError

FEW = 6
BETWEEN = ("path", "fills", "loads")
ONE_OF = {"openings": "opening", "conditions": "condition", "targets": "target"}


def reference_faults(document: Mapping[str, JsonValue]) -> Iterator[Fault]:
    """What points to nothing, to itself, or twice to what can be taken only once."""
    plain = dict(document)
    for examine in (_names, _heights, _results, _rings, _taken_twice, _equal_ids, path_faults):
        yield from examine(plain)


def still_needed_error(error: DocumentError) -> ModelError:
    """The refusal to leave something out, by what is wrong with the document without it.

    Returns:
        ``still-needed``, naming what refers to it in plain words.
    """
    names = list(dict.fromkeys(_referring(fault.place) for fault in error.faults))
    most = names if len(names) <= FEW else [*names[: FEW - 1], f"{len(names) - FEW + 1} more"]
    listed = " and ".join(filter(None, [", ".join(most[:-1]), most[-1]]))
    sentence = f"Still used by {listed}. Delete that first, or set it to something else."
    return ModelError("still-needed", sentence, error.faults[0].place)


def _referring(place: str) -> str:
    """What stands at a place, in words: "opening side windows (leads to)"."""
    section, *steps = place.split(".")
    kept = [step for step in steps if not step.isdecimal() and step not in BETWEEN]
    *names, key = kept or [section]
    of = [ONE_OF.get(section, "" if names else section), *names[-1:]]
    words = " ".join(filter(None, of)).replace("-", " ").replace("_", " ")
    return f"{words} ({key.replace('-', ' ').replace('_', ' ')})"


def _names(plain: PlainDocument) -> Iterator[Fault]:
    for pointer in POINTERS:
        for path, value in matches(plain, pointer.pattern):
            name = last_step(path) if pointer.is_key else value
            if not isinstance(name, str):
                continue
            known = accepted_for(pointer, path, plain)
            if name not in known:
                yield _nothing(path, name, pointer.what, known)


def _nothing(path: str, name: str, what: str, known: list[str]) -> Fault:
    return Fault("unknown-name", path, f"{name!r} is not {what}{suggestion(name, known)}")


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
                sentence = f"{path} is not a length in metres: name one such as side_height_m."
                yield Fault("unknown-name", place, sentence)


def _results(plain: PlainDocument) -> Iterator[Fault]:
    for path, result in words_at(plain, "targets.*.result"):
        if result in FIGURES and not result.endswith("_mm"):
            target = path.removesuffix(".result")
            for bound in ("at_least_mm", "at_most_mm", "between_mm"):
                for place, _ in matches(plain, f"{target}.{bound}"):
                    plainly = bound.removesuffix("_mm")
                    sentence = f"{result} is not in mm: write {plainly}, in its own unit."
                    yield Fault("wrong-unit", place, sentence)


def _rings(plain: PlainDocument) -> Iterator[Fault]:
    likes = {path.split(".")[1]: name for path, name in words_at(plain, "conditions.*.like")}
    yield from _ring("starts from", likes, {name: f"conditions.{name}.like" for name in likes})
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
            sentence = (
                f"{f' {does} '.join(ring)}: this goes in a circle. Break it at one place."
            )
            yield Fault("ring", places[name], sentence)


def _taken_twice(plain: PlainDocument) -> Iterator[Fault]:
    for pattern, done in (
        ("changes.*.removes.*.aboard", "removed"),
        ("changes.*.replaces", "replaced"),
    ):
        first: dict[str, str] = {}
        for path, name in words_at(plain, pattern):
            if first.setdefault(name, path) != path:
                sentence = f"{name} is {done} twice, first at {first[name]}: do it only once."
                yield Fault("taken-twice", path, sentence)


def _equal_ids(plain: PlainDocument) -> Iterator[Fault]:
    first: dict[str, str] = {}
    paths = [
        p for group in ("changes.*.parts.*", "existing.*") for p, _ in matches(plain, group)
    ]
    for path in paths:
        name = last_step(path)
        if first.setdefault(name, path) != path:
            sentence = f"A part {name} already exists, {first[name]}: rename one of them."
            yield Fault("equal-ids", path, sentence)
