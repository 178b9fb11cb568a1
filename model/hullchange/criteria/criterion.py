"""A criterion is data: where it is written, how well it is known, and what was found."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from math import isclose

from hullchange.criteria.definitions import Definition
from hullchange.criteria.doubt import CriterionState, in_standard_deviations, verdict_on
from hullchange.criteria.facts import Absent, LeverFacts, Sides
from hullchange.criteria.openings import TIED, Downflooding
from hullchange.findings import Grade
from hullchange.plain_words import unit_sign

OPEN_TEXT = "freely available: read the text itself before relying on it"
ALIKE = 5e-3  # share of a value within which both sides agree
BOUGHT_TEXT = "sold, not free: the owner or the consultant needs a copy"


class Sense(StrEnum):
    """Which way a limit works."""

    AT_LEAST = "at least"
    AT_MOST = "at most"
    MORE_THAN = "more than"


@dataclass(frozen=True)
class Publication:
    """Where rules are written.

    Attributes:
        title: of the document.
        edition: year or edition that was seen or is remembered.
        written_for: the vessels it binds; for others it is a yardstick.
        copy: whether the text is open or has to be bought.
    """

    title: str
    edition: str
    written_for: str
    copy: str = OPEN_TEXT


@dataclass(frozen=True)
class Criterion:
    """A rule with a limit, or (``limit`` says so) a definition without one.

    Attributes:
        id: stable, lower case with hyphens.
        title: what it asks, in plain words.
        document: where it is written.
        clause: within the document.
        formula: what is compared, as text.
        limit: the limit as text.
        sense: which way the limit works.
        unit: of value and limit.
        grade: how well it is known; C is never met or not met.
        seen: where the text was seen, or "from memory".
        clause_read: False where the clause itself was not read, however good the arithmetic:
            then the result is always to be confirmed.
        flooding: which openings it takes for downflooding, where it asks.
    """

    id: str
    title: str
    document: Publication
    clause: str
    formula: str
    limit: str
    sense: Sense
    unit: str
    grade: Grade
    seen: str
    clause_read: bool = True
    flooding: Definition | None = None

    @property
    def source(self) -> str:
        """Document, edition, clause and where it was seen, in one line."""
        return f"{self.document.title}, {self.document.edition}, {self.clause} ({self.seen})"

    @property
    def grade_with_inputs(self) -> Grade:
        """How well it is known with what it rests on: no better than what counts as open."""
        inputs = self.grade if self.flooding is None else self.flooding.grade
        return max(self.grade, inputs)

    @property
    def can_be_judged(self) -> bool:
        """Whether a result may be called met or not met at all."""
        return self.clause_read and self.grade_with_inputs is not Grade.C


@dataclass(frozen=True)
class Quantity:
    """A number that a result was made from, with its unit."""

    name: str
    value: float
    unit: str


@dataclass(frozen=True)
class Evaluated:
    """The value and limit that a criterion compares, both in its unit, and their inputs."""

    value: float
    limit: float
    inputs: tuple[Quantity, ...]
    remarks: tuple[str, ...] = ()
    flooding: Downflooding | None = None


@dataclass(frozen=True)
class CriterionOutcome:
    """A criterion with its value, limit and inputs.

    Attributes:
        criterion: the record.
        value: as found, in the criterion's unit.
        limit: in the criterion's unit.
        inputs: what the value and the limit were made from.
        remarks: further sentences.
        flooding: her downflooding by the criterion's own definition, where it asks.
        undecided: whether it is met depends on openings that are not fully described.
        plus_minus: one standard deviation of the value, in its unit; None where not known.
        vcg_rise: [m] rise of her centre of gravity to the limit; None where none reaches it.
    """

    criterion: Criterion
    value: float
    limit: float
    inputs: tuple[Quantity, ...]
    remarks: tuple[str, ...]
    flooding: Downflooding | None = None
    undecided: bool = False
    plus_minus: float | None = None
    vcg_rise: float | None = None

    @property
    def margin(self) -> float:
        """Distance of the value from the limit, in its unit; negative where it is not met."""
        over = self.value - self.limit
        return -over if self.criterion.sense is Sense.AT_MOST else over

    def beside(
        self, side: str, other_side: str, other: "CriterionOutcome"
    ) -> "CriterionOutcome":
        """The same, with a remark of what was found to the other side."""
        remark = (
            f"To {side}, her worse side by this rule; to {other_side} it is "
            f"{other.value:.4g}{unit_sign(self.unit)}".rstrip()
            + "."
        )
        return replace(self, remarks=(*self.remarks, remark))

    def to_be_confirmed_unless_same(self, without: "CriterionOutcome") -> "CriterionOutcome":
        """This outcome, to be confirmed where the undecided openings decide the verdict."""
        if without.keeps_the_limit is self.keeps_the_limit:
            return self
        value = f"{without.value:.4g}{unit_sign(self.unit)}".rstrip()
        remark = (
            "Without the openings that are counted only because too little is known of "
            f"them it is {value}."
        )
        return replace(self, remarks=(*self.remarks, remark), undecided=True)

    @property
    def keeps_the_limit(self) -> bool:
        """Whether the number meets the limit, whatever its grade."""
        if self.criterion.sense is Sense.MORE_THAN:
            return self.margin > 0.0
        return self.margin >= 0.0

    @property
    def state(self) -> CriterionState:
        """Met, not met, or to be confirmed where the rule is not known well enough."""
        if self.undecided or not self.criterion.can_be_judged:
            return CriterionState.TO_BE_CONFIRMED
        return verdict_on(self.margin_sd, keeps=self.keeps_the_limit)

    @property
    def margin_sd(self) -> float | None:
        """The margin in standard deviations; None where that is zero or not known."""
        return in_standard_deviations(self.margin, self.plus_minus)

    @property
    def id(self) -> str:
        """The criterion's."""
        return self.criterion.id

    @property
    def unit(self) -> str:
        """Unit of value and limit."""
        return self.criterion.unit


@dataclass(frozen=True)
class NotAnswered:
    """A criterion that could not be put to this boat, and why."""

    criterion: Criterion
    reason: str


CriterionAnswer = CriterionOutcome | NotAnswered
Question = Callable[[LeverFacts], Evaluated | Absent]


@dataclass(frozen=True)
class Rule:
    """A criterion and the question it puts to a boat.

    Attributes:
        criterion: the record.
        question: evaluates it on the facts.
        by_levers: whether the answer depends on the height of the centre of gravity.
    """

    criterion: Criterion
    question: Question
    by_levers: bool = True

    def answer(self, sides: Sides) -> CriterionAnswer:
        """The answer to the criterion: that of the worse side, which it names.

        To be confirmed where openings decide it that the document does not fully describe.
        """
        found = self.worse(sides)
        if isinstance(found, NotAnswered) or not (found.flooding and found.flooding.undecided):
            return found
        decided = tuple(replace(side, undecided_count=False) for side in sides)
        without = self.worse(decided)
        # whether a rule can be answered does not depend on its openings
        assert isinstance(without, CriterionOutcome)
        return found.to_be_confirmed_unless_same(without)

    def worse(self, sides: Sides) -> CriterionAnswer:
        """The worse answer of both sides, every opening counted that may count."""
        found = [(side.side, outcome(self.criterion, self.question(side))) for side in sides]
        known = [(side, one) for side, one in found if isinstance(one, CriterionOutcome)]
        if not known:
            return found[0][1]
        (side, worse), *others = sorted(known, key=lambda one: round(one[1].margin, TIED))
        differ = [(s, o) for s, o in others if not isclose(o.value, worse.value, rel_tol=ALIKE)]
        return worse.beside(side, *differ[0]) if differ else worse


def outcome(criterion: Criterion, found: Evaluated | Absent) -> CriterionAnswer:
    """The outcome of a criterion, or why there is none."""
    if isinstance(found, Absent):
        return NotAnswered(criterion, found.why)
    given = (found.value, found.limit, found.inputs, found.remarks, found.flooding)
    return CriterionOutcome(criterion, *given)


def criterion_answers(sides: Sides, rules: tuple[Rule, ...]) -> tuple[CriterionAnswer, ...]:
    """The answer of each rule to the facts, in the order of the rules."""
    return tuple(rule.answer(sides) for rule in rules)
