"""A figure opened, as plain text: its chain of inputs indented."""

import re
from collections.abc import Callable, Iterator

from hullchange.answer.verdicts import rounded, step_for
from hullchange.explain.record import Explanation, Ingredient
from hullchange.plain_words import gm_decimals, unit_sign

GM = re.compile(r"\bgm(_at_rest|_solid)?_m$")
Opens = Callable[[str], Explanation]


def explanation_lines(path: str, opens: Opens, *, deep: bool) -> Iterator[str]:
    """The lines of a figure.

    Args:
        path: of the figure.
        opens: what stands behind a path.
        deep: whether every input is opened in turn, each once, or listed alone.
    """
    yield from _figure(opens(path), opens, "", set() if deep else None)


def _figure(
    one: Explanation, opens: Opens, margin: str, seen: set[str] | None
) -> Iterator[str]:
    yield f"{margin}{', '.join(filter(None, (one.name, one.of)))}: {_value(one)}"
    inner = f"{margin}  "
    for word, text in (("formula", one.formula), ("note", one.note), ("source", _source(one))):
        if text:
            yield f"{inner}{word}: {text}"
    for given in one.inputs:
        if seen is None or given.path in seen:
            yield f"{inner}{_input(given)}"
        else:
            seen.add(given.path)
            yield from _figure(opens(given.path), opens, inner, seen)


def _value(one: Explanation) -> str:
    if one.value is None:
        return "several figures" if one.inputs else "not a single figure"
    sign = unit_sign(one.unit)
    if not one.plus_minus:
        spread = "" if one.plus_minus is None else " ± 0"
        return f"{_signed(one.value)}{spread}{sign}"
    step = _step_on_pages(one, one.value, one.plus_minus)
    return f"{rounded(one.value, step)} ± {rounded(one.plus_minus, step)}{sign}".replace(
        "-", "−"
    )


def _step_on_pages(one: Explanation, value: float, plus_minus: float) -> float:
    """GM as it is shown anywhere, masses not coarser than 100 kg, as every page has them."""
    if GM.search(one.path) and ".change." not in one.path:
        return float(10.0 ** -gm_decimals(value))
    step = step_for(plus_minus)
    return min(step, 100.0) if one.unit == "kg" else step


def _source(one: Explanation) -> str:
    return f"{one.source} [{one.grade}]"


def _input(given: Ingredient) -> str:
    value = "" if given.value is None else f" = {_signed(given.value)}{unit_sign(given.unit)}"
    words = given.words and f" ({given.words})"
    symbol = given.symbol and f"{given.symbol}: "
    return f"{symbol}{given.name}{value}{words}  {given.path}"


def _signed(value: float) -> str:
    return f"{value:,.6g}".replace("-", "−")
