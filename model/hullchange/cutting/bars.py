"""Bars of every section: what to buy, what is sawn from each, what is too long for any."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import floor

from hullchange.document.stock import StockBar
from hullchange.findings import Finding, Severity
from hullchange.materials import STEEL_DENSITY
from hullchange.plain_words import id_in_words
from hullchange.shop.bars import BarPlan, StockLength, bar_plan
from hullchange.shop.piece import Bar
from hullchange.shop.quantities import MaterialBalance, bar_balance

PLACE = "stock.bars"
NOTHING = BarPlan((), 0.0, proven=True)
_ROUNDING = 1e-6  # [m] a bar may be longer than the stock by


@dataclass(frozen=True, eq=False)
class SectionPlan:
    """Everything cut from bars of one section.

    Attributes:
        section: in words.
        bars: that are cut.
        plan: what from which.
        sold: every length in stock.
        account: what is bought, used and left.
        not_placed: bars that no length in stock is long enough for.
        mass_not_placed: theirs [kg].
        findings: what is to be known of it.
    """

    section: str
    bars: tuple[Bar, ...]
    plan: BarPlan
    sold: tuple[StockLength, ...]
    account: MaterialBalance
    not_placed: tuple[Bar, ...]
    mass_not_placed: float
    findings: tuple[Finding, ...]

    @property
    def bound(self) -> str:
        """In words, how much less any other choice of bars could take."""
        plan = self.plan
        rates = [one.cost / one.length for one in self.sold]
        alike = bool(rates) and max(rates) - min(rates) <= 1e-9 * max(rates)
        if len({one.length for one in self.sold}) <= 1:
            if plan.proven:
                return "proven to be the fewest"
            return f"at least {round(plan.least / min(s.cost for s in self.sold))} are needed"
        if alike:
            if plan.proven:
                return "proven to be the shortest"
            return f"at least {floor(100.0 * plan.least / max(rates)) / 100.0:.2f} m are needed"
        if plan.proven:
            return "proven to be the cheapest"
        return f"none costs less than {floor(100.0 * plan.least / plan.cost)} % of it"


def section_plans(
    bars: Sequence[Bar], stock: Mapping[str, StockBar], saw: float
) -> tuple[SectionPlan, ...]:
    """Plans of every section, from all lengths of it that are in stock.

    Args:
        bars: of all sections.
        stock: by name.
        saw: what one cut takes [m].
    """
    sections = sorted({bar.section for bar in bars})
    return tuple(
        _section(
            section,
            [bar for bar in bars if bar.section == section],
            {name: item for name, item in stock.items() if section_of(item) == section},
            saw,
        )
        for section in sections
    )


def _section(
    section: str, bars: Sequence[Bar], items: Mapping[str, StockBar], saw: float
) -> SectionPlan:
    volume = sum(bar.plate.volume for bar in bars) / sum(bar.length for bar in bars)
    weight = volume * STEEL_DENSITY
    sold = _sold(items, weight)
    longest = max((one.length for one in sold), default=0.0)
    own = tuple(bar for bar in bars if bar.length <= longest + _ROUNDING)
    rest = tuple(bar for bar in bars if bar not in own)
    plan = bar_plan([bar.length for bar in own], sold, saw) if own else NOTHING
    return SectionPlan(
        section,
        own,
        plan,
        sold,
        bar_balance(plan.bars, saw, weight),
        rest,
        sum(bar.length for bar in rest) * weight,
        (*_too_long(section, rest, longest), *_no_price(section, items)),
    )


def _mean_price(items: Mapping[str, StockBar]) -> float | None:
    """Mean price of a kilogram of priced stock; None without any."""
    prices = [item.price for item in items.values() if item.price is not None]
    return sum(prices) / len(prices) if prices else None


def _sold(items: Mapping[str, StockBar], weight: float) -> tuple[StockLength, ...]:
    """Lengths with what they cost; without any price a metre counts one."""
    mean = _mean_price(items)
    rows = []
    for item in items.values():
        mass = item.length_m * weight
        price = None if item.price is None else item.price * mass
        unpriced = item.length_m if mean is None else mean * mass
        rows.append(StockLength(item.length_m, unpriced if price is None else price, price))
    return tuple(rows)


def _too_long(section: str, bars: Sequence[Bar], longest: float) -> Iterator[Finding]:
    if not bars:
        return
    marks = ", ".join(bar.id for bar in bars)
    needed = max(bar.length for bar in bars)
    of_it = (
        f"The longest {section} mm in stock is {longest:.2f} m"
        if longest
        else (f"No {section} mm is in stock")
    )
    sentence = (
        f"{of_it}, so {marks} cannot be cut: list {needed:.2f} m or longer among the bars in "
        "stock."
    )
    yield Finding("no-stock", Severity.WARN, PLACE, sentence)


def _no_price(section: str, items: Mapping[str, StockBar]) -> Iterator[Finding]:
    """Stock without a price, taken at the price of other stock."""
    mean = _mean_price(items)
    for name, item in items.items():
        if item.price is None and mean is not None:
            sentence = (
                f"{id_in_words(name).capitalize()} has no price. For choosing bars it is "
                f"taken at {mean:.2f} per kilogram, the mean of the priced {section} mm: give "
                "its price."
            )
            yield Finding("price-missing", Severity.NOTE, f"{PLACE}.{name}", sentence)


def section_of(item: StockBar) -> str:
    """What bars of it are ordered by."""
    kind, sizes = ("flat", item.flat_mm) if item.flat_mm else ("tube", item.tube_mm)
    assert sizes is not None
    return f"{kind} {sizes[0]:g} x {sizes[1]:g}"
