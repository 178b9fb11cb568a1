"""Closed volumes besides the hull's that a boat floats on, or loses to a well."""

from collections.abc import Iterator

from hullchange.study.explain.record import Ask, Asked, Ingredient, entered


def volumes(asked: Asked) -> Iterator[Ask | Ingredient]:
    """Of the boat as found the existing parts; of the refit the new ones and what stays."""
    of_refit = asked.names[1] == "refit"
    gone = {change.replaces for change in asked.document.changes.values()}
    for name in asked.document.existing:
        if not of_refit or f"existing.{name}" not in gone:
            yield entered("", f"existing.{name}")
    for part in asked.told.parts if of_refit else ():
        if part.buoyant_volume_m3:
            yield Ask("", f"parts.{part.id}.buoyant_volume_m3")
