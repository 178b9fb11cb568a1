"""Which texts of a document name something else in it, and what each may name.

Checked by ``references``; forms offer the same choices.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import JsonValue

from hullchange.answer.assessment import ConditionResult
from hullchange.document.document import DEFAULT_CONDITION
from hullchange.document.matching import last_step, matches


@dataclass(frozen=True)
class Choices:
    """What may be named: everything a pattern fits, as a template writes it.

    Attributes:
        pattern: of what there is to name, such as ``tanks.*``.
        template: what to write for each, with ``{name}`` and ``{path}`` filled in.
    """

    pattern: str
    template: str = "{name}"


@dataclass(frozen=True)
class Pointer:
    """A text of the document that names something else in it.

    Attributes:
        pattern: where it stands; its first ``*`` fills the first ``{same}`` of its choices.
        what: what it names, in words.
        choices: what there is to name.
        words: fixed words that are allowed too.
        is_key: whether the key is the name, rather than what stands there.
        accepted: further choices that are accepted, but not offered.
        otherwise: what there is where the document names none.
    """

    pattern: str
    what: str
    choices: tuple[Choices, ...]
    words: tuple[str, ...] = ()
    is_key: bool = False
    accepted: tuple[Choices, ...] = ()
    otherwise: tuple[str, ...] = ()


_ABOARD = (Choices("survey.aboard.*"),)
_TANKS = (Choices("tanks.*"),)
_LINES = (Choices("hull.lines.*"),)
_NEW_PARTS = Choices("changes.*.parts.*", "{path}")
_EXISTING = Choices("existing.*", "{path}")
_PARTS = (_NEW_PARTS, _EXISTING)
_ABOARD_WHAT = "something under survey.aboard"
FIGURES = tuple(
    name
    for name, info in ConditionResult.model_fields.items()
    if info.annotation in (float, float | None)
)
"""Every figure of a condition, other than a freeboard, that a target may name."""


def _of_condition(pattern: str) -> Pointer:
    of = (Choices("conditions.*"),)
    return Pointer(pattern, "a condition", of, otherwise=(DEFAULT_CONDITION,))


POINTERS = (
    _of_condition("reference_condition"),
    _of_condition("conditions.*.like"),
    _of_condition("targets.*.condition"),
    Pointer("conditions.*.without.*", _ABOARD_WHAT, _ABOARD),
    Pointer("changes.*.removes.*.aboard", _ABOARD_WHAT, _ABOARD),
    Pointer("hull.taped.*.from.line", "a line of the hull", _LINES),
    Pointer("hull.taped.*.to.line", "a line of the hull", _LINES),
    Pointer("hull.read_again.*.line", "a line of the hull", _LINES),
    Pointer("survey.aboard.*.tank", "a tank", _TANKS),
    Pointer("conditions.*.fills.*", "a tank", _TANKS, is_key=True),
    Pointer(
        "conditions.*.floods.*",
        "the path of a part, such as existing.old-cockpit, or of a compartment",
        (*_PARTS, Choices("hull.compartments.*", "compartments.{name}")),
        accepted=(
            Choices("changes.*.parts.*"),
            Choices("existing.*"),
            Choices("hull.compartments.*", "{path}"),
        ),
    ),
    Pointer("changes.*.replaces", "an existing part, such as existing.old-house", (_EXISTING,)),
    Pointer(
        "changes.*.removes.*.replaced_by",
        "a part of this change",
        (Choices("changes.{same}.parts.*"),),
    ),
    Pointer(
        "changes.*.parts.*.stand",
        "a part it can stand on",
        (Choices("changes.*.parts.*"), Choices("existing.*")),
    ),
    Pointer("existing.*.stand", "an existing part", (Choices("existing.*"),)),
    Pointer("rig.stands_on", "the path of a part", _PARTS),
    Pointer("openings.*.leads_to", "hull or the path of a part", _PARTS, words=("hull",)),
    *(
        Pointer(
            f"{section}.*.within",
            "hull or an appendage of it",
            (Choices("hull.appendages.*"),),
            words=("hull",),
        )
        for section in ("tanks", "voids")
    ),
    Pointer(
        "targets.*.result",
        "a figure of a condition",
        tuple(
            Choices("survey.marks.*", f"freeboards.{{name}}{side}")
            for side in ("", ".port", ".starboard")
        ),
        words=FIGURES,
    ),
)


def known_for(pointer: Pointer, place: str, plain: JsonValue) -> list[str]:
    """What a text at a place of a document may name, without what is accepted only."""
    return [*pointer.words, *_named(pointer.choices, place, plain)] or [*pointer.otherwise]


def accepted_for(pointer: Pointer, place: str, plain: JsonValue) -> list[str]:
    """What a text at a place may name; arguments as in ``known_for``."""
    return [*known_for(pointer, place, plain), *_named(pointer.accepted, place, plain)]


def _named(choices: tuple[Choices, ...], place: str, plain: JsonValue) -> Iterator[str]:
    same = [*place.split("."), ""][1]
    for choice in choices:
        for path, _ in matches(plain, choice.pattern.replace("{same}", same)):
            yield choice.template.format(name=last_step(path), path=path)
