"""A figure of an answer explained: found by its path, its rule filled in."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial

from hullchange.answer.assessment import Assessment
from hullchange.document.assumed import holds_assumed
from hullchange.document.document import Document
from hullchange.errors import ModelError
from hullchange.explain import constants, entered
from hullchange.explain.places import ANY, AnswerPlace, figures, spot_at
from hullchange.explain.record import (
    CONSTANTS,
    ENTERED,
    Derivation,
    Explanation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    finite,
    unit_in,
)
from hullchange.explain.rules_afloat import AFLOAT
from hullchange.explain.rules_assumed import ASSUMED
from hullchange.explain.rules_criteria import CRITERIA
from hullchange.explain.rules_criterion_doubt import CRITERION_DOUBT
from hullchange.explain.rules_doubt import DOUBT
from hullchange.explain.rules_effects import EFFECTS
from hullchange.explain.rules_held import HELD_RULES
from hullchange.explain.rules_hull import HULL, READINGS, SURVEY, VOIDS
from hullchange.explain.rules_ledger import CHANGES, ITEMS, PARTS
from hullchange.explain.rules_levers import LEVERS
from hullchange.explain.rules_person import PERSON_RULES
from hullchange.explain.rules_targets import TARGETS
from hullchange.plain_words import condition_in_words, id_in_words

RULES: Rules = {
    **HULL,
    **READINGS,
    **SURVEY,
    **VOIDS,
    **AFLOAT,
    **LEVERS,
    **HELD_RULES,
    **PARTS,
    **ITEMS,
    **CHANGES,
    **EFFECTS,
    **CRITERIA,
    **TARGETS,
    **CRITERION_DOUBT,
    **DOUBT,
    **ASSUMED,
    **PERSON_RULES,
}
"""The rule of each kind of figure, by its pattern."""
CURVES = ("righting_levers", "wells_full", "held")
BOATS: Mapping[str, str] = {"as_found": "as found", "refit": "refit"}


def explanation(answer: Assessment, document: Document, path: str) -> Explanation:
    """A figure opened: formula, what it was made from, source, grade.

    Args:
        answer: the answer it stands in.
        document: what the answer is to, with the option it was asked with.
        path: of a result, such as conditions.departure.refit.gm_m; of a value of the document
            where no result has it, or behind ``document.``; of a constant, ``constants.``.

    Raises:
        ModelError: ``unknown-path``; ``no-value`` where the figure does not exist here.
    """
    return _opened(answer, document, partial(spot_at, answer), path, {})


def explanations(answer: Assessment, document: Document) -> Iterator[Explanation]:
    """Every figure of an answer but the points of its curves, and all that opens from them.

    Each once; of the thousands of points of a curve, which are derived alike, one.
    """
    index = {spot.path: spot for spot in figures(answer)}
    waiting = [spot.path for spot in index.values() if not _is_of_curve(spot)]
    seen, known_assumed = set(waiting), dict[str, bool]()
    while waiting:
        opened = _opened(answer, document, index.get, waiting.pop(), known_assumed)
        yield opened
        further = {one.path for one in opened.inputs} - seen
        seen |= further
        waiting.extend(sorted(further))


def _is_of_curve(spot: AnswerPlace) -> bool:
    return any(f".{curve}." in spot.pattern for curve in CURVES) and spot.pattern.endswith(ANY)


def _opened(
    answer: Assessment,
    document: Document,
    find: Callable[[str], AnswerPlace | None],
    path: str,
    known_assumed: dict[str, bool],
) -> Explanation:
    if path.startswith(CONSTANTS):
        return _constant(path)
    spot = None if path.startswith(ENTERED) else find(path)
    if spot is not None and spot.number is not None:
        return _figure(ExplanationRequest(answer, document, find, spot, known_assumed))
    if spot is not None and spot.value is None:
        sentence = (
            "There is no such figure here: a finding says why, or it is not calculated yet."
        )
        raise ModelError("no-value", sentence, path)
    found = entered.explained_entry(document, path.removeprefix(ENTERED))
    if found is None:
        sentence = (
            "There is no figure at this path: give that of a result, such as "
            "conditions.departure.gm_m, or of a value in the document."
        )
        raise ModelError("unknown-path", sentence, path)
    return found


def _figure(asked: ExplanationRequest) -> Explanation:
    spot = asked.spot
    rule = _rule(asked)
    return Explanation(
        path=spot.path,
        name=_filled(rule.name, asked),
        of=_of(spot),
        value=finite(spot.number),
        unit=_unit(rule, spot),
        plus_minus=asked.number(rule.plus_minus) if rule.plus_minus else None,
        formula=_filled(rule.formula, asked),
        inputs=tuple(_inputs(rule, asked)),
        source=rule.basis.source,
        grade=rule.basis.grade,
        note=rule.note,
        entered="",
        assumed=_rests_on_assumed(asked),
    )


def _rests_on_assumed(asked: ExplanationRequest) -> bool:
    """Whether anything that a figure is made from, down to the document, is assumed."""
    if not asked.document.assumed or asked.spot.pattern in ASSUMED:
        return False
    path, known = asked.spot.path, asked.known_assumed
    if path not in known:
        known[path] = any(one.assumed for one in _inputs(_rule(asked), asked))
    return known[path]


def _rule(asked: ExplanationRequest) -> Derivation:
    rule = RULES[asked.spot.pattern]
    return rule if isinstance(rule, Derivation) else rule(asked)


def _filled(words: str, asked: ExplanationRequest) -> str:
    """Words of a rule with the figure's names in them, plain; braces of others stay."""
    for index, name in enumerate(asked.names):
        words = words.replace(f"{{{index}}}", id_in_words(name))
    return words


def _unit(rule: Derivation, spot: AnswerPlace) -> str:
    return unit_in(spot.path) if rule.unit is None else rule.unit


def _of(spot: AnswerPlace) -> str:
    """The boat and condition a figure belongs to; others say in their names whose they are."""
    root, *_ = spot.path.split(".", 1)
    if root == "conditions":
        return f"{condition_in_words(spot.names[0])}, {BOATS[spot.names[1]]}"
    return BOATS[spot.names[1]] if root == "cockpits" else ""


def _inputs(rule: Derivation, asked: ExplanationRequest) -> Iterator[Ingredient]:
    for listed in rule.inputs:
        for one in (listed,) if isinstance(listed, InputPath) else listed(asked):
            ingredient = (
                _placed(one, asked) if isinstance(one, Ingredient) else _ingredient(one, asked)
            )
            if ingredient is not None:
                yield ingredient


def _placed(listed: Ingredient, asked: ExplanationRequest) -> Ingredient:
    """An ingredient that a rule lists by itself, marked where it is assumed."""
    place = listed.path.removeprefix(ENTERED)
    if not asked.document.assumed:
        return listed
    if place != listed.path:
        assumed = holds_assumed(place, asked.document.assumed)
    else:
        spot = asked.find(listed.path)
        if spot is None or spot.number is None:
            return listed
        assumed = _rests_on_assumed(replace(asked, spot=spot))
    return listed.model_copy(update={"assumed": True}) if assumed else listed


def _ingredient(ask: InputPath, asked: ExplanationRequest) -> Ingredient | None:
    """What is asked for; None where this boat has nothing of the kind."""
    path = asked.filled(ask.path)
    if path.startswith(ENTERED):
        place = path.removeprefix(ENTERED)
        return entered.entry_ingredient(asked.document, ask.symbol, place)
    if path.startswith(CONSTANTS):
        return entered.constant_ingredient(ask.symbol, path.removeprefix(CONSTANTS))
    spot = asked.find(path)
    if spot is None or spot.number is None:
        return None
    other = replace(asked, spot=spot)
    rule, of = _rule(other), _of(spot)
    named = _filled(rule.name, other)
    return Ingredient(
        symbol=ask.symbol,
        name=named if of == _of(asked.spot) else ", ".join(filter(None, (named, of))),
        value=finite(spot.number),
        unit=_unit(rule, spot),
        words="",
        path=spot.path,
        assumed=_rests_on_assumed(other),
    )


def _constant(path: str) -> Explanation:
    known = constants.CONSTANTS.get(path.removeprefix(CONSTANTS))
    if known is None:
        raise ModelError("unknown-path", "There is no constant with this name.", path)
    return Explanation(
        path=path,
        name=known.name,
        of="",
        value=known.value,
        unit=known.unit,
        plus_minus=None,
        formula="",
        inputs=(),
        source=known.source,
        grade=known.grade,
        note="",
        entered="",
    )
