"""What voids hold, to a level and by mass."""

from collections.abc import Iterator

from hullchange.answer.rooms import VoidLevel, VoidResult
from hullchange.boat.boat import Boat
from hullchange.boat.rooms import VoidRoom, filled_to, void_room
from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.plain_words import id_in_words

TENTHS = 10
ROUND_OFF = 1e-9  # of what it holds


def voids_of(boat: Boat) -> tuple[VoidResult, ...]:
    """Every void of which something lies in the boat; a finding names the others."""
    return tuple(
        _result(boat, name, room)
        for name in boat.document.voids
        if (room := _room(boat, name)) is not None
    )


def void_findings(boat: Boat) -> Iterator[Finding]:
    """Fills that do not go into their voids, and voids that lie nowhere."""
    for name, void in boat.document.voids.items():
        room, mass = _room(boat, name), void.fill.mass_kg
        if room is None:
            sentence = (
                f"Void {id_in_words(name)} lies wholly outside the plating of "
                f"{id_in_words(void.within)}: check its ends, sides and heights."
            )
            yield Finding("void-empty", Severity.WARN, f"voids.{name}", sentence)
        elif mass is not None and mass > room.full_mass * (1.0 + ROUND_OFF):
            sentence = (
                f"{mass:,.0f} kg do not fit into void {id_in_words(name)}: filled to the top "
                f"it holds {room.full_mass:,.0f} kg at {room.density:,.0f} kg/m³."
            )
            yield Finding(
                "void-overfull", Severity.WARN, f"voids.{name}.fill.mass_kg", sentence
            )


def _room(boat: Boat, name: str) -> VoidRoom | None:
    try:
        return void_room(boat.document, boat.hull, name)
    except ModelError:
        return None


def _result(boat: Boat, name: str, room: VoidRoom) -> VoidResult:
    fill = boat.document.voids[name].fill
    mass = room.full_mass if fill.mass_kg is None else min(fill.mass_kg, room.full_mass)
    if fill.to_z_m is not None:
        mass = room.mass_to(fill.to_z_m)
    lies = (
        filled_to(room.room, fill.to_z_m) if fill.to_z_m is not None else room.with_mass(mass)
    )
    low, high = room.room.bounds[:, 2].tolist()
    return VoidResult(
        id=name,
        within=boat.document.voids[name].within,
        volume_m3=room.room.volume * room.free,
        full_mass_kg=room.full_mass,
        mass_kg=mass,
        level_z_m=lies.level,
        centroid_m=lies.centre,
        levels=tuple(
            _level(room, low + (high - low) * tenth / TENTHS) for tenth in range(TENTHS + 1)
        ),
    )


def _level(room: VoidRoom, level: float) -> VoidLevel:
    lies = filled_to(room.room, level)
    return VoidLevel(
        level_z_m=lies.level,
        mass_kg=lies.volume * room.free * room.density,
        centroid_m=lies.centre,
    )
