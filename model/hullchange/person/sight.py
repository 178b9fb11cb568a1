"""What is seen from the helm: the line over the highest obstacle, and where it meets the water.

Obstacles are the hull with her deck and the plates of the parts. Rig, sails, crew, dinghies and
weights without a shape are none. Where a house has windows, what is seen through them does not
count: the line goes over everything.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from hullchange.geometry.frame import FloatArray, Indices, WaterPlane
from hullchange.geometry.surface import Surface

EYE_BELOW_CROWN = 0.11
"""[m] eye below the crown of the head: common practice, no source."""
SITTING_SHARE = 0.52
"""of her height, from the seat to the crown: common practice, no source."""
ARM = 0.05
"""[m] what is nearer the eye does not count."""
WIDEST_DEG, STEP_DEG = 90, 1.0
"""To each side, and by what step, it is looked at what hides the water."""


def standing_eye(floor: float, height: float) -> float:
    """Height [m] of her eye over a floor she stands on, all above the design waterline."""
    return floor + height - EYE_BELOW_CROWN


def seated_eye(seat: float, height: float) -> float:
    """Height [m] of her eye over a seat she sits on."""
    return seat + SITTING_SHARE * height - EYE_BELOW_CROWN


@dataclass(frozen=True, eq=False)
class Obstacles:
    """What may stand in the way.

    Attributes:
        ids: what each is called.
        vertices: (n, 3) [m] of all of them.
        edges: (m, 2) vertices at the ends of each edge.
        owner: (m,) place in ``ids`` of each edge.
    """

    ids: tuple[str, ...]
    vertices: FloatArray
    edges: Indices
    owner: Indices

    @classmethod
    def of(cls, bodies: Iterable[tuple[str, tuple[Surface, ...]]]) -> "Obstacles":
        """The obstacles of closed surfaces by name."""
        ids: list[str] = []
        vertices, edges, owners = [], [], []
        start = 0
        for name, surfaces in bodies:
            ids.append(name)
            for surface in surfaces:
                sides = surface.faces[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
                once = sides[sides[:, 0] < sides[:, 1]]  # closed: each edge runs both ways
                vertices.append(surface.vertices)
                edges.append(once.astype(np.int64) + start)
                owners.append(np.full(len(once), len(ids) - 1))
                start += len(surface.vertices)
        return cls(
            tuple(ids), np.concatenate(vertices), np.concatenate(edges), np.concatenate(owners)
        )

    @cached_property
    def ends(self) -> tuple[FloatArray, FloatArray]:
        """(m, 3) both ends of each edge [m]."""
        return self.vertices[self.edges[:, 0]], self.vertices[self.edges[:, 1]]

    def cut(self, eye: FloatArray, azimuth: float) -> tuple[FloatArray, Indices]:
        """Where a plane through the eye meets the edges before her.

        Args:
            eye: (3,) [m].
            azimuth: [rad] from ahead, to starboard; the plane stands on the deck's plane.

        Returns:
            Points (k, 3) [m] and the obstacle (k,) each belongs to.
        """
        normal = np.array([np.sin(azimuth), np.cos(azimuth), 0.0])
        ahead = np.array([-np.cos(azimuth), np.sin(azimuth), 0.0])
        side = (self.vertices - eye) @ normal
        a, b = side[self.edges[:, 0]], side[self.edges[:, 1]]
        met = np.flatnonzero(a * b <= 0.0)
        a, b = a[met], b[met]
        run = np.where(a == b, 0.0, a / np.where(a == b, 1.0, a - b))[:, None]
        first, last = (end[met] for end in self.ends)
        points = first + run * (last - first)
        before = (points - eye) @ ahead > ARM
        return points[before], self.owner[met][before]


@dataclass(frozen=True, eq=False)
class Sight:
    """The line of sight ahead, in the water she lies in.

    Attributes:
        over: the obstacle that limits it.
        over_at: (3,) the point of it [m], in the boat's frame.
        down: [rad] how far the line points below level; negative: it rises.
        eye_above_water: [m].
        water_at: (3,) where it meets the water [m], in the boat's frame; None where it never
            does.
        blind: [m] from the foremost point of the hull to there, never less than nought; None
            where it never meets the water.
        blind_over_hull: [m] the same with nothing but the hull before her.
    """

    over: str
    over_at: FloatArray
    down: float
    eye_above_water: float
    water_at: FloatArray | None
    blind: float | None
    blind_over_hull: float | None


@dataclass(frozen=True, eq=False)
class Lookout:
    """An eye, and what lies before it in the plane of the boat's length.

    Attributes:
        eye: (3,) [m].
        ids: names of the obstacles.
        points: (k, 3) [m] of the obstacles straight ahead.
        owner: (k,) the obstacle of each.
        bow: (n, 3) [m] of the hull, among which is her foremost point however she trims.
    """

    eye: FloatArray
    ids: tuple[str, ...]
    points: FloatArray
    owner: Indices
    bow: FloatArray

    @classmethod
    def ahead(cls, eye: FloatArray, obstacles: Obstacles, hull: Surface) -> "Lookout":
        """What lies straight ahead of an eye (3,) [m]."""
        points, owner = obstacles.cut(eye, 0.0)
        return cls(eye, obstacles.ids, points, owner, hull.vertices)

    def sight(self, water: WaterPlane, hull: str) -> Sight | None:
        """The line of sight at rest; None where nothing lies ahead, or she lies on her side.

        Args:
            water: that she lies in.
            hull: name of the hull among the obstacles.
        """
        before_eye = self._before_eye(water)
        if before_eye is None:
            return None
        forward, along, up, height = before_eye
        slope = up / np.maximum(along, ARM / 2.0)
        bare = np.where(self.owner == self.ids.index(hull), slope, -np.inf)
        at, bow = int(np.argmax(slope)), self._bow_ahead(forward)
        run, past_hull = _run(height, float(slope[at])), _run(height, float(bare.max()))
        water_at = (
            None if run is None else self.eye + run * forward + run * slope[at] * water.up
        )
        return Sight(
            over=self.ids[int(self.owner[at])],
            over_at=self.points[at],
            down=-float(np.arctan(slope[at])),
            eye_above_water=height,
            water_at=water_at,
            blind=None if run is None else max(0.0, run - bow),
            blind_over_hull=None if past_hull is None else max(0.0, past_hull - bow),
        )

    def change_for(self, blind: float, over: str, water: WaterPlane) -> "NeededChange | None":
        """What would show the water from a distance before the bow; None as ``sight``.

        Args:
            blind: [m] from the foremost point of the hull.
            over: the obstacle that would be lowered.
            water: that she lies in.
        """
        before_eye = self._before_eye(water)
        if before_eye is None:
            return None
        forward, along, up, height = before_eye
        run = blind + self._bow_ahead(forward)
        nearer = along < run  # beyond it nothing hides it
        above = up + height * along / run  # over the line from the eye to the water there
        share = 1.0 - along / run
        raised = np.max(np.where(nearer, above / np.maximum(share, 1e-9), 0.0), initial=0.0)
        is_over = self.owner == self.ids.index(over)
        lower = float(np.max(np.where(is_over & nearer, above, 0.0), initial=0.0))
        rest = float(np.max(np.where(~is_over & nearer, above, 0.0), initial=0.0))
        return NeededChange(float(raised), lower if rest <= 1e-9 else None)

    def _before_eye(
        self, water: WaterPlane
    ) -> tuple[FloatArray, FloatArray, FloatArray, float] | None:
        """Forward (3,), the points along and up from the eye (k,) [m], its height [m]."""
        forward = _level_forward(water)
        if forward is None or not len(self.points):
            return None
        away = self.points - self.eye
        height = float(water.height_above(self.eye[None])[0])
        return forward, away @ forward, away @ water.up, height

    def _bow_ahead(self, forward: FloatArray) -> float:
        return float(((self.bow - self.eye) @ forward).max())


@dataclass(frozen=True)
class NeededChange:
    """What would show the water from a distance.

    Attributes:
        eye_higher: [m] that her eye would have to be higher.
        lower: [m] that the obstacle would have to be lower; None where others hide it too.
    """

    eye_higher: float
    lower: float | None


@dataclass(frozen=True)
class Sector:
    """Where something other than the hull limits the view of the water.

    Attributes:
        start: [deg] from ahead, to starboard positive.
        end: [deg].
        over: the obstacle.
    """

    start: float
    end: float
    over: str


def hidden_sectors(eye: FloatArray, obstacles: Obstacles, hull: str) -> tuple[Sector, ...]:
    """Where the view is limited by something other than the hull, from port to starboard.

    Args:
        eye: (3,) [m].
        obstacles: all there are.
        hull: name of the hull among them.
    """
    sectors: list[Sector] = []
    for degrees in np.arange(-WIDEST_DEG, WIDEST_DEG + STEP_DEG / 2.0, STEP_DEG).tolist():
        over = _limit(eye, obstacles, np.radians(degrees))
        if over in (hull, ""):
            continue
        start = max(degrees - STEP_DEG / 2.0, -float(WIDEST_DEG))
        end = min(degrees + STEP_DEG / 2.0, float(WIDEST_DEG))
        if sectors and sectors[-1].over == over and abs(sectors[-1].end - start) < 1e-9:
            sectors[-1] = Sector(sectors[-1].start, end, over)
        else:
            sectors.append(Sector(start, end, over))
    return tuple(sectors)


def _limit(eye: FloatArray, obstacles: Obstacles, azimuth: float) -> str:
    """What limits the view that way; empty where nothing is there."""
    points, owner = obstacles.cut(eye, azimuth)
    if not len(points):
        return ""
    away = points - eye
    slope = away[:, 2] / np.hypot(away[:, 0], away[:, 1])
    return obstacles.ids[int(owner[int(np.argmax(slope))])]


def _run(height: float, slope: float) -> float | None:
    """How far [m] a line from an eye runs to the water; None where it never meets it.

    Args:
        height: [m] of the eye above the water.
        slope: rise of the line per run; a line that meets no obstacle falls steeply.
    """
    if height <= 0.0 or slope >= 0.0:
        return None
    return height / -slope if np.isfinite(slope) else 0.0


def _level_forward(water: WaterPlane) -> FloatArray | None:
    """Forward, level with the water; None where she lies on her side or upside down."""
    if water.up[2] < 0.5:
        return None
    level = np.array([-1.0, 0.0, 0.0]) + water.up[0] * water.up
    return np.asarray(level / np.linalg.norm(level))
