"""What every rule on the shape of the lever curve asks: areas, largest lever, where it lies."""

from hullchange.criteria.criterion import Found, Quantity
from hullchange.criteria.facts import LeverFacts
from hullchange.criteria.levers import Angle, Beyond
from hullchange.units import deg_of_rad, rad_of_deg

TO_30, TO_40 = rad_of_deg(30.0), rad_of_deg(40.0)
NO_OPENINGS = "No openings are described: downflooding is left out of this answer."


def in_degrees(name: str, angle: Angle) -> Quantity:
    """An angle as an input; its name says so where it was not reached."""
    beyond = " (not reached up to here)" if isinstance(angle, Beyond) else ""
    return Quantity(name + beyond, deg_of_rad(angle.heel), "deg")


def flooding(facts: LeverFacts) -> Quantity:
    """The downflooding angle as an input, with the opening it comes from."""
    found = facts.downflooding
    through = f" through {found.opening}" if found.opening else ""
    return in_degrees(f"downflooding angle{through}", found.angle)


def flooding_remarks(facts: LeverFacts) -> tuple[str, ...]:
    """A warning where nothing is known of her openings."""
    return () if facts.openings else (NO_OPENINGS,)


def last_heel(facts: LeverFacts) -> float:
    """The heel [rad] beyond which no lever counts: she has flooded or turned over."""
    return min(facts.downflooding.angle.heel, facts.levers.vanishing.heel)


def area(facts: LeverFacts, start: float, end: float, limit: float) -> Found:
    """The area between two heels [rad], the second cut off by downflooding, over a limit."""
    end = min(end, facts.downflooding.angle.heel)
    inputs = (
        Quantity("from", deg_of_rad(start), "deg"),
        Quantity("to", deg_of_rad(end), "deg"),
        flooding(facts),
    )
    value = facts.levers.area(start, end)
    return Found(value, limit, inputs, flooding_remarks(facts))


def lever_from_30(facts: LeverFacts, limit: float) -> Found:
    """The largest lever at 30 degrees or more, before she floods or turns over."""
    last = last_heel(facts)
    remarks = flooding_remarks(facts)
    if last < TO_30:
        gone = "She floods or turns over before 30 degrees: no lever counts beyond that."
        inputs = (flooding(facts), in_degrees("vanishing angle", facts.levers.vanishing))
        return Found(0.0, limit, inputs, (gone, *remarks))
    peak = facts.levers.peak(TO_30, last)
    inputs = (Quantity("heel of that lever", deg_of_rad(peak.heel), "deg"), flooding(facts))
    return Found(peak.gz, limit, inputs, remarks)


def heel_of_peak(facts: LeverFacts, limit_deg: float) -> Found:
    """The heel [deg] of the largest lever before she floods or turns over."""
    peak = facts.levers.peak(0.0, last_heel(facts))
    inputs = (Quantity("largest lever", peak.gz, "m"), flooding(facts))
    return Found(deg_of_rad(peak.heel), limit_deg, inputs, flooding_remarks(facts))
