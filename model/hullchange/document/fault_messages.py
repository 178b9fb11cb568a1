"""Faults in plain words: what is wrong, where, and what to do about it."""

import math
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from pydantic import JsonValue, ValidationError
from pydantic_core import ErrorDetails

from hullchange.document.grammar import DocumentPlace, nearest, root, suggestion
from hullchange.document.quantities import AXES, FARTHEST_M, index_of
from hullchange.errors import Fault
from hullchange.parts.registry import KINDS, LATER
from hullchange.unit_suffixes import in_unit_of, meant_key, unit_of

MOST_FAULTS = 100

HULL_KINDS_LATER = {
    "dimensions": "A hull from principal dimensions comes later",
    "mesh": "A hull from a scanned or CAD surface comes later",
}


@dataclass(frozen=True)
class Wrong:
    """One thing the classes refuse, placed in the document.

    Attributes:
        type: what is wrong, in the words of the classes.
        steps: path of it.
        spot: what belongs there.
        above: what it stands in.
        given: what stands there.
        context: limits and words that belong to it.
        message: a predicate in plain words, where the document's own rules are broken.
    """

    type: str
    steps: tuple[str, ...]
    spot: DocumentPlace
    above: DocumentPlace
    given: JsonValue
    context: Mapping[str, object]
    message: str

    @property
    def key(self) -> str:
        """The last step."""
        return self.steps[-1] if self.steps else "The document"

    @property
    def subject(self) -> str:
        """The key; an entry of a list with the list it is in."""
        return ".".join(self.steps[self._named() :]) or self.key

    @property
    def number(self) -> str:
        """A limit or the number that stands there, with its unit."""
        return self.with_unit(self.given)

    def with_unit(self, value: object) -> str:
        """A number with the unit of this place."""
        unit = unit_of(self.steps[self._named()]) if self.steps else ""
        return f"{value:g} {unit}".strip() if isinstance(value, int | float) else str(value)

    def _named(self) -> int:
        """Index of the last step that is no entry of a list."""
        named = [i for i, step in enumerate(self.steps) if index_of(step) < 0]
        return named[-1] if named else 0


def faults_of(error: ValidationError, document: Mapping[str, JsonValue]) -> tuple[Fault, ...]:
    """One fault for each thing the classes refuse, in the order of the grammar."""
    wrongs = [_located(details, document) for details in error.errors(include_url=False)]
    respelled = {
        (*wrong.steps[:-1], _meant(wrong) or nearest(wrong.key, wrong.above.keys))
        for wrong in wrongs
        if wrong.type == "extra_forbidden"
    }
    faults = {
        (fault.code, fault.place): fault
        for wrong in wrongs[:MOST_FAULTS]
        if not (wrong.type == "missing" and wrong.steps in respelled)
        for fault in [_fault(wrong)]
    }
    return tuple(faults.values())


def _located(details: ErrorDetails, document: Mapping[str, JsonValue]) -> Wrong:
    """The error where it is in the document, without the tags of choices between classes."""
    spot = above = root(document)
    steps: list[str] = []
    tagged = False
    for step in map(str, details["loc"]):
        if tagged or step == "[key]":
            tagged = False
            continue
        above, named = spot, step
        if above.is_place and step.isdecimal():
            named = AXES[int(step)]
        spot = above.next(step) if above.leads_on(step) else DocumentPlace(None)
        steps.append(named)
        tagged = spot.chosen
    given, context = with_numbers_capped(details["input"]), details.get("ctx", {})
    return Wrong(details["type"], tuple(steps), spot, above, given, context, details["msg"])


def with_numbers_capped(value: JsonValue) -> JsonValue:
    """Plain values, with integers too large to compute with made infinite."""
    match value:
        case dict():
            return {key: with_numbers_capped(inner) for key, inner in value.items()}
        case list():
            return [with_numbers_capped(inner) for inner in value]
        case int() if abs(value) > sys.float_info.max:
            return math.inf if value > 0 else -math.inf
    return value


def _fault(wrong: Wrong) -> Fault:
    if wrong.given is None and wrong.type.endswith("_type"):
        return _empty(wrong)
    if wrong.type in _SAID:
        return _SAID[wrong.type](wrong)
    return _at(wrong, wrong.type, f"{wrong.subject} {wrong.message}.")


def _at(wrong: Wrong, code: str, sentence: str, below: str = "") -> Fault:
    return Fault(code, ".".join((*wrong.steps, *below.split())), sentence)


def _shown(value: JsonValue) -> str:
    match value:
        case str():
            return f"the text {value!r}" if len(value) <= 40 else "a long text"
        case bool():
            return "yes or no"
        case int() | float():
            return f"the number {value:g}"
        case list():
            return "a list"
        case _:
            return "a group of keys"


def _missing(wrong: Wrong) -> Fault:
    if wrong.above.is_list:
        wanted = wrong.above.length
        holder = Wrong(
            wrong.type, wrong.steps[:-1], wrong.above, wrong.above, wrong.given, {}, ""
        )
        return _wrong_count(holder, f"{wanted} numbers")
    about = wrong.spot.info.description
    what = f"give it ({about})" if about else "give it a value"
    return _at(wrong, "missing-key", f"{wrong.key} is missing: {what}.")


def _wrong_count(wrong: Wrong, wanted: str) -> Fault:
    count = len(wrong.given) if isinstance(wrong.given, list | dict) else 0
    return _at(
        wrong, "wrong-count", f"{wrong.subject} has {count} entries: it must have {wanted}."
    )


def _too_few(wrong: Wrong) -> Fault:
    return _wrong_count(wrong, f"at least {wrong.context.get('min_length')}")


def _too_many(wrong: Wrong) -> Fault:
    if isinstance(wrong.given, str):
        return _too_long(wrong)
    if wrong.spot.length:
        return _wrong_count(wrong, str(wrong.spot.length))
    return _wrong_count(wrong, f"at most {wrong.context.get('max_length')}")


def _meant(wrong: Wrong) -> str:
    """The key that was meant, but for its unit; "" if there is none."""
    return meant_key(wrong.key, wrong.above.keys)


def _unknown_key(wrong: Wrong) -> Fault:
    if wrong.steps[:1] == ("launch",):
        sentence = "Readings after the launch cannot be used yet: leave launch: {} as it is."
        return _at(wrong, "comes-later", sentence)
    other = _meant(wrong)
    if not other:
        near = suggestion(wrong.key, wrong.above.keys)
        return _at(wrong, "unknown-key", f"Unknown key {wrong.key}{near}")
    if not unit_of(wrong.key):
        return _at(wrong, "wrong-unit", f"{wrong.key} lacks its unit: write {other}.")
    remedy = other
    if isinstance(wrong.given, int | float):
        remedy = f"{other}: {in_unit_of(wrong.key, other, wrong.given):g}"
    return _at(wrong, "wrong-unit", f"{wrong.key} is in the wrong unit: write {remedy}.")


def _no_number(wrong: Wrong) -> Fault:
    whole = "whole number" if wrong.type.startswith("int") else "number"
    return _at(
        wrong,
        "not-a-number",
        f"{wrong.subject} is {_shown(wrong.given)}: write a plain {whole}, without quotes or "
        "unit.",
    )


def _not_finite(wrong: Wrong) -> Fault:
    return _at(wrong, "not-finite", f"{wrong.subject} is not a finite number: write a number.")


def _out_of_range(wrong: Wrong) -> Fault:
    word, limit = next(
        (words, wrong.context[key]) for key, words in _LIMITS.items() if key in wrong.context
    )
    if wrong.subject.startswith(OF_SHEETS) and limit == FARTHEST_M:
        sentence = f"{wrong.subject} is {wrong.number}: no sheet is that large. Write metres."
        return _at(wrong, "out-of-range", sentence)
    is_far = limit in (FARTHEST_M, -FARTHEST_M) and index_of(wrong.key) >= 0
    if is_far and "_mm" not in wrong.subject:
        sentence = (
            f"{wrong.subject} is {wrong.number}, far from the boat: places are metres from "
            f"the forward perpendicular, within {FARTHEST_M:g} m."
        )
        return _at(wrong, "far-away", sentence)
    sentence = f"{wrong.subject} is {wrong.number}: it must be {word} {wrong.with_unit(limit)}."
    if wrong.key == "mass_kg" and word == "at least":
        sentence += " Removed weights go under removes, with their mass."
    return _at(wrong, "out-of-range", sentence)


OF_SHEETS = ("sizes_m", "leftovers_m")
_LIMITS = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}


def _unknown_word(wrong: Wrong) -> Fault:
    if wrong.steps == ("hull", "kind") and str(wrong.given) in HULL_KINDS_LATER:
        sentence = f"{HULL_KINDS_LATER[str(wrong.given)]}: use kind offsets, with lines."
        return _at(wrong, "comes-later", sentence)
    known = str(wrong.context["expected"]).replace("'", "")
    near = suggestion(str(wrong.given), tuple(known.replace(" or ", ", ").split(", ")))
    return _at(wrong, "unknown-word", f"{wrong.subject} is {_shown(wrong.given)}{near}")


def _empty(wrong: Wrong) -> Fault:
    sentence = f"{wrong.subject} is empty: give it a value, or leave the key out."
    return _at(wrong, "empty-value", sentence)


def _too_long(wrong: Wrong) -> Fault:
    most = wrong.context["max_length"]
    sentence = f"{wrong.subject[:60]} is longer than {most} characters: shorten it."
    return _at(wrong, "too-long", sentence)


def _no_text(wrong: Wrong) -> Fault:
    return _at(
        wrong, "not-a-text", f"{wrong.subject} is {_shown(wrong.given)}: write text or a name."
    )


def _bad_name(wrong: Wrong) -> Fault:
    plain = "-".join(
        "".join(
            c if c.isascii() and c.isalnum() else " " for c in str(wrong.given).lower()
        ).split()
    )
    such = f", such as {plain}" if plain else ""
    sentence = (
        f"{str(wrong.given)[:60]!r} cannot be a name: use lower-case letters, digits and "
        f"single hyphens{such}."
    )
    return _at(wrong, "bad-name", sentence)


def _no_group(wrong: Wrong) -> Fault:
    return _at(
        wrong,
        "not-a-group",
        f"{wrong.subject} is {_shown(wrong.given)}: write keys with values under it.",
    )


def _no_list(wrong: Wrong) -> Fault:
    return _at(
        wrong, "not-a-list", f"{wrong.subject} is {_shown(wrong.given)}: write a list, [...]."
    )


def _no_flag(wrong: Wrong) -> Fault:
    return _at(
        wrong, "not-a-flag", f"{wrong.subject} is {_shown(wrong.given)}: write true or false."
    )


def _unknown_kind(wrong: Wrong) -> Fault:
    kind = str(wrong.context["tag"])
    if kind in LATER:
        return _at(wrong, "comes-later", LATER[kind], "kind")
    sentence = f"{kind!r} is not a kind of part{suggestion(kind, tuple(KINDS))}"
    return _at(wrong, "unknown-kind", sentence, "kind")


def _no_kind(wrong: Wrong) -> Fault:
    sentence = f"kind is missing: give one of {', '.join(KINDS)}."
    return _at(wrong, "missing-key", sentence, "kind")


_SAID: Mapping[str, Callable[[Wrong], Fault]] = {
    "missing": _missing,
    "extra_forbidden": _unknown_key,
    "float_type": _no_number,
    "int_type": _no_number,
    "finite_number": _not_finite,
    "int_parsing_size": _not_finite,
    "greater_than": _out_of_range,
    "greater_than_equal": _out_of_range,
    "less_than": _out_of_range,
    "less_than_equal": _out_of_range,
    "literal_error": _unknown_word,
    "string_type": _no_text,
    "string_pattern_mismatch": _bad_name,
    "string_too_short": _empty,
    "string_too_long": _too_long,
    "bool_type": _no_flag,
    "bool_parsing": _no_flag,
    "dict_type": _no_group,
    "mapping_type": _no_group,
    "model_type": _no_group,
    "model_attributes_type": _no_group,
    "tuple_type": _no_list,
    "too_short": _too_few,
    "too_long": _too_many,
    "union_tag_invalid": _unknown_kind,
    "union_tag_not_found": _no_kind,
}
