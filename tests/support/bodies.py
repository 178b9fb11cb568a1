"""Closed bodies with known formulas, and two boats, for the tests and the benchmarks."""

from itertools import pairwise

import numpy as np
from scipy.interpolate import CubicHermiteSpline

from hullchange.geometry.surface import Surface, box, difference


def moved(surface, by):
    """The same body, moved by (3,) [m]."""
    return Surface.unchecked(surface.vertices + by, surface.faces)


def barge(length, beam, depth, draught=0.0, cells=1):
    """A box about the middle, its bottom ``draught`` below z = 0, faces divided in cells."""
    share = np.linspace(0.0, 1.0, cells + 1)[:, None]
    corners = np.array([[0.0, 0.0], [beam / 2, 0.0], [beam / 2, depth], [0.0, depth]])
    sides = [a + (b - a) * share[:-1] for a, b in pairwise(corners)]
    section = np.vstack([*sides, corners[-1:]]) - [0.0, draught]
    x = length * (np.linspace(0.0, 1.0, cells + 1) - 0.5)
    return lofted(x, np.repeat(section[None], cells + 1, axis=0))


def prism(length, beam, depth, cells=1):
    """A triangular prism, its edge down at z = 0."""
    section = np.array([[0.0, 0.0], [beam / 2, depth], [0.0, depth]])
    x = length * (np.linspace(0.0, 1.0, cells + 1) - 0.5)
    return lofted(x, np.repeat(section[None], cells + 1, axis=0))


def wigley(length, beam, draught, cells, freeboard=0.5):
    """Wigley's parabolic hull below z = 0, wall-sided above."""
    x = np.sin(np.linspace(-np.pi / 2, np.pi / 2, 3 * cells + 1))
    z = -np.cos(np.linspace(0.0, np.pi / 2, cells + 1))
    y = (1.0 - x[:, None] ** 2) * (1.0 - z**2) * beam / 2
    half = np.stack([y, np.broadcast_to(z * draught, y.shape)], axis=2)
    sheer = np.stack([y[:, -1], np.full(len(x), freeboard)], axis=1)
    deck = np.stack([np.zeros(len(x)), np.full(len(x), freeboard)], axis=1)
    return lofted(x * length / 2, np.concatenate([half, sheer[:, None], deck[:, None]], axis=1))


def cylinder(length, radius, cells):
    """A cylinder lying along x about the origin, with ``cells`` flats a quarter."""
    angle = np.linspace(0.0, np.pi, 2 * cells + 1)
    section = radius * np.stack([np.sin(angle), -np.cos(angle)], axis=1)
    section[[0, -1], 0] = 0.0
    return lofted(np.array([-0.5, 0.5]) * length, np.repeat(section[None], 2, axis=0))


def body_of_revolution(radius, height, cells):
    """A body of revolution about z: profile (n,) radii, zero at both ends, and heights."""
    angle = np.linspace(0.0, 2.0 * np.pi, cells, endpoint=False)
    ring = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    inner = [
        np.column_stack([r * ring, np.full(cells, z)])
        for r, z in zip(radius[1:-1], height[1:-1], strict=True)
    ]
    low, high = [0.0, 0.0, height[0]], [0.0, 0.0, height[-1]]
    vertices = np.vstack([[low], *inner, [high]])
    here = np.arange(cells)
    there = np.roll(here, -1)
    rows = 1 + cells * np.arange(len(inner))
    faces = [np.column_stack([np.zeros(cells, int), 1 + there, 1 + here])]
    for a, b in pairwise(rows):
        faces.append(np.column_stack([a + here, a + there, b + there]))
        faces.append(np.column_stack([a + here, b + there, b + here]))
    last = len(vertices) - 1
    faces.append(np.column_stack([rows[-1] + here, rows[-1] + there, np.full(cells, last)]))
    return Surface.closed(vertices, np.vstack(faces), "a turned body")


def ball(radius, cells):
    """A sphere about the origin."""
    angle = np.linspace(0.0, np.pi, cells + 1)
    return body_of_revolution(radius * np.sin(angle), -radius * np.cos(angle), 2 * cells)


def paraboloid(latus, height, cells):
    """The solid r^2 = latus z, from its vertex at the origin to ``height``."""
    z = height * np.linspace(0.0, 1.0, cells + 1) ** 2
    return body_of_revolution(
        np.append(np.sqrt(latus * z), 0.0), np.append(z, height), 3 * cells
    )


def yacht(cells=40):
    """A double-chine yacht of 11.8 m: bow at x = -0.6, design waterline z = 0."""
    share = np.linspace(0.0, 1.0, cells + 1)
    x = -0.6 + 11.8 * share
    bow = 1.0 - (1.0 - share) ** 2.2
    keel = -0.75 + 1.65 * (1.0 - share) ** 5 + 0.75 * share**4
    low = np.stack([0.95 * bow * (1.0 - 0.25 * share**3), keel + 0.25 * bow], axis=1)
    sheer_z = 1.05 + 0.35 * (1.0 - share) ** 2 + 0.05 * share
    top_y = 1.95 * bow * (1.0 - 0.22 * share**3)
    high = np.stack([1.75 * bow * (1.0 - 0.2 * share**3), 0.55 * keel + 0.45 * sheer_z], axis=1)
    sheer = np.stack([top_y, sheer_z], axis=1)
    deck = np.stack([0.0 * x, sheer_z + 0.05 * top_y], axis=1)
    lines = [np.stack([0.0 * x, keel], axis=1), low, high, sheer, deck]
    between = np.linspace(0.0, 1.0, max(cells // 8, 1), endpoint=False)
    rows = [a + (b - a) * t for a, b in pairwise(lines) for t in between]
    return lofted(x, np.stack([*rows, deck], axis=1))


def fin(hull):
    """A keel of 1.5 m under the yacht, cut once so that it only touches."""
    return difference(box(np.array([4.0, -0.12, -2.0]), np.array([7.0, 0.12, 0.0])), hull)


def slender(cells=30):
    """A hull of length to breadth 24."""
    return wigley(24.0, 1.0, 0.45, cells, freeboard=0.5)


def lofted(x, sections):
    """A hull through half sections (n, m, 2) of (y, z), from keel to the middle of the deck."""
    stations, points = sections.shape[:2]
    vertices = np.dstack([np.repeat(x[:, None], points, axis=1), sections]).reshape(-1, 3)
    at = np.arange(stations * points).reshape(stations, points)
    a, b, c, d = at[:-1, :-1], at[1:, :-1], at[1:, 1:], at[:-1, 1:]
    # no diagonal may join two points on the centreline: four faces would share it
    aft = np.arange(stations - 1)[:, None] >= (stations - 1) / 2
    rising = aft ^ (np.arange(points - 1) == points - 2)
    one = np.where(rising[..., None], np.stack([a, b, d], 2), np.stack([a, b, c], 2))
    two = np.where(rising[..., None], np.stack([b, c, d], 2), np.stack([a, c, d], 2))
    fan = np.stack([np.zeros(points - 2, int), *(np.arange(points - 2) + k for k in (1, 2))], 1)
    ends = [fan if sections[0, :, 0].any() else fan[:0]]
    ends.append(at[-1, 0] + (fan[:, ::-1] if sections[-1, :, 0].any() else fan[:0]))
    faces = np.vstack([one.reshape(-1, 3), two.reshape(-1, 3), *ends])
    both = np.vstack([vertices, vertices * [1.0, -1.0, 1.0]])
    return welded(both, np.vstack([faces, faces[:, ::-1] + len(vertices)]))


def welded(vertices, faces):
    """The closed surface of faces whose corners coincide within a tenth of a micrometre."""
    _, first, own = np.unique(
        np.round(vertices, 7) + 0.0, axis=0, return_index=True, return_inverse=True
    )
    corners = own.ravel()[faces]
    whole = (corners != np.roll(corners, 1, axis=1)).all(axis=1)
    surface = Surface.unchecked(vertices[first], corners[whole])
    turned_out = corners[whole] if surface.volume > 0.0 else corners[whole][:, ::-1]
    return Surface.closed(surface.vertices, turned_out, "a test body")


def in_one_block(mesh):
    """A surface's arrays with all faces in one block, so that a kernel passes over none."""
    low, high = mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)
    return mesh._replace(
        block_starts=np.array([0, len(mesh.faces)], np.int32),
        block_sums=mesh.block_sums.sum(axis=0)[None],
        block_boxes=np.stack([(low + high) / 2.0, (high - low) / 2.0])[None],
    )


def water_below(plane, size=60.0):
    """A block of water whose surface is the plane."""
    block = box(np.array([-size, -size, -size]), np.array([size, size, 0.0]))
    side = np.cross(plane.up, [1.0, 0.0, 0.0])
    side /= np.linalg.norm(side)
    axes = np.array([np.cross(side, plane.up), side, plane.up])
    return Surface.unchecked(block.vertices @ axes + plane.up * plane.offset, block.faces)


def loll_angles(curve):
    """Where she first lies on either side of an unstable upright; else nothing."""
    if curve.at(0.0).slope >= 0.0:
        return ()
    stable = [rest for rest in curve.equilibria if rest.stable and not rest.inverted]
    port = [rest for rest in stable if rest.heel < 0.0]
    starboard = [rest for rest in stable if rest.heel > 0.0]
    return (*port[-1:], *starboard[:1])


def area_under(curve, heel_a, heel_b):
    """[m rad] Area under the cubics of a lever curve from one heel [rad] to another."""
    low, high = sorted((heel_a, heel_b))
    area = 0.0
    for k in np.flatnonzero(np.diff(curve.heels) > 1e-9):  # a step has no width
        one = slice(k, k + 2)
        cubic = CubicHermiteSpline(curve.heels[one], curve.to_port[one], curve.slopes[one])
        area += cubic.integrate(*np.clip(curve.heels[one], low, high))
    return float(area) if heel_a < heel_b else -float(area)
