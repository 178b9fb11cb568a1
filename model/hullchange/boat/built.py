"""The parts of a document, each built on the boat and weighed, what carries others first."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import nan
from types import MappingProxyType
from typing import TypeAlias

import numpy as np

from hullchange.boat.hull import hull_from
from hullchange.cache import cached, content_digest
from hullchange.document.document import Document
from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.findings import Finding
from hullchange.floating.envelope import Piece, trimmed
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import MassProperties, Surface, difference
from hullchange.hull.hull import Hull
from hullchange.materials import STEEL_DENSITY
from hullchange.parts.fields import PartDimensions
from hullchange.parts.on_hull import with_fit_findings
from hullchange.parts.parameters import Deckhouse, MastSupport
from hullchange.parts.part import Carried, Part, Post, Site
from hullchange.parts.registry import KINDS
from hullchange.parts.stacked import carried_by
from hullchange.parts.weigh import weigh
from hullchange.plain_words import id_in_words
from hullchange.units import m_of_mm

HOUSES = ("deckhouse",)
NOWHERE = np.full((2, 3), nan)
PLATES_HELD = 4096
"""Plates of parts that are held: of ninety houses as high as a slider makes them, or of a boat
with thousands. A plate with its mesh is some 10 kB."""
PARTS_HELD = 2048
"""Parts whose few lines, outlines and boxes are held: twice a boat with a thousand plates."""


def placed(place: str, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Findings of something, at their places in the document."""
    return tuple(replace(f, place=f"{place}.{f.place}" if f.place else place) for f in findings)


@dataclass(frozen=True, eq=False)
class BuiltPart:
    """A part, built on this boat and weighed.

    Attributes:
        key: hash of everything it was built from.
        path: dotted path of its dimensions.
        id: its name.
        change: the change it belongs to, or "" for one that exists.
        dimensions: what it was built from.
        part: plates, bodies, side view.
        steel: its plates and bars, weighed from their meshes.
        area: of its plates and bars, one side [m^2].
        bodies: closed volumes, cut to the hull.
    """

    key: str
    path: str
    id: str
    change: str
    dimensions: PartDimensions
    part: Part
    steel: MassProperties
    area: float
    bodies: tuple[Piece, ...]

    @cached_property
    def bounds(self) -> FloatArray:
        """(2, 3) smallest and largest coordinates of its steel [m]; nan where it has none."""
        boxes = [plate.surface().bounds for plate in self.part.plates] or [NOWHERE]
        return np.array([np.min(boxes, axis=0)[0], np.max(boxes, axis=0)[1]])

    @property
    def is_house(self) -> bool:
        """Whether it is a house on the deck."""
        return self.part.kind in HOUSES

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is doubtful about it, at its path."""
        return placed(self.path, self.part.findings)

    @property
    def buoyant_volume(self) -> float:
        """Closed volume it adds to (negative: takes from) what floats [m^3]."""
        return sum(b.surface.volume if b.adds else -b.surface.volume for b in self.bodies)


Built: TypeAlias = tuple[dict[str, BuiltPart], dict[str, BuiltPart]]
"""Existing and new parts by name, each by itself."""


def built_parts(document: Document) -> Built:
    """The parts of a document.

    Raises:
        DocumentError: with everything that cannot be built, each at its path.
    """
    hull = hull_from(document)
    faults: list[Fault] = []
    existing = _built_all(
        {f"existing.{name}": d for name, d in document.existing.items()}, hull, faults
    )
    planned = {
        f"changes.{change}.parts.{name}": dimensions
        for change, plan in document.changes.items()
        for name, dimensions in plan.parts.items()
    }
    gone = {change.replaces: name for name, change in document.changes.items()}
    faults += [
        Fault("stands-on-removed", f"{path}.stand", _removed(dimensions.stand, gone))
        for path, dimensions in planned.items()
        if f"existing.{dimensions.stand}" in gone
    ]
    stay = {name: part for name, part in existing.items() if part.path not in gone}
    parts = _built_all(planned, hull, faults, stay)
    if faults:
        raise DocumentError(tuple(faults))
    return existing, parts


def _removed(stand: str | None, gone: Mapping[str | None, str]) -> str:
    change = gone[f"existing.{stand}"]
    house = id_in_words(stand or "").capitalize()
    return (
        f"{house} is removed by the change {id_in_words(change)}, so nothing can stand on it: "
        "name the part that replaces it."
    )


@dataclass(frozen=True, eq=False)
class _Plan:
    """One part that is to be built.

    Attributes:
        path: dotted path of its dimensions.
        dimensions: as entered.
        hull: without its appendages.
        stand: what it stands on.
        posts: that pass through it.
        carries: what it does for houses on it.
    """

    path: str
    dimensions: PartDimensions
    hull: Hull
    stand: BuiltPart | None
    posts: tuple[Post, ...]
    carries: tuple[Carried, ...] = ()

    @cached_property
    def key(self) -> str:
        """Equal keys, equal parts."""
        on = (self.stand, self.posts, self.carries)
        return content_digest((self.path, self.dimensions, self.hull, *on))


def _built_all(
    wanted: Mapping[str, PartDimensions],
    hull: Hull,
    faults: list[Fault],
    stay: Mapping[str, BuiltPart] = MappingProxyType({}),
) -> dict[str, BuiltPart]:
    """Each part by name, those that stand on another after it; refusals go to ``faults``.

    A house is built again with what it has to do for those that stand on it.
    """
    built: dict[str, BuiltPart] = {}
    plans: dict[str, _Plan] = {}
    waiting = dict(wanted)
    posts = _posts(wanted)
    while waiting:
        names = {path.rsplit(".", 1)[1] for path in waiting}
        ready = {p: d for p, d in waiting.items() if d.stand not in names}
        if not ready:
            faults += [
                Fault(
                    "stands-in-a-ring",
                    f"{p}.stand",
                    "These parts stand on each other in a circle: change the stand of one.",
                )
                for p in waiting
            ]
            break
        for path, dimensions in ready.items():
            del waiting[path]
            name = path.rsplit(".", 1)[1]
            stand = built.get(dimensions.stand or "") or stay.get(dimensions.stand or "")
            if dimensions.stand and stand is None:
                continue  # the part it stands on was refused, and that refusal is enough
            plans[name] = _Plan(path, dimensions, hull.bare, stand, posts.get(name, ()))
            _try(plans[name], built, faults)
    for name, carries in _carried(plans, built).items():
        _try(replace(plans[name], carries=carries), built, faults)
    in_order = (path.rsplit(".", 1)[1] for path in wanted)
    return {name: built[name] for name in in_order if name in built}


def _try(plan: _Plan, built: dict[str, BuiltPart], faults: list[Fault]) -> None:
    """Build a part, or say why it cannot be."""
    path = plan.path
    try:
        built[path.rsplit(".", 1)[1]] = _built(plan)
    except DocumentError as error:
        faults += [Fault(f.code, f"{path}.{f.place}", f.sentence) for f in error.faults]
    except ModelError as error:
        at = error.at(path)
        faults.append(Fault(at.code, at.place, at.sentence))


def _carried(
    plans: Mapping[str, _Plan], built: Mapping[str, BuiltPart]
) -> dict[str, tuple[Carried, ...]]:
    """What each house has to do for the houses of its own boat that stand on it."""
    found: dict[str, tuple[Carried, ...]] = {}
    for name, part in built.items():
        given, house, stand = part.dimensions, part.part.house, plans[name].stand
        if not isinstance(given, Deckhouse) or house is None or stand is None:
            continue
        lower = stand.part.house
        if stand.id in built and lower is not None:
            found[stand.id] = (
                *found.get(stand.id, ()),
                carried_by(lower, given, house),
            )
    return found


def _posts(wanted: Mapping[str, PartDimensions]) -> Mapping[str, tuple[Post, ...]]:
    """The posts that pass through a part to what stands on it, by the part's name."""
    posts: dict[str, tuple[Post, ...]] = {}
    stands = {path.rsplit(".", 1)[1]: one.stand for path, one in wanted.items()}
    for one in wanted.values():
        if isinstance(one, MastSupport):
            post = one.x_m, m_of_mm(one.post_mm[0]) / 2.0
            for under in _down_from(one.stand, stands):
                posts[under] = (*posts.get(under, ()), post)
    return posts


def _down_from(name: str | None, stands: Mapping[str, str | None]) -> list[str]:
    """A part and all that it stands on in turn."""
    chain: list[str] = []
    while name is not None and name not in chain:
        chain.append(name)
        name = stands.get(name)
    return chain


def _plates_of(built: BuiltPart) -> int:
    return 1 + len(built.part.plates)


@cached(PLATES_HELD, _plates_of)
def _built(plan: _Plan) -> BuiltPart:
    path, dimensions, hull, stand = plan.path, plan.dimensions, plan.hull, plan.stand
    steps, part = path.split("."), _part(plan)
    under = () if stand is None else tuple(p.surface for p in stand.bodies if p.adds)
    return BuiltPart(
        plan.key,
        path,
        steps[-1],
        steps[1] if steps[0] == "changes" else "",
        dimensions,
        part,
        weigh(part, STEEL_DENSITY),
        sum(plate.area_mid for plate in part.plates),
        tuple(
            Piece(cut, body.adds, steps[-1])
            for body in part.bodies
            if len((cut := _above(trimmed(body, hull.surface), under)).faces)
        ),
    )


def _part(plan: _Plan) -> Part:
    """The part of a plan, with what is doubtful about its fit."""
    stand = plan.stand
    site = Site(
        plan.hull,
        None if stand is None else stand.part,
        plan.posts,
        plan.carries,
        stand.dimensions.door if stand and isinstance(stand.dimensions, Deckhouse) else None,
        plan.path.startswith("changes.") and stand is not None and not stand.change,
    )
    part = KINDS[_kind(plan.dimensions)].build(plan.dimensions, site)
    return with_fit_findings(plan.hull if part.house is None else part.house.host, part)


def _above(body: Surface, under: tuple[Surface, ...]) -> Surface:
    """A closed body without what is in the bodies that it stands on."""
    for other in under:
        if len(body.faces):
            body = difference(body, other)
    return body


def _kind(dimensions: PartDimensions) -> str:
    return str(getattr(dimensions, "kind"))  # noqa: B009 - each class has its own literal
