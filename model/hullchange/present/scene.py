"""The refit as pieces of a scene: hull, appendages, new parts, what they replace."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial
from hashlib import sha256
from typing import Literal

import numpy as np

from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import Surface
from hullchange.present.gltf import Drawn, scene_glb
from hullchange.version import __version__

SceneRole = Literal["hull", "appendage", "new", "replaced", "existing"]
PlanBox = tuple[float, float, float, float]
"""x0, y0, x1, y1 [m]."""
GLASS = "glass"
SCENES_HELD = 64
"""Boats whose pieces are held, so that a page can ask for the meshes of an earlier answer."""


@dataclass(frozen=True, eq=False)
class ScenePiece:
    """One thing that is drawn, coloured and picked as a whole.

    Attributes:
        id: unique in the scene; a new part's name.
        role: what it is to the refit.
        change: change it belongs to, or that takes it away; None for the hull.
        key: equal keys, equal meshes.
        drawn: its plates or bodies, made when asked for.
        opens: (x0, y0, x1, y1) in plan [m] of each well it makes: the deck is open there.
    """

    id: str
    role: SceneRole
    change: str | None
    key: str
    drawn: Callable[[], tuple[Drawn, ...]]
    opens: tuple[PlanBox, ...] = ()

    @cached_property
    def name(self) -> str:
        """Hash that names its mesh: of all the mesh depends on, this version included."""
        return sha256(f"{__version__}|{self.key}".encode()).hexdigest()[:32]


@cached(SCENES_HELD)
def scene_pieces(boat: Boat) -> tuple[ScenePiece, ...]:
    """Everything that is drawn of a boat, hull first."""
    hull = boat.hull
    replaced_by = {
        change.replaces.removeprefix("existing."): name
        for name, change in boat.document.changes.items()
        if change.replaces is not None
    }
    pieces = [
        ScenePiece(
            "hull",
            "hull",
            None,
            f"hull|{hull.key}",
            lambda: (_body("hull", hull.drawing_surface, _hull_edges(boat), "hull"),),
        )
    ]
    for name, appendage in hull.appendages.items():
        surface = appendage.surface
        pieces.append(
            ScenePiece(
                f"appendage.{name}",
                "appendage",
                None,
                f"appendage|{name}|{surface.key}",
                partial(_appendage, f"appendage.{name}", surface),
            )
        )
    for name, part in boat.existing.items():
        change = replaced_by.get(name)
        role: SceneRole = "existing" if change is None else "replaced"
        pieces.append(_piece(f"existing.{name}", role, change, part))
    pieces += [_piece(name, "new", part.change, part) for name, part in boat.parts.items()]
    return tuple(pieces)


def piece_glb(piece: ScenePiece) -> bytes:
    """The piece's glTF."""
    return scene_glb(piece.drawn())


def whole_scene(boat: Boat, extras: Mapping[str, str] | None = None) -> bytes:
    """The whole refit as one glTF file, with its origin."""
    drawn = [one for piece in scene_pieces(boat) for one in piece.drawn()]
    return scene_glb([one for one in drawn if one.material != GLASS], extras)


def _piece(name: str, role: SceneRole, change: str | None, part: BuiltPart) -> ScenePiece:
    def drawn() -> tuple[Drawn, ...]:
        steel = tuple(
            Drawn(
                f"{name}.{plate.id}",
                f"{name}.{plate.id}",
                name,
                (surface := plate.surface()).vertices,
                surface.faces,
                plate.edges,
                extras={"kind": plate.kind},
            )
            for plate in part.part.plates
        )
        return steel + (tuple(_panes(name, part)) if part.is_house else ())

    opens = tuple(_in_plan(body.surface) for body in part.part.bodies if not body.adds)
    return ScenePiece(name, role, change, f"{name}|{part.key}", drawn, opens)


def _panes(name: str, part: BuiltPart) -> Iterator[Drawn]:
    """What fills each hole in the walls of a house; one in a roof carries another house."""
    for plate in part.part.plates:
        for number, hole in enumerate(plate.holes if plate.id != "roof" else ()):
            pane = replace(plate, outer=hole, holes=()).surface()
            node = f"{name}.{plate.id}.pane-{number}"
            yield Drawn(node, node, name, pane.vertices, pane.faces, material=GLASS)


def _in_plan(surface: Surface) -> PlanBox:
    (x0, y0, _), (x1, y1, _) = surface.bounds.tolist()
    return x0, y0, x1, y1


def _appendage(name: str, surface: Surface) -> tuple[Drawn, ...]:
    return (_body(name, surface, None, "hull"),)


def _body(name: str, surface: Surface, lines: FloatArray | None, material: str) -> Drawn:
    body = surface.vertices, surface.faces
    return Drawn(name, name, name, *body, lines=lines, smooth=True, material=material)


def _hull_edges(boat: Boat) -> FloatArray:
    """(k, 2, 3) segments along chines and sheer, both sides, and round the transom."""
    runs: list[FloatArray] = []
    fractions = np.linspace(0.0, 1.0, 61)
    for line in boat.hull.lines.lines:
        run = line.at_fraction(fractions)
        runs += [run, run * np.array([1.0, -1.0, 1.0])]
    ends = np.array([line.points[-1] for line in boat.hull.lines.lines])
    runs += [ends, ends * np.array([1.0, -1.0, 1.0])]
    return np.concatenate([np.stack([run[:-1], run[1:]], axis=1) for run in runs])
