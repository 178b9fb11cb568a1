"""Values of the document explained: where a chain of inputs ends, and what is known of it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from pydantic import BaseModel

from hullchange.document import items
from hullchange.document.assumed import holds_assumed
from hullchange.document.document import Document
from hullchange.document.quantities import AXES, index_of
from hullchange.explain.constants import LIQUID_CONSTANTS, water_constant
from hullchange.explain.record import (
    CONSTANTS,
    ENTERED,
    Explanation,
    Ingredient,
    unit_in,
)
from hullchange.plain_words import id_in_words

MOST = 60
ASSUMED = "assumed"
WAYS = {
    "x": "x aft",
    "y": "y to starboard",
    "z": "z up",
    "port": "port",
    "starboard": "starboard",
}
"""Keys that say which of several, in words."""
SAID = {
    "weighed": "Weighed.",
    "drawn": "Calculated from a drawing.",
    "catalogue": "From a catalogue or a receipt.",
    "guessed": "Guessed: weigh or measure it where it matters.",
    "inclining": "From an earlier inclining.",
    "measured": "Measured on this boat.",
    "assumed": "Assumed until it is measured on this boat.",
    "given": "Entered in the document: the owner's own figure or choice.",
}
"""Where a figure is from, in a sentence."""


@dataclass(frozen=True)
class EnteredValue:
    """A value of the document with the groups it lies in, outermost first."""

    path: str
    value: object
    within: tuple[object, ...]

    @property
    def key(self) -> str:
        """The last step of its path."""
        return self.path.rsplit(".", 1)[-1]


def entry_at(document: Document, path: str) -> EnteredValue | None:
    """The value at a dotted path; of a load, where it is given; None where nothing is."""
    value: object = document
    within: list[object] = []
    steps = path.split(".")
    for index, step in enumerate(steps):
        within.append(value)
        value = _below(value, step)
        if value is None:
            return _where_it_is_like(document, steps) if index >= 2 else None
    return EnteredValue(path, value, tuple(within))


def _where_it_is_like(document: Document, steps: list[str]) -> EnteredValue | None:
    """A condition's value where the condition it is like gives it."""
    condition = document.conditions.get(steps[1]) if steps[0] == "conditions" else None
    if condition is None or condition.like is None:
        return None
    return entry_at(document, ".".join(["conditions", condition.like, *steps[2:]]))


def _below(value: object, step: str) -> object:
    if isinstance(value, BaseModel):
        return getattr(value, "from_" if step == "from" else step, None)
    if isinstance(value, Mapping):
        return value.get(step)
    if isinstance(value, tuple):
        index = index_of(step)
        return value[index] if 0 <= index < len(value) else None
    return None


def explained_entry(document: Document, path: str) -> Explanation | None:
    """A value of the document: what it is, how well it is known, where it is from.

    A group lists what is in it.
    """
    entry = entry_at(document, path)
    if entry is None:
        return None
    number = _number(entry.value)
    from_ = _from(entry)
    return Explanation(
        path=f"{ENTERED}{path}",
        name=_name(entry),
        of=_owner_words(entry),
        value=number,
        unit="" if number is None else unit_in(entry.path),
        plus_minus=None if number is None else _plus_minus(entry),
        formula=_meaning(entry),
        inputs=tuple(_inside(entry)) if number is None else tuple(_named_value(entry)),
        source=SAID[from_],
        grade=from_,
        note=_note(entry),
        entered=entry.path,
        assumed=from_ == ASSUMED,
    )


def entry_ingredient(document: Document, symbol: str, path: str) -> Ingredient | None:
    """A value of the document as an input."""
    entry = entry_at(document, path)
    if entry is None:
        return None
    number = _number(entry.value)
    owner = _owner_words(entry)
    return Ingredient(
        symbol=symbol,
        name=", ".join(filter(None, (_name(entry), owner))),
        value=number,
        unit="" if number is None else unit_in(entry.path),
        words=_words(entry) if number is None else _from_words(entry),
        path=f"{ENTERED}{path}",
        assumed=_is_assumed(entry),
    )


def _number(value: object) -> float | None:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return float(value) if is_number else None  # type: ignore[arg-type]


def _words(entry: EnteredValue) -> str:
    value, words = entry.value, ""
    if isinstance(value, str | bool):
        words = str(value)
    elif isinstance(value, tuple | Mapping):
        words = f"{len(value)} entries"
    return ", ".join(filter(None, (words, ASSUMED if _is_assumed(entry) else "")))


def _is_assumed(entry: EnteredValue) -> bool:
    """Whether a value is assumed, or something in it."""
    document = entry.within[0]
    return isinstance(document, Document) and holds_assumed(entry.path, document.assumed)


def _from_words(entry: EnteredValue) -> str:
    if _is_assumed(entry):
        return ASSUMED
    given = getattr(entry.within[-1], "from_", None)
    return given if isinstance(given, str) else ""


def _name(entry: EnteredValue) -> str:
    """The key in words, without its unit; of a place, which way."""
    key = entry.key
    if key in WAYS and "." in entry.path:
        above = id_in_words(entry.path.rsplit(".", 2)[-2].removesuffix("_m"))
        return f"{above}, {WAYS[key]}"
    unit = unit_in(key) and key.rsplit(f"_{_ending(key)}", 1)[0]
    return id_in_words(unit or key).rstrip()


def _ending(key: str) -> str:
    """The unit of a key as the key writes it."""
    return next(
        end for end in ("kg_m3", "kg_m2", key.rsplit("_", 1)[-1]) if key.endswith(f"_{end}")
    )


def _owner_words(entry: EnteredValue) -> str:
    """The named thing a value belongs to: the last step that is a name."""
    steps = entry.path.split(".")
    for index in range(len(steps) - 2, -1, -1):
        if isinstance(entry.within[index], Mapping):
            return id_in_words(steps[index])
    return id_in_words(steps[0]) if len(steps) > 1 else ""


def _meaning(entry: EnteredValue) -> str:
    """The description of a key in the document's grammar."""
    for holder, step in zip(
        reversed(entry.within), reversed(entry.path.split(".")), strict=True
    ):
        if isinstance(holder, BaseModel):
            field = type(holder).model_fields.get("from_" if step == "from" else step)
            return (field.description or "") if field else ""
    return ""


def _from(entry: EnteredValue) -> str:
    if _is_assumed(entry):
        return ASSUMED
    given = next((f for f in _nearest(entry, "from_") if isinstance(f, str)), "")
    if given in SAID:
        return given
    if isinstance(entry.within[-1], items.Load | items.DocumentWeight):
        return "guessed"
    measured = entry.path.startswith(("hull.", "survey.marks.", "survey.inclining."))
    return "measured" if measured else "given"


def _note(entry: EnteredValue) -> str:
    note = next((n for n in _nearest(entry, "note") if isinstance(n, str)), "")
    return note and f"Note in the document: {note}"


def _nearest(entry: EnteredValue, key: str) -> Iterator[object]:
    """A key of the value itself, then of the groups it lies in, the closest first."""
    for holder in (entry.value, *reversed(entry.within)):
        if isinstance(holder, BaseModel) and key in type(holder).model_fields:
            yield getattr(holder, key)


def _plus_minus(entry: EnteredValue) -> float | None:
    """One standard deviation of a figure, as given or by where it is from."""
    holder = entry.within[-1]
    if isinstance(holder, items.DocumentWeight) and entry.key == "mass_kg":
        return holder.sd_mass()
    above = entry.within[-2] if len(entry.within) > 1 else None
    if isinstance(above, items.DocumentWeight) and entry.path.rsplit(".", 2)[-2] in (
        "at_m",
        "to_m",
    ):
        return above.sd_place()[index_of(entry.key)]
    if entry.key.startswith("plus_minus"):
        return None
    if entry.path.startswith("survey.marks.") and ".freeboard_m." not in entry.path:
        return None
    unit = next((u for u in ("kg", "l", "deg", "m") if unit_in(entry.path) == u), "")
    given = (sd for sd in _nearest(entry, f"plus_minus_{unit}") if isinstance(sd, float))
    return next(given, None)


def _inside(entry: EnteredValue) -> Iterator[Ingredient]:
    """What a group or a list holds."""
    value = entry.value
    if isinstance(value, BaseModel):
        named = {
            key: getattr(value, key)
            for key in type(value).model_fields
            if key not in ("note", "from_") and getattr(value, key) not in (None, (), {})
        }
    elif isinstance(value, Mapping):
        named = dict(value)
    elif isinstance(value, tuple):
        is_place = len(value) == len(AXES) and all(_number(v) is not None for v in value)
        named = {AXES[i] if is_place else str(i): inner for i, inner in enumerate(value)}
    else:
        return
    for key, inner in list(named.items())[:MOST]:
        path = f"{entry.path}.{key}"
        number = _number(inner)
        below = EnteredValue(path, inner, (*entry.within, value))
        yield Ingredient(
            symbol="",
            name=_name(below),
            value=number,
            unit="" if number is None else unit_in(path),
            words=_words(below) if number is None or _is_assumed(below) else "",
            path=f"{ENTERED}{path}",
            assumed=_is_assumed(below),
        )


def _named_value(entry: EnteredValue) -> Iterator[Ingredient]:
    """The constant for a density, where the document names a liquid."""
    holder, number = entry.within[-1], _number(entry.value) or 0.0
    name = ""
    if entry.key == "density_kg_m3" and not isinstance(
        holder, items.DocumentTank | items.VoidFill
    ):
        name = water_constant(number)
    if name:
        yield constant_ingredient("ρ", name)


def constant_ingredient(symbol: str, name: str) -> Ingredient:
    """A constant as an input."""
    from hullchange.explain.constants import CONSTANTS as KNOWN

    known = KNOWN[name]
    return Ingredient(
        symbol=symbol,
        name=known.name,
        value=known.value,
        unit=known.unit,
        words="",
        path=f"{CONSTANTS}{name}",
    )


def tank_density(tank: items.DocumentTank, path: str) -> Ingredient:
    """The density of what a tank holds, as an input."""
    if tank.density_kg_m3 is None:
        return constant_ingredient("ρ", LIQUID_CONSTANTS[tank.contents or "fresh"])
    return Ingredient(
        symbol="ρ",
        name=f"density, {id_in_words(path)}",
        value=tank.density_kg_m3,
        unit="kg/m3",
        words="",
        path=f"{ENTERED}{path}.density_kg_m3",
    )
