"""Figures outside what is typical, as after a slip of the decimal point: asked about."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from statistics import median
from types import UnionType
from typing import Annotated, Any, NamedTuple, TypeAlias, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hullchange.answer.cautions import COMMON_PRACTICE
from hullchange.cache import cached
from hullchange.document.document import Document
from hullchange.document.grammar import fields_of
from hullchange.document.quantities import index_of
from hullchange.findings import Finding, Severity
from hullchange.unit_suffixes import unit_of, without_unit

SLACK = 1.25
"""How far beyond its typical range a figure may lie before it is asked about: of the range's
ends where they are positive, of its width where it reaches to nought or below (own trial: of
forty boats that were drawn at random none is asked, and a slip of ten is outside a range of
one to ten)."""
RESULTS: Mapping[str, tuple[float, float]] = {
    "gm_m": (0.2, 2.5),
    "vanishing_angle_deg": (70.0, 180.0),
    "vanishing_angle_without_house_deg": (60.0, 180.0),
    "range_deg": (50.0, 180.0),
    "freeboards": (200.0, 2500.0),
}
"""What is typically wanted of a result, in its unit (common practice, no source)."""
NAMED_HELD = 4096
"""Named groups of a document whose findings are held: four boats with a thousand names."""
PRICES_APART = 4.0
MIDDLING = 10.0
"""[m] of waterline at which lengths of parts are typical as they stand; a larger boat may have
larger, a smaller one smaller ones."""


@dataclass(frozen=True)
class Size:
    """The size of the boat, which typical values depend on.

    Attributes:
        length: of the waterline [m].
        beam: greatest [m].
        mass: as surveyed [kg].
    """

    length: float
    beam: float
    mass: float


class Range(NamedTuple):
    """The typical range of a figure in its unit, or as a share of a measure ``of`` the boat."""

    low: float
    high: float
    of: str
    title: str


class Measured(NamedTuple):
    """A field that may hold numbers: its key, its own range, those of its entries."""

    key: str
    range: Range | None
    entries: tuple[Range | None, ...]


CheckedNumber: TypeAlias = tuple[str, str, float, Range]
"""Path, label, value and typical range of one number."""


def typical_findings(document: Document, size: Size) -> Iterator[Finding]:
    """A question for every figure that lies far outside what is typical of its kind."""
    yield from _in_section(document, "", "", size)
    yield from _asked((*_bounds(document), *_prices(document)), size)


def _asked(figures: Iterable[CheckedNumber], size: Size) -> Iterator[Finding]:
    for path, label, value, typical in figures:
        unit = unit_of(next(step for step in reversed(path.split(".")) if index_of(step) < 0))
        low, high = _here(typical, unit, size)
        if value == 0.0 or _lowest(low, high) <= value <= _highest(low, high):
            continue
        sentence = (
            f"{label}: {value:g} {unit}".rstrip()
            + f"; {low:.2g} to {high:.2g} {unit}".rstrip()
            + (" is typical for a boat of her size." if typical.of else " is typical.")
            + " Is it right?"
        )
        yield Finding("unusual", Severity.WARN, path, sentence, COMMON_PRACTICE)


def _bounds(document: Document) -> Iterator[CheckedNumber]:
    """What the owner wants of results of which it is known what is typical."""
    for name, target in document.targets.items():
        result = target.result.split(".", 1)[0]
        if result in RESULTS:
            own = Range(*RESULTS[result], "", "")
            for key in ("at_least", "at_most", "at_least_mm", "at_most_mm"):
                bound = getattr(target, key)
                if bound is not None:
                    label = (
                        f"Target {_words(name)}, {key.removesuffix('_mm').replace('_', ' ')}"
                    )
                    yield f"targets.{name}.{key}", label, bound, own


def _prices(document: Document) -> Iterator[CheckedNumber]:
    """Prices of a kilogram beside one another: steel costs about the same."""
    stock = document.stock
    for group, listed in (("plates", stock.plates), ("bars", stock.bars)):
        prices = {name: one.price for name, one in listed.items() if one.price}
        if len(prices) > 2:
            middle = median(prices.values())
            own = Range(middle / PRICES_APART, middle * PRICES_APART, "", "")
            for name, price in prices.items():
                yield f"stock.{group}.{name}.price", _label(_words(name), "price"), price, own


def _here(typical: Range, unit: str, size: Size) -> tuple[float, float]:
    """The range for this boat, in the unit of the figure."""
    low, high = typical.low, typical.high
    if typical.of:
        measure: float = getattr(size, typical.of)
        return low * measure, high * measure
    share = size.length / MIDDLING if unit == "m" else 1.0
    return low * min(1.0, share) if low > 0.0 else low * max(1.0, share), high * max(1.0, share)


def _lowest(low: float, high: float) -> float:
    return low / SLACK if low > 0.0 else low - (SLACK - 1.0) * (high - low)


def _highest(low: float, high: float) -> float:
    return high * SLACK if low > 0.0 else high + (SLACK - 1.0) * (high - low)


def _in_section(section: BaseModel, path: str, owner: str, size: Size) -> Iterator[Finding]:
    """A question for every number below a section that lies outside its typical range."""
    for key, own, entries in _measured(type(section)):
        at = f"{path}.{key}" if path else key
        value = getattr(section, _attribute(type(section), key))
        if isinstance(value, BaseModel):
            yield from _in_section(value, at, owner, size)
        elif isinstance(value, Mapping):
            for name, inner in value.items():
                if isinstance(inner, BaseModel):
                    yield from _in_named(inner, f"{at}.{name}", _words(name), size)
        elif isinstance(value, tuple):
            yield from _in_row(value, entries, (at, _label(owner, key)), size)
        elif own is not None and isinstance(value, int | float):
            figure = at, _label(owner, own.title or key), float(value), own
            yield from _asked([figure], size)


@cached(NAMED_HELD)
def _in_named(section: BaseModel, path: str, owner: str, size: Size) -> tuple[Finding, ...]:
    return tuple(_in_section(section, path, owner, size))


def _in_row(
    row: tuple[object, ...],
    entries: tuple[Range | None, ...],
    place: tuple[str, str],
    size: Size,
) -> Iterator[Finding]:
    """The same for the numbers of a row, or of rows of rows alike, at a path with a label."""
    path, label = place
    for number, value in enumerate(row):
        at = f"{path}.{number}"
        if isinstance(value, BaseModel):
            yield from _in_section(value, at, label, size)
        elif isinstance(value, tuple):
            yield from _in_row(value, entries, (at, label), size)
        elif entries and isinstance(value, int | float):
            own = entries[min(number, len(entries) - 1)]  # a row of any length has one kind
            if own is not None:
                words = f"{label}, {own.title}" if own.title else label
                yield from _asked([(at, words, float(value), own)], size)


def _label(owner: str, key: str) -> str:
    words = (without_unit(key) or key).replace("_", " ").lower()
    label = f"{owner}, {words}" if owner else words
    return label[:1].upper() + label[1:]


def _words(name: str) -> str:
    return name.replace("-", " ")


@cached(1024)
def _attribute(section: type[BaseModel], key: str) -> str:
    """The attribute of a key of the file; ``from`` is ``from_``."""
    return next(n for n, info in section.model_fields.items() if (info.alias or n) == key)


@cached(256)
def _measured(section: type[BaseModel]) -> tuple[Measured, ...]:
    return tuple(
        Measured(key, _range(annotation, info), _entries(annotation))
        for key, (annotation, info) in fields_of(section).items()
    )


def _range(annotation: Any, *given: FieldInfo) -> Range | None:  # noqa: ANN401
    """The typical range that a field or the kind of its number has."""
    for info in (*given, *_infos(annotation)):
        extra = info.json_schema_extra
        if isinstance(extra, dict) and "typical_minimum" in extra:
            low, high = (float(str(extra[f"typical_{end}"])) for end in ("minimum", "maximum"))
            return Range(low, high, str(extra.get("typical_of", "")), info.title or "")
    return None


def _entries(annotation: Any) -> tuple[Range | None, ...]:  # noqa: ANN401
    """The range of each entry of a row; of rows of rows, those of the inner ones."""
    inner = _bare(annotation)
    if get_origin(inner) in (Union, UnionType):
        members = (m for m in get_args(inner) if get_origin(_bare(m)) is tuple)
        inner = _bare(next(members, None))
    if get_origin(inner) is not tuple:
        return ()
    entries = [entry for entry in get_args(inner) if entry is not Ellipsis]
    if len(entries) == 1 and get_origin(_bare(entries[0])) is tuple:
        return _entries(entries[0])
    return tuple(_range(entry) or next(iter(_entries(entry)), None) for entry in entries)


def _infos(annotation: Any) -> Iterator[FieldInfo]:  # noqa: ANN401
    """The constraints on a number, wherever they stand in its annotation."""
    if get_origin(annotation) is Annotated:
        inner, *metadata = get_args(annotation)
        yield from (one for one in metadata if isinstance(one, FieldInfo))
        yield from _infos(inner)
    elif get_origin(annotation) in (Union, UnionType):
        for member in get_args(annotation):
            yield from _infos(member)


def _bare(annotation: Any) -> Any:  # noqa: ANN401
    return get_args(annotation)[0] if get_origin(annotation) is Annotated else annotation
