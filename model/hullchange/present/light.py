"""Sun and sky on the faces of a boat, with their soft shadows."""

from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import BoolArray, FloatArray
from hullchange.present.sheet import Faces, Pixels, ViewSheet, depths, facing

SUN = np.array([-0.42, -0.7, 0.58])
SUN_SHARE, SKY_SHARE, LEAK = 0.86, 0.64, 0.3
SUN_WIDTH = 0.14  # [rad] which softens the rims of shadows
SUNS, SKIES = 10, 28
SUN_MAP, SKY_MAP = 1024, 320  # [px]


def shown_of(colour: str) -> FloatArray:
    """(3,) shares, 0 to 1, of a colour that is written as #rrggbb."""
    return np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)]) / 255.0


def light_of(colour: str) -> FloatArray:
    """(3,) shares of light of a colour that is written as #rrggbb (IEC 61966-2-1)."""
    written = shown_of(colour)
    return np.where(written <= 0.04045, written / 12.92, ((written + 0.055) / 1.055) ** 2.4)


def shown(light: FloatArray) -> FloatArray:
    """Shares of light (n, 3), 0 to 1, as they are written in a file (IEC 61966-2-1)."""
    within = np.clip(light, 0.0, 1.0)
    return np.where(within <= 0.0031308, within * 12.92, 1.055 * within ** (1 / 2.4) - 0.055)


SUN_COLOUR, SKY_COLOUR, GROUND = (light_of(c) for c in ("#fff8ec", "#eaf3fa", "#cfc8b8"))


@dataclass(frozen=True, eq=False)
class _Lamp:
    sheet: ViewSheet
    near: Pixels

    def reaches(self, points: FloatArray, normals: FloatArray) -> BoolArray:
        """(n,) whether its light falls on points of faces."""
        pixel = 1.0 / self.sheet.scale
        x, y, near = self.sheet.place(points + normals * (1.5 * pixel)).T
        height, width = self.sheet.size
        rows = np.clip(y.astype(np.int32), 0, height - 1)
        columns = np.clip(x.astype(np.int32), 0, width - 1)
        return np.asarray(near + pixel >= self.near[rows, columns])


@dataclass(frozen=True, eq=False)
class Light:
    """What shines on a boat.

    Attributes:
        up: (3,) straight up [-].
        suns: the sun, a little aside in each.
        skies: parts of the sky.
    """

    up: FloatArray
    suns: tuple[_Lamp, ...]
    skies: tuple[_Lamp, ...]

    @classmethod
    def on(cls, faces: Faces, turned: FloatArray) -> "Light":
        """The light on faces of a boat that lies turned (3, 3) [-]."""
        points = faces.corners.reshape(-1, 3)

        def lamp(direction: FloatArray, wide: int) -> _Lamp:
            turn = facing(direction, np.array([1.0, 0.0, 0.0])) @ turned
            sheet = ViewSheet.around(turn, points, wide, 0.98, wide)
            return _Lamp(sheet, depths(faces, sheet)[0])

        sun = SUN / np.linalg.norm(SUN)
        aside = [(_halton(i, 2) - 0.5, _halton(i, 3) - 0.5, 0.0) for i in range(1, SUNS + 1)]
        sky = [_of_sky(i) for i in range(SKIES)]
        return cls(
            turned.T @ np.array([0.0, 0.0, 1.0]),
            tuple(lamp(sun + SUN_WIDTH * np.array(one), SUN_MAP) for one in aside),
            tuple(lamp(one, SKY_MAP) for one in sky),
        )

    def sun(self, points: FloatArray, normals: FloatArray) -> FloatArray:
        """(n,) share of the sun that reaches points of faces."""
        return np.asarray(np.mean([sun.reaches(points, normals) for sun in self.suns], axis=0))

    def falls_on(self, points: FloatArray, normals: FloatArray) -> FloatArray:
        """(n, 3) shares of light on points [m] of faces whose normals point to the eye."""
        towards = np.mean([lamp.sheet.turn[2] for lamp in self.suns], axis=0)
        sun = np.maximum(normals @ towards, 0.0) * self.sun(points, normals) * SUN_SHARE
        dome = np.zeros(len(points))
        for lamp in self.skies:
            slope = normals @ lamp.sheet.turn[2]
            dome += np.where(slope > 0.0, slope * lamp.reaches(points, normals), 0.0)
        sky = 2.0 * (1.0 - LEAK) * dome / len(self.skies)
        rise = 0.5 + (normals @ self.up) / 2.0
        leak = LEAK * (GROUND + (SKY_COLOUR - GROUND) * rise[:, None])
        from_sky = SKY_SHARE * (leak + sky[:, None] * SKY_COLOUR)
        return np.asarray(from_sky + sun[:, None] * SUN_COLOUR)


def _of_sky(i: int) -> FloatArray:
    height, turn = 0.12 + 0.88 * _halton(i + 1, 2), 2.0 * np.pi * ((i * 0.618034) % 1.0)
    across = np.sqrt(1.0 - height * height)
    return np.array([across * np.cos(turn), across * np.sin(turn), height])


def _halton(i: int, base: int) -> float:
    """A number below one; they are evenly spread however many are taken."""
    part, total = 1.0, 0.0
    while i > 0:
        part /= base
        total += part * (i % base)
        i //= base
    return total
