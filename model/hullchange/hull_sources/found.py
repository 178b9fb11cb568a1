"""What every source of a hull ends in: lines, what they are worth, what was not understood."""

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import LineInput

SourceKind = Literal["points", "tape", "drawing", "scan", "step", "dimensions"]


@dataclass(frozen=True)
class NotUnderstood:
    """A cell of a table that could not be read.

    Attributes:
        row: as a person counts them, the first row of the text being number 1.
        column: its heading, or its number where it has none.
        text: what stood there.
        sentence: what was expected.
    """

    row: int
    column: str
    text: str
    sentence: str


@dataclass(frozen=True, eq=False)
class FoundLines:
    """Lines as a source gives them, not yet examined as a hull.

    Attributes:
        source: where they come from.
        lines: from the centreline to the sheer.
        plus_minus: [m] one standard deviation of a point across and up.
        worth: that error in one sentence.
        errors: (n,) [m] of each point of a line, by its name, where points differ in it.
        notes: what was assumed, one sentence each.
        missing: what is still wanted, one sentence each.
        not_understood: cells that could not be read; their points are left out.
    """

    source: SourceKind
    lines: tuple[LineInput, ...]
    plus_minus: float
    worth: str
    errors: MappingProxyType[str, FloatArray] = field(
        default_factory=lambda: MappingProxyType({})
    )
    notes: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    not_understood: tuple[NotUnderstood, ...] = ()
