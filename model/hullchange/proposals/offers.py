"""Dimensions that build where others were refused: the nearest, one or two at a time."""

from collections.abc import Callable, Iterator, Mapping
from itertools import combinations
from math import ceil
from typing import Any

from pydantic import ValidationError

from hullchange.errors import ModelError, Offer
from hullchange.parts.fields import PartDimensions
from hullchange.proposals.measures import DimensionRule, Leaf, at, measures_of, with_value

MOST_BUILDS = 24
FARTHEST = 8  # doublings of a step that a dimension is moved by
ENOUGH = 2  # offers
NOT_OFFERED = ("kind", "opening")

Builds = Callable[[Any], object]
"""Builds a part of given dimensions, or raises ``ModelError``."""


def offers(
    refused: PartDimensions, place: str, goods: tuple[PartDimensions, ...], builds: Builds
) -> tuple[Offer, ...]:
    """What builds near dimensions that were refused; paths are relative to the part.

    Args:
        refused: the dimensions.
        place: of the refusal, a dotted path in the part.
        goods: dimensions that build, the likeliest to be meant first.
        builds: tries dimensions.
    """
    search = _OfferSearch(refused, builds)
    found: list[Offer] = []
    for offer in search.near(place, [_plain(good) for good in goods]):
        paths = {path for path, _ in offer.values}
        if paths not in [{path for path, _ in other.values} for other in found]:
            found.append(offer)
        if len(found) == ENOUGH:
            break
    return tuple(found) or tuple(search.whole([_plain(good) for good in goods]))


def _plain(dimensions: PartDimensions) -> dict[str, Any]:
    return dimensions.model_dump(mode="json", exclude_none=True)


class _OfferSearch:
    """Dimensions are tried until enough build, or too many were tried."""

    def __init__(self, refused: PartDimensions, builds: Builds) -> None:
        self._kind, self._builds = type(refused), builds
        self._plain = _plain(refused)
        self._measures = measures_of(self._kind)
        self._left = MOST_BUILDS

    def near(self, place: str, goods: list[dict[str, Any]]) -> Iterator[Offer]:
        """Offers, those that keep most of what was typed first."""
        blamed = [leaf for leaf in self._leaves() if leaf.path.startswith(place)]
        for good in goods:
            differing = [leaf for leaf in self._leaves() if self._differs(leaf, good)]
            # what the refusal blames first, then the other values that were typed
            for leaf in sorted(differing, key=lambda one: one not in blamed):
                yield from self._towards(leaf, at(good, leaf))
        for leaf in blamed:
            yield from self._around(leaf)
        for good in goods:
            yield from self._whole_keys(place, good)

    def whole(self, goods: list[dict[str, Any]]) -> Iterator[Offer]:
        """All dimensions at once, where no one or two of them help."""
        for good in goods[-1:]:
            self._left = 1
            if self._works(good):
                values = {k: v for k, v in good.items() if k not in NOT_OFFERED}
                given = {k: None for k in self._plain if k not in (*good, *NOT_OFFERED)}
                sentence = "The dimensions proposed for this hull work."
                yield Offer(sentence, (*values.items(), *given.items()))

    def _leaves(self) -> list[Leaf]:
        leaves = (leaf for leaf in self._measures if leaf.keys[0] not in NOT_OFFERED)
        return [leaf for leaf in leaves if isinstance(at(self._plain, leaf), int | float)]

    def _differs(self, leaf: Leaf, good: Mapping[str, Any]) -> bool:
        other = at(good, leaf)
        return isinstance(other, int | float) and other != at(self._plain, leaf)

    def _works(self, plain: Mapping[str, Any]) -> bool:
        if self._left <= 0:
            return False
        try:
            dimensions = self._kind.model_validate(plain)
        except ValidationError:
            return False
        self._left -= 1
        try:
            self._builds(dimensions)
        except ModelError:
            return False
        return True

    def _takes(self, leaf: Leaf, value: float) -> bool:
        return self._works(with_value(self._plain, leaf, value))

    def _towards(self, leaf: Leaf, good: float) -> Iterator[Offer]:
        """The nearest value on the way to one that builds."""
        if self._takes(leaf, good):
            yield self._offer(leaf, self._bisected(leaf, at(self._plain, leaf), good))

    def _around(self, leaf: Leaf) -> Iterator[Offer]:
        """The nearest value on either side."""
        step, given = self._measures[leaf].step, at(self._plain, leaf)
        for doubling in range(FARTHEST):
            for way in (1.0, -1.0):
                value = self._measures[leaf].on_grid(given + way * step * 2**doubling)
                if self._takes(leaf, value):
                    last = given + way * step * (2**doubling // 2)
                    yield self._offer(leaf, self._bisected(leaf, last, value))
                    return

    def _bisected(self, leaf: Leaf, bad: float, good: float) -> float:
        """The value on the measure's grid nearest to a refused one, which builds."""
        measure = self._measures[leaf]
        low, high, found = 0, max(ceil(abs(good - bad) / measure.step - 1e-6), 1), good
        while high - low > 1 and self._left > 0:
            middle = (low + high) // 2
            value = measure.on_grid(bad + middle * measure.step * (1.0 if good > bad else -1.0))
            if min(bad, good) < value < max(bad, good) and self._takes(leaf, value):
                high, found = middle, value
            else:
                low = middle
        return found

    def _whole_keys(self, place: str, good: Mapping[str, Any]) -> Iterator[Offer]:
        """One or two keys as they are in dimensions that build."""
        blamed = place.split(".")[0]
        given = dict.fromkeys([*self._plain, *([blamed] if blamed in good else [])])
        keys = [
            key
            for key in given
            if key not in NOT_OFFERED and good.get(key) != self._plain.get(key)
        ]
        keys.sort(key=lambda key: key != blamed)
        for chosen in (*((key,) for key in keys), *combinations(keys, 2)):
            changed = {key: good.get(key) for key in chosen}
            if self._works({**self._plain, **changed}):
                words = " and ".join(self._key_words(k, v) for k, v in changed.items())
                verb = "works" if len(chosen) == 1 else "work"
                yield Offer(f"{words} {verb}.", tuple(changed.items()))
                return

    def _key_words(self, key: str, value: object) -> str:
        measure = self._measures.get(Leaf((key,)))
        if measure is not None and isinstance(value, int | float):
            return measure.words(value)
        name = key.replace("_mm", "").replace("_m", "").replace("_", " ")
        if value is None:
            return f"no {name}"
        return f"{name} {value}" if isinstance(value, str) else f"{name} as proposed"

    def _offer(self, leaf: Leaf, value: float) -> Offer:
        measure: DimensionRule = self._measures[leaf]
        names = [key for key in leaf.keys if isinstance(key, str)]
        changed: Any = with_value(self._plain, leaf, value)
        for name in names:
            changed = changed[name]
        return Offer(f"{measure.words(value)} works.", ((".".join(names), changed),))
