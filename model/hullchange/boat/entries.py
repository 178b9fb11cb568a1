"""What the refit changes, line by line: each with the account it adds to the boat as found."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np

from hullchange.boat.values import number_at
from hullchange.boat.weights import NOTHING, Weight, WeightSum, sum_of_move, sum_of_weight
from hullchange.document import items
from hullchange.document.document import Allowances, Change, Document
from hullchange.document.quantities import DocumentPoint, Reach
from hullchange.geometry.surface import MassProperties
from hullchange.materials import PROVENANCE

EntryRole = Literal["removed", "added", "moved", "part", "allowance"]
STEEL_FRACTION = PROVENANCE["drawn"].mass_fraction


@dataclass(frozen=True, eq=False)
class LedgerEntry:
    """One line of the ledger of changes.

    Attributes:
        change: name of the change it belongs to.
        role: what happens to the weight.
        weight: the weight itself, positive, where it is today (or is added).
        to: where a moved weight goes; else where it is.
        account: what it adds to the boat as found.
        replaced_by: part that takes the place of a removed weight, or "".
        rides_on: part whose dimensions move it, or whose allowance it is, or "".
        aboard: name under survey.aboard that it takes off, or "".
        may_lie_x: how far along it may be shifted [m]; both equal where it may not.
    """

    change: str
    role: EntryRole
    weight: Weight
    to: DocumentPoint
    account: WeightSum
    replaced_by: str = ""
    rides_on: str = ""
    aboard: str = ""
    may_lie_x: tuple[float, float] = (0.0, 0.0)

    @cached_property
    def known(self) -> WeightSum:
        """Its account as if it were known exactly."""
        return WeightSum.of(self.account.numbers, NOTHING.covariance)


def weight_of(path: str, item: items.DocumentWeight) -> Weight:
    """The ledger's weight of a weight in the document."""
    return Weight(path, item.mass_kg, item.at_m, item.sd_mass(), item.sd_place(), item.from_)


def entries_of(document: Document, name: str, change: Change) -> Iterator[LedgerEntry]:
    """The lines of one change, but for its parts: removed, added, moved."""
    for key, removal in change.removes.items():
        yield _removed(document, name, f"changes.{name}.removes.{key}", removal)
    for key, added in change.adds.items():
        path = f"changes.{name}.adds.{key}"
        place, part = _risen(document, added.at_m, added.rises_with)
        weight = replace(weight_of(path, added), centre=place)
        yield LedgerEntry(
            name,
            "added",
            weight,
            place,
            sum_of_weight(weight),
            rides_on=part,
            may_lie_x=_reach(added.may_lie_m),
        )
    for key, moved in change.moves.items():
        path = f"changes.{name}.moves.{key}"
        weight = weight_of(path, moved)
        to, part = (
            (moved.to_m, "")
            if moved.to_m is not None
            else _risen(document, moved.at_m, moved.rises_with)
        )
        yield LedgerEntry(
            name,
            "moved",
            weight,
            to,
            sum_of_move(weight, to),
            rides_on=part,
            may_lie_x=_reach(moved.may_lie_m),
        )


def steel_entries(
    allowances: Allowances, change: str, part: str, steel: MassProperties, area: float
) -> Iterator[LedgerEntry]:
    """The lines of one part: its plates and bars, and the allowances that go with them.

    Args:
        allowances: for weld metal and paint.
        change: name of the change.
        part: name of the part.
        steel: plates and bars together.
        area: of its plates and bars, one side [m^2].
    """
    path = f"changes.{change}.parts.{part}"
    weld_metal = steel.mass * allowances.weld_metal_percent / 100.0
    for what, mass in (
        ("", steel.mass),
        ("weld-metal", weld_metal),
        ("paint", area * allowances.paint_kg_m2),
    ):
        if mass <= 0.0:
            continue
        known = PROVENANCE["guessed" if what else "drawn"]
        weight = Weight(
            f"{path}.{what}" if what else path,
            mass,
            steel.centroid,
            mass * known.mass_fraction,
            (known.sd_along, known.sd_across, known.sd_up),
            "allowance" if what else "drawn",
        )
        yield LedgerEntry(
            change,
            "allowance" if what else "part",
            weight,
            steel.centroid,
            sum_of_weight(weight),
            rides_on=part,
        )


def _removed(document: Document, change: str, path: str, removal: items.Removal) -> LedgerEntry:
    if isinstance(removal, items.TakenOff):
        weight = replace(aboard_weight(document, removal.aboard), path=path)
        return LedgerEntry(
            change,
            "removed",
            weight,
            weight.centre,
            -sum_of_weight(weight),
            aboard=removal.aboard,
        )
    weight = weight_of(path, removal)
    return LedgerEntry(
        change,
        "removed",
        weight,
        weight.centre,
        -sum_of_weight(weight),
        replaced_by=removal.replaced_by or "",
    )


def aboard_weight(document: Document, name: str) -> Weight:
    """Something the survey had aboard, as a weight; a tank's contents lie level in it."""
    item = document.survey.aboard[name]
    path = f"survey.aboard.{name}"
    if isinstance(item, items.DocumentWeight):
        return weight_of(path, item)
    tank = document.tanks[item.tank]
    mass = item.fill_l / 1000.0 * tank.liquid_density()
    share = item.fill_l / tank.capacity_l if tank.capacity_l else 0.0
    known = PROVENANCE["weighed"]
    return Weight(
        path,
        mass,
        tank_centre(tank, share),
        (item.plus_minus_l or 0.0) / 1000.0 * tank.liquid_density(),
        (known.sd_along, known.sd_across, known.sd_up),
        "measured",
    )


def tank_centre(tank: items.DocumentTank, share: float) -> DocumentPoint:
    """Centre of what lies level in a tank filled to ``share`` of its height."""
    if tank.outline_m is not None and tank.z_m is not None:
        x, y = np.mean(tank.outline_m, axis=0).tolist()
        return (x, y, tank.z_m[0] + (tank.z_m[1] - tank.z_m[0]) * share / 2.0)
    if tank.x_m is not None and tank.z_m is not None:  # its ledger line; afloat by its shape
        (fore, aft), (low, high), across = tank.x_m, tank.z_m, tank.y_m or (0.0, 0.0)
        return ((fore + aft) / 2.0, sum(across) / 2.0, low + (high - low) * share / 2.0)
    if tank.box_m is None:
        return tank.at_m or (0.0, 0.0, 0.0)
    box = tank.box_m
    low, high = box.z
    return (sum(box.x) / 2.0, sum(box.y) / 2.0, low + (high - low) * share / 2.0)


def _risen(
    document: Document, at: DocumentPoint, rises: items.RisesWith | None
) -> tuple[DocumentPoint, str]:
    """A place carried up by what it rises with, and the part that carries it."""
    if rises is None:
        return at, ""
    value = number_at(document, rises.path)
    steps = rises.path.split(".")
    part = steps[3] if steps[0] == "changes" and steps[2:3] == ["parts"] else ""
    return (at[0], at[1], at[2] + value - rises.from_m), part


def _reach(reach: Reach | None) -> tuple[float, float]:
    return (0.0, 0.0) if reach is None or reach.x is None else reach.x
