"""Which openings count as downflooding, by each publication's own text."""

from collections.abc import Callable
from dataclasses import dataclass

from hullchange.criteria.facts import LeverFacts
from hullchange.criteria.openings import (
    KG_PER_M2,
    Downflooding,
    DownfloodingOpening,
    downflooding,
)
from hullchange.findings import Grade

M2_PER_CM2 = 1e-4
ISO_AREA = 1.2
"""[cm^2/m^3] openings that may be under, over length, beam and freeboard; from memory."""


@dataclass(frozen=True)
class Definition:
    """What a publication calls downflooding.

    Attributes:
        id: stable, lower case with hyphens.
        document: where it is written, with its clause.
        openings: which openings count, in words.
        cut: what follows from the angle, in words.
        grade: how well the definition is known; a result that rests on C is never judged.
        seen: where the text was seen, or "from memory".
        counts: whether an opening counts; None where the document leaves it open.
        allowed: area [m^2] that may be under; 0: none.
    """

    id: str
    document: str
    openings: str
    cut: str
    grade: Grade
    seen: str
    counts: Callable[[DownfloodingOpening, float], bool | None]
    allowed: Callable[[LeverFacts], float] = lambda facts: 0.0  # noqa: ARG005

    @property
    def source(self) -> str:
        """Document, clause and how it was seen, in one line."""
        return f"{self.document} ({self.seen}; grade {self.grade.value})"


def counted_openings(
    facts: LeverFacts, by: Definition
) -> tuple[tuple[DownfloodingOpening, ...], tuple[str, ...]]:
    """The openings that count, and the names of those that are undecided.

    What is undecided counts, the safe side, unless the facts leave it out.
    """
    verdicts = [(one, by.counts(one, facts.displacement)) for one in facts.openings]
    undecided = tuple(one.id for one, verdict in verdicts if verdict is None)
    held = (True, None) if facts.undecided_count else (True,)
    return tuple(one for one, verdict in verdicts if verdict in held), undecided


def downflooding_by(facts: LeverFacts, by: Definition) -> Downflooding:
    """The downflooding angle of a boat to one side, by a definition."""
    openings, undecided = counted_openings(facts, by)
    return downflooding(openings, by.allowed(facts), undecided)


def _unclosed(opening: DownfloodingOpening, displacement: float) -> bool | None:
    """Whether an opening is not weathertight; small ones that flood nothing else excused."""
    return False if opening.closing != "none" else opening.spreads(displacement)


def _not_watertight(opening: DownfloodingOpening, _: float) -> bool:
    return opening.closing != "watertight"


def _in_use(opening: DownfloodingOpening, _: float) -> bool | None:
    """In use at sea for access or air, closable or not; air pipes of tanks excused."""
    return False if opening.tank_air_pipe else opening.in_use


def _spreading(opening: DownfloodingOpening, displacement: float) -> bool | None:
    """In use at sea and spreading water, of whatever size."""
    both = _in_use(opening, displacement), opening.progressive is not False
    return False if False in both else both[0]


def _tonnes_over_1500(facts: LeverFacts) -> float:
    return facts.displacement / KG_PER_M2


def _by_dimensions(facts: LeverFacts) -> float:
    boat = facts.boat
    return M2_PER_CM2 * ISO_AREA * boat.hull_length * boat.hull_beam * max(0.0, boat.freeboard)


IS_CODE_OPENINGS = Definition(
    "is-code",
    "IMO A.749(18) 3.2.2.1, kept by the 2008 Intact Stability Code",
    "openings in hull, superstructure or house that cannot be closed weathertight; small ones "
    "through which no progressive flooding can follow are excused",
    "the lever curve ends at the first of them (2008 Code, part B, 3.6.2.8)",
    Grade.B,
    "text of A.749 and of 3.6.2 opened; that page of the 2008 Code not found",
    _unclosed,
)
CFR_OPENINGS = Definition(
    "46-cfr-170",
    "46 CFR 170.055",
    "openings that cannot be closed watertight and let the sea into hull or superstructure",
    "the lever curve ends at the first of them, at the latest at 40° (170.173)",
    Grade.A,
    "text opened",
    _not_watertight,
)
SAILING_CODE_OPENINGS = Definition(
    "uk-sailing",
    "UK Code of Practice for small commercial sailing vessels, 11.1.1.3",
    "openings in regular use for access or air, closable or not, of more than displacement "
    "in tonnes / 1500 m² together; air pipes of tanks excused",
    "a gust may heel her to it, or to 60° where that is less",
    Grade.A,
    "text opened; an example reproduced, Transport Canada TP 13313, A 3.3",
    _in_use,
    _tonnes_over_1500,
)
MGN_280_OPENINGS = Definition(
    "mgn-280",
    "UK MGN 280, 11.8",
    "taken to be those of the UK sailing code: in regular use for access or air, of more than "
    "displacement in tonnes / 1500 m² together",
    "a gust may heel her to it, or to 60° where that is less",
    Grade.C,
    "the text that was seen breaks off before its openings",
    _in_use,
    _tonnes_over_1500,
)
LARGE_YACHT_OPENINGS = Definition(
    "large-yacht",
    "UK Large Commercial Yacht Code LY2 and LY3, 11.2.2.1",
    "any opening in use at sea that spreads flooding, whatever its size",
    "none of them may be under before 40°",
    Grade.B,
    "text opened in part",
    _spreading,
)
INLAND_OPENINGS = Definition(
    "eu-inland",
    "EU 2006/87, article 15a.03, now ES-TRIN 20.03",
    "openings that cannot be closed watertight",
    "the lever curve ends at the first of them; a distance is left to the lowest under wind",
    Grade.C,
    "from memory",
    _not_watertight,
)
ISO_OPENINGS = Definition(
    "iso-12217-2",
    "ISO 12217-2",
    "openings that nothing closes tight, of more than 1.2 × length × beam × freeboard cm² "
    "together (lengths in m)",
    "the area under the curve ends there; a factor of the index falls with it",
    Grade.C,
    "from memory; the standard is sold",
    lambda opening, _: opening.closing == "none",
    _by_dimensions,
)
DEFINITIONS = (
    IS_CODE_OPENINGS,
    CFR_OPENINGS,
    SAILING_CODE_OPENINGS,
    MGN_280_OPENINGS,
    LARGE_YACHT_OPENINGS,
    INLAND_OPENINGS,
    ISO_OPENINGS,
)
"""Shown beside the results, each with the angle that it gives."""
