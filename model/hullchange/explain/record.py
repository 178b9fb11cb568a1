"""What an explanation is, and the rules it is made from: data, one per kind of figure."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from math import isfinite

from pydantic import Field

from hullchange.answer.assessment import Assessment
from hullchange.answer.wire import Wire
from hullchange.document.document import Document
from hullchange.explain.places import AnswerPlace
from hullchange.unit_suffixes import unit_of

ENTERED, CONSTANTS = "document.", "constants."
"""How the paths of what is no result begin."""
NO_KEY = ("x", "y", "z", "port", "starboard")
"""Steps that stand for one of several figures of the same key."""


class Ingredient(Wire):
    """One thing a figure was made from."""

    symbol: str = Field(description="as the formula writes it, or empty")
    name: str
    value: float | None = Field(description="null where it is no single number")
    unit: str
    words: str = Field(description="what it is besides or instead of its number, or empty")
    path: str = Field(description="can be opened in turn")
    assumed: bool = Field(
        default=False, description="whether it, or something it is derived from, is assumed"
    )


class Explanation(Wire):
    """A figure opened: formula, what it was made from, source, grade."""

    path: str
    name: str
    of: str = Field(description="the boat, condition, part or weight it belongs to, or empty")
    value: float | None = Field(description="null where it is no single number")
    unit: str
    plus_minus: float | None = Field(description="one standard deviation, where it is known")
    formula: str
    inputs: tuple[Ingredient, ...]
    source: str
    grade: str = Field(description="how the figure is derived, or how well its text is known")
    note: str
    entered: str = Field(description="path in the document where it is entered, or empty")
    assumed: bool = Field(default=False, description="as of an ingredient")


@dataclass(frozen=True)
class Basis:
    """What a figure rests on: grade in a word, source in a sentence."""

    grade: str
    source: str


DEFINITION = Basis("definition", "A standard definition: as good as its inputs.")
SUM = Basis("sum", "Arithmetic on the inputs below: as good as they are.")
INTEGRATED = Basis(
    "integrated",
    "Integrals over the closed surfaces of hull and parts below the waterplane; checked "
    "against bodies of known volume.",
)
SOLVED = Basis(
    "solved",
    "Archimedes: weight equals buoyancy, with their centres in one vertical; solved to within "
    "a billionth.",
)
FITTED = Basis("fitted", "Least squares on the readings, each weighted by its plus/minus.")
SPREAD = Basis("spread", "Errors propagated to first order: σ² = J C Jᵀ, causes independent.")
CHOSEN = Basis("chosen", "One of the heels at which the curve is calculated.")


@dataclass(frozen=True)
class InputPath:
    """An input: its symbol, and its path with {0}, {1} for the names of the figure's own."""

    symbol: str
    path: str


@dataclass(frozen=True)
class ExplanationRequest:
    """A figure that is to be explained.

    Attributes:
        answer: the answer it stands in.
        document: what that is the answer to.
        find: what stands at a path of the answer.
        spot: the figure.
        known_assumed: whether figures rest on what is assumed, by path, as far as was asked.
    """

    answer: Assessment
    document: Document
    find: Callable[[str], AnswerPlace | None]
    spot: AnswerPlace
    known_assumed: dict[str, bool] = field(default_factory=dict)

    @property
    def names(self) -> tuple[str, ...]:
        """The names that distinguish the figure from others of its kind."""
        return self.spot.names

    def filled(self, template: str) -> str:
        """A template with the figure's names in it, and the reference condition's."""
        return template.format(*self.names, reference=self.answer.reference_condition)

    def at(self, template: str) -> AnswerPlace | None:
        """What stands at a path of the answer."""
        return self.find(self.filled(template))

    def number(self, template: str) -> float | None:
        """The figure at a path of the answer, in the unit of its key."""
        spot = self.at(template)
        return None if spot is None else spot.number


Lister = Callable[[ExplanationRequest], Iterable[InputPath | Ingredient]]


@dataclass(frozen=True)
class Derivation:
    """How one kind of figure comes about.

    Attributes:
        name: in the trade's words.
        formula: in the trade's symbols, those of ``inputs``; of a solution what is solved.
        inputs: what it is made from, or what lists it.
        basis: grade and source.
        plus_minus: path of its standard deviation, or empty.
        note: a further sentence, or empty.
        unit: where the path does not end in it.
    """

    name: str
    formula: str
    inputs: tuple[InputPath | Lister, ...] = ()
    basis: Basis = DEFINITION
    plus_minus: str = ""
    note: str = ""
    unit: str | None = None


Rules = dict[str, Derivation | Callable[[ExplanationRequest], Derivation]]
"""Rules by pattern; one that depends on what stands there is made from it."""


def both_boats(symbol: str, path: str) -> tuple[InputPath, InputPath]:
    """The same figure of the refit and of the boat as found."""
    return (
        InputPath(f"{symbol}₂", f"conditions.{{0}}.refit.{path}"),
        InputPath(f"{symbol}₁", f"conditions.{{0}}.as_found.{path}"),
    )


def same_float(symbol: str, figure: str) -> InputPath:
    """Another figure of the same boat in the same condition."""
    return InputPath(symbol, f"conditions.{{0}}.{{1}}.{figure}")


def document_value(symbol: str, path: str) -> InputPath:
    """A value of the document."""
    return InputPath(symbol, f"{ENTERED}{path}")


def constant(symbol: str, name: str) -> InputPath:
    """A constant."""
    return InputPath(symbol, f"{CONSTANTS}{name}")


def unit_in(path: str) -> str:
    """The unit that a path ends in; of an entry of a list or a place, that of the whole.

    >>> unit_in("hull.kg_per_cm"), unit_in("parts.house.centroid_m.x"), unit_in("fill_l")
    ('kg/cm', 'm', 'l')
    """
    if ".fills." in path:
        return "l"
    key = next((s for s in reversed(path.split(".")) if not (s.isdigit() or s in NO_KEY)), "")
    return unit_of(key)


def finite(value: float | None) -> float | None:
    """The value, in its own unit, where it is a number that can be written; else None.

    What is left of a sum that comes to nothing is 0.
    """
    if value is None or not isfinite(value):
        return None
    return value if abs(value) > 1e-12 else 0.0


def volumes(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """Volumes as found (existing parts) or of the refit (new parts and what stays)."""
    of_refit = asked.names[1] == "refit"
    gone = {change.replaces for change in asked.document.changes.values()}
    for name in asked.document.existing:
        if not of_refit or f"existing.{name}" not in gone:
            yield document_value("", f"existing.{name}")
    for part in asked.answer.parts if of_refit else ():
        if part.buoyant_volume_m3:
            yield InputPath("", f"parts.{part.id}.buoyant_volume_m3")
