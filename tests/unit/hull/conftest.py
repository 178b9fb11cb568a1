"""Hulls to try things on."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hulls import random_input

from hullchange.hull.appendages import AppendageInput
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput
from hullchange.hull.lines_csv import lines_of_csv

LINES = Path(__file__).parents[3] / "examples/saltmarrow-lines.csv"
KEEL = AppendageInput(
    "keel",
    ((2.75, -0.60), (3.75, -1.85), (6.75, -1.85)),
    ((0.00, 0.000), (0.25, 0.165), (0.45, 0.165), (1.00, 0.025)),
    "ellipse",
)
SKEG = AppendageInput("skeg-and-rudder", ((8.00, -1.35), (9.05, -1.35)), 0.045)


@pytest.fixture(scope="session")
def demo_input():
    """Saltmarrow as measured."""
    lines = tuple(lines_of_csv(LINES.read_text(encoding="utf-8")).values())
    return HullInput(lines, 0.060, 1.80, (KEEL, SKEG))


@pytest.fixture(scope="session")
def demo(demo_input):
    """Saltmarrow's hull."""
    return hull_of(demo_input)


def line(name, kind, points, knuckles=()):
    return LineInput(name, kind, tuple(tuple(map(float, p)) for p in points), knuckles)


@pytest.fixture(scope="session")
def box_input():
    """A box 10 x 4, 1 deep and 1 high, from lines of two points."""
    return HullInput(
        (
            line("centreline", "fair", [(0, 0, -1), (10, 0, -1)]),
            line("bilge", "chine", [(0, 2, -1), (10, 2, -1)]),
            line("sheer", "sheer", [(0, 2, 1), (10, 2, 1)]),
        )
    )


@pytest.fixture(scope="session")
def raked_input():
    """A hull whose lines end at different x on a raked stem and a raked transom."""
    u = np.linspace(0.0, 1.0, 11)
    ends = (
        (0.8, 9.3, 0.0, -0.7, 0.25),
        (0.3, 9.9, 1.1, -0.3, 0.4),
        (-0.6, 10.6, 1.7, 1.0, 0.2),
    )
    names = (("centreline", "fair"), ("bilge", "chine"), ("sheer", "sheer"))
    return HullInput(
        tuple(
            line(
                *name,
                np.column_stack(
                    [
                        fore + u * (aft - fore),
                        breadth * np.sin(np.pi * 0.8 * u) ** 0.8,
                        height + rise * (2.0 * u - 1.0) ** 2,
                    ]
                ),
            )
            for name, (fore, aft, breadth, height, rise) in zip(names, ends, strict=True)
        ),
        0.08,
        1.7,
    )


@pytest.fixture(scope="session")
def wet():
    """Volume and first moments below z = 0 by another program's slicing."""

    def below(surface):
        body = trimesh.Trimesh(surface.vertices, surface.faces, process=False)
        part = body.slice_plane([0, 0, 0], [0, 0, -1], cap=True)
        return part.volume * np.array([1.0, *part.center_mass])

    return below


@pytest.fixture(scope="session")
def euler():
    """Vertices less edges plus faces; 2 for a body without handles."""

    def number(surface):
        faces = surface.faces
        edges = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]))
        return len(np.unique(faces)) - len(np.unique(edges, axis=0)) + len(faces)

    return number


@pytest.fixture(scope="session")
def with_point():
    """The same input with one point of one line changed."""

    def changed(given, name, index, point):
        lines = []
        for one in given.lines:
            points = list(one.points)
            if one.name == name:
                points[index] = point
            lines.append(replace(one, points=tuple(points)))
        return replace(given, lines=tuple(lines))

    return changed


@pytest.fixture
def random_inputs():
    """Twenty hulls drawn from a seed, each with the generator that drew it."""
    draws = [np.random.default_rng(9100 + seed) for seed in range(20)]
    return [(draw, random_input(draw)) for draw in draws]
