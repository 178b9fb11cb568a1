"""The size of a refit against the thresholds from which rules ask for new stability work.

The rules disagree by a factor of five and bind different vessels: what is reached says whom to
ask, and is no ruling.
"""

from collections.abc import Callable
from dataclasses import dataclass

from hullchange.findings import Grade

SEEN = "excerpt of the text opened, an old copy: orientation only"
MM_PER_M, LITRES_PER_M3 = 1e3, 1e3


@dataclass(frozen=True)
class Alteration:
    """What a refit does to a boat, both in one condition.

    Attributes:
        displacement: before [kg].
        net: kilograms on less kilograms off [kg].
        aggregate: everything that comes on and off, without sign [kg].
        lcg_shift: of the centre of gravity, aft [m].
        vcg_shift: up [m].
        vcg_above_keel: before [m].
        waterline_length: [m].
        hull_length: before [m].
        length_change: of the hull, what is welded on counted [m].
        volume_change: of what floats, without sign, part by part [m^3].
        propulsion_changes: whether another means drives her.
    """

    displacement: float
    net: float
    aggregate: float
    lcg_shift: float
    vcg_shift: float
    vcg_above_keel: float
    waterline_length: float
    hull_length: float
    length_change: float
    volume_change: float
    propulsion_changes: bool

    @property
    def net_percent(self) -> float:
        """Net change of weight in percent of her displacement."""
        return 100.0 * abs(self.net) / self.displacement

    @property
    def aggregate_percent(self) -> float:
        """All weight on and off in percent of her displacement."""
        return 100.0 * self.aggregate / self.displacement

    @property
    def lcg_percent(self) -> float:
        """Shift of LCG in percent of her waterline length."""
        return 100.0 * abs(self.lcg_shift) / self.waterline_length

    @property
    def vcg_percent(self) -> float:
        """Shift of VCG in percent of its height above the keel."""
        return 100.0 * abs(self.vcg_shift) / self.vcg_above_keel

    @property
    def length_percent(self) -> float:
        """Change of length in percent of her hull's."""
        return 100.0 * abs(self.length_change) / self.hull_length


@dataclass(frozen=True)
class Threshold:
    """A change from which a rule asks for something.

    Attributes:
        id: stable, lower case with hyphens.
        title: what changes.
        limit: reached where the change is more than it, in ``unit``.
        unit: of the change.
        asks: what the rule asks then.
        source: regime and where its text was seen.
        grade: how well the text is known.
        change: how large it is, in ``unit``.
    """

    id: str
    title: str
    limit: float
    unit: str
    asks: str
    source: str
    grade: Grade
    change: Callable[[Alteration], float]


NET, LCG = "displacement, net", "LCG over waterline length"
VCG = "VCG over its height above the keel"
IMO = f"IMO and class, alterations of ships ({SEEN})"
TOWING = f"US towing and other inspected vessels ({SEEN})"
FISHING = f"US fishing vessels, substantially altered ({SEEN})"
FRANCE = f"France, leisure craft ({SEEN})"
FRANCE_OLD = f"France, craft without CE mark ({SEEN})"
CRAFT = f"EU and UK recreational craft, craft conversion ({SEEN})"
INCLINE, RECALCULATE = "incline her again", "recalculate her stability"
SURVEY = "a deadweight survey or a stability test"
ALTERED = "new stability instructions by a qualified person"
ASSESS = "ask whether the boat must be assessed again"


def _net(change: Alteration) -> float:
    return change.net_percent


def _lcg(change: Alteration) -> float:
    return change.lcg_percent


def _vcg(change: Alteration) -> float:
    return change.vcg_percent


def _length(change: Alteration) -> float:
    return change.length_percent


B = Grade.B
THRESHOLDS = (
    Threshold("imo-weight", NET, 2.0, "%", INCLINE, IMO, B, _net),
    Threshold("imo-weight-half", NET, 1.0, "%", RECALCULATE, IMO, B, _net),
    Threshold("imo-lcg", LCG, 1.0, "%", INCLINE, IMO, B, _lcg),
    Threshold("imo-lcg-half", LCG, 0.5, "%", RECALCULATE, IMO, B, _lcg),
    Threshold("imo-vcg", VCG, 1.0, "%", INCLINE, IMO, B, _vcg),
    Threshold("imo-vcg-half", VCG, 0.5, "%", RECALCULATE, IMO, B, _vcg),
    Threshold(
        *("us-towing-aggregate", "weight added plus weight removed", 2.0, "%"),
        *(SURVEY, TOWING, B, lambda change: change.aggregate_percent),
    ),
    Threshold("us-towing-lcg", LCG, 1.0, "%", SURVEY, TOWING, B, _lcg),
    Threshold("us-fishing-weight", NET, 3.0, "%", ALTERED, FISHING, B, _net),
    Threshold(
        *("us-fishing-vcg", "VCG", 51.0, "mm", ALTERED, FISHING, B),
        lambda change: MM_PER_M * abs(change.vcg_shift),
    ),
    Threshold(
        *("us-fishing-volume", "buoyant volume, part by part", 0.0, "l", ALTERED, FISHING, B),
        lambda change: LITRES_PER_M3 * change.volume_change,
    ),
    Threshold("france-length", "hull length", 1.0, "%", ASSESS, FRANCE, B, _length),
    Threshold("france-weight", NET, 10.0, "%", ASSESS, FRANCE, B, _net),
    Threshold("france-old-length", "hull length", 5.0, "%", ASSESS, FRANCE_OLD, B, _length),
    Threshold("france-old-weight", NET, 10.0, "%", ASSESS, FRANCE_OLD, B, _net),
    Threshold(
        *("eu-propulsion", "means of propulsion", 0.0, "changes", ASSESS, CRAFT, B),
        lambda change: float(change.propulsion_changes),
    ),
)
