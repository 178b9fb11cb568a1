"""Normals for drawing: smooth on a cylinder's wall, broken at its rims."""

import numpy as np
import pytest

from hullchange.present.shading import shaded

SIDES = 24
TURN = np.arange(SIDES) * 2 * np.pi / SIDES


def cylinder():
    """Radius 1 [m], height 3 [m] along z, closed, faces outwards."""
    ring = np.stack([np.cos(TURN), np.sin(TURN), np.zeros(SIDES)], axis=1)
    vertices = np.vstack([ring, ring + [0, 0, 3], [[0, 0, 0], [0, 0, 3]]])
    i, j = np.arange(SIDES), (np.arange(SIDES) + 1) % SIDES
    low, high = np.full(SIDES, 2 * SIDES), np.full(SIDES, 2 * SIDES + 1)
    quarters = [
        (i, j, j + SIDES),
        (i, j + SIDES, i + SIDES),
        (low, j, i),
        (high, i + SIDES, j + SIDES),
    ]
    return vertices, np.vstack([np.stack(q, axis=1) for q in quarters]).astype(np.int32)


def test_a_cylinders_wall_is_smooth_and_its_ends_are_flat():
    it = shaded([cylinder()])[0]
    assert len(it.vertices) == 2 * SIDES + 2 * (SIDES + 1)
    level = np.abs(it.normals[:, 2]) > 0.5
    assert np.abs(it.normals[level, 2]) == pytest.approx(1.0)
    # a panel's two triangles weigh 1 : 2 at a corner: off by up to a sixth of its 15 deg
    off = np.einsum("ij,ij->i", it.normals[~level], it.vertices[~level] * [1, 1, 0])
    assert np.degrees(np.arccos(off)).max() < 15.0 / 6.0 + 0.1


def test_every_face_keeps_its_place_and_side():
    vertices, faces = cylinder()
    it = shaded([(vertices, faces)])[0]
    assert it.vertices[it.faces] == pytest.approx(vertices[faces])
    a, b, c = (it.vertices[it.faces[:, k]] for k in range(3))
    flat = np.cross(b - a, c - a)
    assert (np.einsum("ij,ikj->ik", flat, it.normals[it.faces]) > 0).all()


def test_a_face_without_area_is_left_out():
    vertices, faces = cylinder()
    worse = np.vstack([faces, [[0, 0, 1]]])
    assert len(shaded([(vertices, worse)])[0].faces) == len(faces)


def test_shading_does_not_depend_on_the_order_of_faces():
    vertices, faces = cylinder()
    here, there = shaded([(vertices, faces), (vertices, faces[::-1])])
    normals = there.normals[there.faces][::-1]
    assert normals == pytest.approx(here.normals[here.faces])


def test_surfaces_shaded_together_are_as_each_alone():
    vertices, faces = cylinder()
    empty, flat = (np.zeros((0, 3)), faces[:0]), (np.zeros((3, 3)), faces[:1] * 0)
    several = [(vertices, faces), empty, (vertices * 2 + 5, faces), flat, (vertices, faces[:9])]
    for together, surface in zip(shaded(several), several, strict=True):
        alone = shaded([surface])[0]
        assert together.vertices == pytest.approx(alone.vertices)
        assert together.normals == pytest.approx(alone.normals)
        assert (together.faces == alone.faces).all()
