"""The steel that a replaced plate of the hull takes the place of: booked as removed, once."""

from collections.abc import Iterator
from math import dist

from hullchange.boat.entries import STEEL_FRACTION, LedgerEntry
from hullchange.boat.weights import Weight, sum_of_weight
from hullchange.document import items
from hullchange.document.document import Change
from hullchange.document.quantities import DocumentPoint
from hullchange.findings import Finding, Severity
from hullchange.materials import PROVENANCE, STEEL_DENSITY
from hullchange.parts.part import Part
from hullchange.plain_words import id_in_words

NEAR = 0.5  # [m] and a share of the mass, within which a removed weight may be the same steel
ALIKE = 0.5
BOTH_DOUBTS = 2.0  # standard deviations beyond which two figures disagree


def old_mass(part: Part) -> float:
    """Mass [kg] of the old plates, by their dimensions."""
    return sum(plate.mass(STEEL_DENSITY) for plate in part.old_plates)


def old_entries(
    name: str, change: Change, id: str, part: Part, at: DocumentPoint
) -> Iterator[LedgerEntry]:
    """The line of a part's old plates; none where the owner has them under ``removes``.

    Args:
        name: of the change.
        change: that the part belongs to.
        id: of the part.
        part: with its old plates.
        at: their centre [m].
    """
    mass = old_mass(part)
    if mass <= 0.0 or _listed(change, id):
        return
    known = PROVENANCE["drawn"]
    weight = Weight(
        f"changes.{name}.parts.{id}.old-plate",
        mass,
        at,
        mass * STEEL_FRACTION,
        (known.sd_along, known.sd_across, known.sd_up),
        "drawn",
    )
    yield LedgerEntry(name, "removed", weight, at, -sum_of_weight(weight), replaced_by=id)


def old_findings(
    name: str, change: Change, id: str, part: Part, at: DocumentPoint
) -> Iterator[Finding]:
    """Where the owner's removed weights and the old plates by dimensions disagree or double."""
    mass = old_mass(part)
    if mass <= 0.0:
        return
    listed = _listed(change, id)
    if listed:
        ledger = sum(one.mass_kg for one in listed.values())
        doubt = STEEL_FRACTION * mass + sum(one.sd_mass() for one in listed.values())
        differs = abs(ledger - mass) > BOTH_DOUBTS * doubt
        sentence = (
            f"{', '.join(map(id_in_words, listed))} under removes stands for the old plate: "
            f"{ledger:.0f} kg is counted once; by its dimensions it weighs {mass:.0f} kg."
        )
        severity = Severity.WARN if differs else Severity.NOTE
        yield Finding("old-plate-listed", severity, f"changes.{name}.removes", sentence)
        return
    for key, other in change.removes.items():
        if not isinstance(other, items.Removed) or other.replaced_by:
            continue
        if dist(other.at_m, at) < NEAR and abs(other.mass_kg - mass) < ALIKE * mass:
            sentence = (
                f"The old plate of {id_in_words(id)}, {mass:.0f} kg, is removed by its "
                f"dimensions, and {id_in_words(key)}, {other.mass_kg:.0f} kg, is in the same "
                f"place: if it is the same steel, give it replaced_by: {id}, or it is removed "
                "twice."
            )
            place = f"changes.{name}.removes.{key}"
            yield Finding("old-plate-twice", Severity.WARN, place, sentence)


def _listed(change: Change, id: str) -> dict[str, items.Removed]:
    return {
        key: one
        for key, one in change.removes.items()
        if isinstance(one, items.Removed) and one.replaced_by == id
    }
