"""A hull as measured: what floats, what is drawn, and what new parts are fitted to."""

from dataclasses import dataclass, replace
from functools import cached_property
from hashlib import sha256
from types import MappingProxyType

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import Surface
from hullchange.hull.appendages import Appendage, AppendageInput, appendages_of
from hullchange.hull.deck import Deck
from hullchange.hull.lines import AS_MEASURED, Exactness, LineInput, Lines
from hullchange.hull.lines_check import lines_of
from hullchange.hull.mesh import HullMesh, hull_mesh
from hullchange.hull.sections import half_sections, heights_at

FLOATING_TRIANGLES = 14_000
DRAWING_TRIANGLES = 2_500
PROFILE_POINTS = 241


@dataclass(frozen=True)
class HullInput:
    """What the owner measured.

    Attributes:
        lines: from the centreline to the sheer.
        camber: [m] of the deck where the half-breadth is ``camber_at_half_breadth``.
        camber_at_half_breadth: [m].
        appendages: keel, skeg, rudder; each is cut by those before it.
        plating: thickness [m] of each zone of plating, by its name.
        exactness: of the lines.
        guessed: names of the appendages that are not measured.
    """

    lines: tuple[LineInput, ...]
    camber: float = 0.0
    camber_at_half_breadth: float = 1.0
    appendages: tuple[AppendageInput, ...] = ()
    plating: tuple[tuple[str, float], ...] = ()
    exactness: Exactness = AS_MEASURED
    guessed: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class SideView:
    """Polylines of x and z for the profile drawing.

    Attributes:
        outline: (n, 2) [m], closed: sheer, transom, centreline, stem.
        lines: (n, 2) [m] of every line, by its name.
        appendages: (n, 2) [m] closed outlines of what shows below the canoe body, by name.
    """

    outline: FloatArray
    lines: MappingProxyType[str, FloatArray]
    appendages: MappingProxyType[str, FloatArray]


@dataclass(frozen=True, eq=False)
class Hull:
    """A canoe body with its deck and appendages; a host for new parts.

    Attributes:
        lines: the canoe body's lines.
        deck: the cambered deck.
        mesh: the canoe body that floats, and how it follows from the lines.
        appendages: by name, cut to the hull and to one another.
        plating: thickness [m] of each zone, by name.
        exactness: of the lines as measured.
        guessed: names of the appendages that are not measured.
    """

    lines: Lines
    deck: Deck
    mesh: HullMesh
    appendages: MappingProxyType[str, Appendage]
    plating: MappingProxyType[str, float]
    exactness: Exactness = AS_MEASURED
    guessed: tuple[str, ...] = ()

    @cached_property
    def key(self) -> str:
        """Hash of all of it; equal keys, equal hulls."""
        deck = (self.deck.camber, self.deck.at_half_breadth)
        found = sha256(repr((deck, dict(self.plating), self.surface.key)).encode())
        for line in self.lines.lines:
            traits = (line.name, line.kind, line.knuckles, line.backwards)
            found.update(line.points.tobytes() + repr(traits).encode())
        for part in self.appendages.values():
            found.update(
                part.side_view.tobytes()
                + repr((part.name, part.surface.key, part.plane, part.pair)).encode()
            )
        if self.exactness != AS_MEASURED:
            found.update(repr(self.exactness).encode())
        if self.guessed:
            found.update(repr(self.guessed).encode())
        return found.hexdigest()

    @cached_property
    def bare(self) -> "Hull":
        """The canoe body without appendages: all that parts are fitted to."""
        return replace(self, appendages=MappingProxyType({}), guessed=())

    @property
    def surface(self) -> Surface:
        """The closed canoe body that floats, without appendages."""
        return self.mesh.body.surface

    @cached_property
    def drawing_surface(self) -> Surface:
        """The closed canoe body in few triangles."""
        return hull_mesh(self.lines, self.deck, DRAWING_TRIANGLES).body.surface

    @property
    def fore_x(self) -> float:
        """x [m] of the foremost point of the canoe body."""
        return float(self.lines.fore_x.min())

    @property
    def stem_x(self) -> float:
        """x [m] of the foremost point of the sheer, at the stem."""
        return self.lines.sheer.fore_x

    @property
    def transom_x(self) -> float:
        """x [m] of the transom: the after end of the lines."""
        return float(self.lines.aft_x.max())

    @property
    def length(self) -> float:
        """Length [m] of the canoe body over all."""
        return self.transom_x - self.fore_x

    @cached_property
    def beam(self) -> float:
        """Greatest breadth [m]."""
        return 2.0 * float(self.surface.bounds[1, 1])

    @cached_property
    def draught(self) -> float:
        """Depth [m] of the deepest point, appendages included, below the design waterline."""
        bodies = [self.surface, *(part.surface for part in self.appendages.values())]
        return -min(float(body.bounds[0, 2]) for body in bodies)

    def deck_z(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Height [m] of the cambered deck at (x, y); beyond the sheer it is carried on."""
        return self.deck.z(x, y)

    def sheer(self, x: FloatArray) -> FloatArray:
        """(n, 3) points [m] of the starboard sheer at stations x (n,)."""
        return np.column_stack([x, self.lines.sheer.at(np.asarray(x))])

    def lines_up(self) -> tuple[str, ...]:
        """Names of the measured lines, from the centreline up to the sheer."""
        return tuple(line.name for line in self.lines.lines)

    def line(self, name: str, x: FloatArray) -> FloatArray:
        """(n, 3) points [m] of a measured line, starboard, at stations x (n,).

        Raises:
            ModelError: ``line-missing``, ``station-off-hull``.
        """
        found = next((line for line in self.lines.lines if line.name == name), None)
        if found is None:
            known = ", ".join(self.lines_up())
            sentence = f"The hull has no line {name}; its lines are {known}."
            raise ModelError("line-missing", sentence)
        stations = np.asarray(x, float)
        if not (found.fore_x <= stations.min() and stations.max() <= found.aft_x):
            sentence = (
                f"The line {name} runs from x {found.fore_x:.2f} to {found.aft_x:.2f} m, not "
                f"from x {stations.min():.2f} to {stations.max():.2f} m: choose ends on the "
                "line."
            )
            raise ModelError("station-off-hull", sentence)
        return np.column_stack([stations, found.at(stations)])

    def bottom_z(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Height (n,) [m] of the canoe body's bottom at (x, y), without appendages.

        Beyond the ends it is that of the end, beyond the widest point that of the widest.
        """
        stations, breadths = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
        within = np.clip(stations.ravel(), self.fore_x, self.transom_x)
        heights = heights_at(half_sections(self.lines, within), breadths.ravel())
        return np.asarray(heights.reshape(stations.shape))

    def section(self, x: float) -> FloatArray:
        """(n, 2) half section at station x, starboard: (y, z) [m] from centreline to sheer.

        Raises:
            ModelError: ``station-off-hull``.
        """
        fore = self.fore_x
        if not fore <= x <= self.transom_x:
            sentence = (
                f"The hull has no section at x {x:.3f} m: it runs from {fore:.3f} to "
                f"{self.transom_x:.3f} m."
            )
            raise ModelError("station-off-hull", sentence)
        section: FloatArray = half_sections(self.lines, np.array([x]))[0]
        distinct = np.r_[True, np.any(np.diff(section, axis=0) != 0.0, axis=1)]
        section = section[distinct]
        if section[0, 0] > 0.0:
            return np.concatenate([[[0.0, section[0, 1]]], section])
        return section

    def sections(self, x: FloatArray) -> FloatArray:
        """(n, m, 2) half sections at stations x (n,), starboard, outside: (y, z) [m]."""
        return half_sections(self.lines, np.clip(x, self.fore_x, self.transom_x))

    def bottom_thickness(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Thickness (n,) [m] of the plating at (x, y) of the bottom; zero where none is given.

        A zone is called ``below-`` and the line that it reaches up to, or ``bottom``.
        """
        names = [f"below-{name}" for name in self.lines_up()[1:]]
        strips = [
            next((self.plating[n] for n in (*names[k:], "bottom") if n in self.plating), 0.0)
            for k in range(len(names))
        ]
        breadths = np.array([line.at(x)[:, 0] for line in self.lines.lines[1:-1]])
        return np.asarray(
            np.array(strips)[(breadths.reshape(-1, len(x)) < np.abs(y)).sum(axis=0)]
        )

    def transom_outline(self) -> FloatArray:
        """(k, 3) after ends of the lines, starboard [m], from the centreline to the sheer."""
        return np.array([line.points[-1] for line in self.lines.lines])

    def _profile(self, name: str) -> FloatArray:
        line = next(line for line in self.lines.lines if line.name == name)
        return line.at_fraction(np.linspace(0.0, 1.0, PROFILE_POINTS))[:, [0, 2]]

    @cached_property
    def side_view(self) -> SideView:
        """What the profile drawing shows."""
        lines = {line.name: self._profile(line.name) for line in self.lines.lines}
        sheer, keel = lines[self.lines.sheer.name], lines[self.lines.centreline.name]
        inner = self.lines.lines[1:-1]
        transom = np.array([line.points[-1, [0, 2]] for line in inner[::-1]]).reshape(-1, 2)
        stem = np.array([line.points[0, [0, 2]] for line in inner]).reshape(-1, 2)
        outline = np.concatenate([sheer, transom, keel[::-1], stem, sheer[:1]])
        return SideView(
            outline,
            MappingProxyType(lines),
            MappingProxyType({n: part.side_view for n, part in self.appendages.items()}),
        )


def hull_of(given: HullInput, triangles: int = FLOATING_TRIANGLES) -> Hull:
    """The hull of what was measured.

    Args:
        given: lines, deck, appendages and plating.
        triangles: about how many the canoe body that floats is made of.

    Raises:
        DocumentError: with every fault of the lines, then of the appendages; places are
            relative to the hull.
        ModelError: ``open-surface`` or ``inside-out`` where the lines enclose no body.
    """
    lines = lines_of(given.lines)
    deck = Deck(lines.sheer, given.camber, given.camber_at_half_breadth)
    mesh = hull_mesh(lines, deck, triangles)
    Surface.closed(mesh.body.surface.vertices, mesh.body.surface.faces, "the canoe body")
    appendages = appendages_of(given.appendages, lines, mesh.body.surface)
    return Hull(
        lines,
        deck,
        mesh,
        MappingProxyType({part.name: part for part in appendages}),
        MappingProxyType(dict(given.plating)),
        given.exactness,
        given.guessed,
    )
