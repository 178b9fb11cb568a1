"""What every rule on the shape of the lever curve asks: areas, largest lever, where it lies."""

from hullchange.criteria.criterion import Evaluated, Quantity
from hullchange.criteria.definitions import Definition, downflooding_by
from hullchange.criteria.facts import LeverFacts
from hullchange.criteria.levers import Angle, Beyond
from hullchange.criteria.openings import Downflooding
from hullchange.units import deg_of_rad, rad_of_deg

TO_30, TO_40 = rad_of_deg(30.0), rad_of_deg(40.0)
NO_OPENINGS = "No openings are entered: downflooding is left out of this result."


def in_degrees(name: str, angle: Angle) -> Quantity:
    """An angle as an input; its name says so where it was not reached."""
    beyond = " (not reached up to here)" if isinstance(angle, Beyond) else ""
    return Quantity(name + beyond, deg_of_rad(angle.heel), "deg")


def opening_in_words(opening: str) -> str:
    """The name of an opening as it is read."""
    return opening.replace("-", " ")


def flooding_quantity(found: Downflooding) -> Quantity:
    """The downflooding angle as an input, with the opening it comes from."""
    through = f" through {opening_in_words(found.opening)}" if found.opening else ""
    return in_degrees(f"downflooding angle{through}", found.angle)


def flooding_remarks(facts: LeverFacts, found: Downflooding) -> tuple[str, ...]:
    """What is not known of her openings, where something is not."""
    if not facts.openings:
        return (NO_OPENINGS,)
    if not found.undecided:
        return ()
    names = "; ".join(opening_in_words(name) for name in found.undecided)
    return (
        f"Counted because too little is known of them: {names}. Enter regular: false for one "
        "that stays shut at sea, progressive: false for a small one that floods only its own "
        "space.",
    )


def last_heel(facts: LeverFacts, found: Downflooding) -> float:
    """The heel [rad] beyond which no lever counts: she has flooded or turned over."""
    return min(found.angle.heel, facts.levers.vanishing.heel)


def area(
    facts: LeverFacts, by: Definition, start: float, end: float, limit: float
) -> Evaluated:
    """The area between two heels [rad], the second cut off by downflooding, over a limit."""
    found = downflooding_by(facts, by)
    end = min(end, found.angle.heel)
    inputs = (
        Quantity("from", deg_of_rad(start), "deg"),
        Quantity("to", deg_of_rad(end), "deg"),
        flooding_quantity(found),
    )
    value = facts.levers.area(start, end)
    return Evaluated(value, limit, inputs, flooding_remarks(facts, found), found)


def lever_from_30(facts: LeverFacts, by: Definition, limit: float) -> Evaluated:
    """The maximum GZ [m] at 30 degrees or more, before she floods or turns over.

    Args:
        facts: of one side.
        by: which openings count.
        limit: [m].
    """
    found = downflooding_by(facts, by)
    last, remarks = last_heel(facts, found), flooding_remarks(facts, found)
    if last < TO_30:
        gone = "She floods or capsizes before 30° of heel, so no lever counts beyond that."
        inputs = (
            flooding_quantity(found),
            in_degrees("angle of vanishing stability", facts.levers.vanishing),
        )
        return Evaluated(0.0, limit, inputs, (gone, *remarks), found)
    peak = facts.levers.peak(TO_30, last)
    inputs = (
        Quantity("heel at this GZ", deg_of_rad(peak.heel), "deg"),
        flooding_quantity(found),
    )
    return Evaluated(peak.gz, limit, inputs, remarks, found)


def heel_of_peak(facts: LeverFacts, by: Definition, limit_deg: float) -> Evaluated:
    """The heel [deg] of the largest lever before she floods or turns over."""
    found = downflooding_by(facts, by)
    peak = facts.levers.peak(0.0, last_heel(facts, found))
    inputs = (Quantity("maximum GZ", peak.gz, "m"), flooding_quantity(found))
    remarks = flooding_remarks(facts, found)
    return Evaluated(deg_of_rad(peak.heel), limit_deg, inputs, remarks, found)
