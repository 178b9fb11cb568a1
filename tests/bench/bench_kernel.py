"""Speed of the integrals and of the equilibrium, against slicing and against memory itself.

Ratios within one run only: machines differ. Targets at 20 000 triangles: trimesh / blocks at
least 60, trimesh / numpy at least 6, blocks / copy at most 3.5, blocks / linear at most 0.6; at
a million blocks / linear at most 0.15. "Linear" looks into every face, as if all were one
block; "copy" copies the corners of all faces once.
"""

import sys
import time
from pathlib import Path

import numpy as np
import trimesh

from hullchange.floating.envelope import Envelope, Piece, hull_piece, trimmed
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.floating.kernel import below_plane_numpy
from hullchange.floating.kernel.below_plane import integrals_by_blocks
from hullchange.floating.kernel.shapes import vector
from hullchange.floating.mesh import mesh_of
from hullchange.geometry.frame import up_vector
from hullchange.geometry.surface import Surface, box
from hullchange.parts.part import Body

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

import bodies

WATER = 1025.0


def best(question, seconds=0.5):
    """Shortest CPU time of a question [ms]: other work slows the clock, not this."""
    times, until = [], time.perf_counter() + seconds
    question()
    while len(times) < 3 or time.perf_counter() < until:
        start = time.process_time()
        question()
        times.append(time.process_time() - start)
    return min(times) * 1e3


def side_by_side(*questions):
    """Shortest times [ms], taken in turns so that a busy moment strikes all alike."""
    rounds = [[best(question, seconds=0.1) for question in questions] for _ in range(8)]
    return [min(times) for times in zip(*rounds, strict=True)]


def sliced(mesh, up, offset):
    wet = mesh.slice_plane(up * offset, -up, cap=True)
    return wet.volume, wet.center_mass


def kernels():
    print("Integrals below a plane heeled 12 deg [ms]; the same boat at three finenesses")
    print(f"{'triangles':>10}{'blocks':>10}{'linear':>10}{'numpy':>10}{'trimesh':>10}", end="")
    print(f"{'copy':>10}{'trimesh/blocks':>16}{'trimesh/numpy':>15}", end="")
    print(f"{'blocks/copy':>13}{'blocks/linear':>15}")
    up = up_vector(np.radians(0.5), np.radians(12.0))
    n = vector(up)
    for cells in (100, 312, 712):
        hull = bodies.yacht(cells)
        arrays = mesh_of(hull)
        linear_arrays, offset = bodies.in_one_block(arrays), -float(up @ arrays.centre)
        soup = np.ascontiguousarray(hull.vertices[hull.faces])
        other = np.empty_like(soup)
        blocks, linear, plain, copy = side_by_side(
            lambda a=arrays, o=offset: integrals_by_blocks(a, n, o),
            lambda a=linear_arrays, o=offset: integrals_by_blocks(a, n, o),
            lambda a=arrays, o=offset: below_plane_numpy.integrals(a, n, o),
            lambda s=soup, o=other: np.copyto(o, s),
        )
        mesh = trimesh.Trimesh(hull.vertices, hull.faces, process=False)
        clipped = best(lambda m=mesh: sliced(m, up, 0.0))
        print(f"{len(hull.faces):10d}{blocks:10.4f}{linear:10.4f}{plain:10.3f}", end="")
        print(f"{clipped:10.1f}{copy:10.4f}{clipped / blocks:16.0f}", end="")
        print(f"{clipped / plain:15.1f}{blocks / copy:13.2f}{blocks / linear:15.3f}")
    held = sum(part.nbytes for part in arrays if isinstance(part, np.ndarray))
    print(f"arrays of the last take {held / soup.nbytes:.2f} of the corners of its faces")


def solves():
    hull = bodies.yacht(84)
    pieces = (Piece(hull, True, "hull"), Piece(bodies.fin(hull), True, "keel"))
    tanks = tuple(
        Tank(box(np.array([x, 0.1, -0.3]), np.array([x + 1.0, 0.9, 0.1])), 0.2, 1000.0)
        for x in (3.0, 5.0)
    )
    envelope = Envelope(pieces)
    print(f"\nEquilibrium of hull and keel, {len(envelope.mesh.faces)} triangles")
    loading = Loading(9000.0, np.array([5.9, 0.05, 0.0]))
    rest = equilibrium(envelope, loading, WATER)
    near = Loading(9060.0, np.array([5.92, 0.06, 0.01]))
    with_tanks = Loading(8600.0, np.array([5.9, 0.05, 0.0]), tanks)
    house = house_of(1.2)
    rows = {
        "warm, 60 kg and 2 cm away": lambda: equilibrium(envelope, near, WATER, rest.plane),
        "warm, two tanks more": lambda: equilibrium(envelope, with_tanks, WATER, rest.plane),
        "from upright": lambda: equilibrium(envelope, loading, WATER),
        "a house changed, warm": lambda: house_changed(pieces, house, loading, rest.plane),
    }
    for name, question in rows.items():
        spent = best(question)
        print(f"  {name:30}{spent:8.3f} ms{1e3 / spent:8.0f} a second")
    hull_piece(hull, house.bounds)
    cut = best(lambda: trimmed(Body(house, adds=True), hull))
    print(f"  cutting a house of {len(house.faces)} faces to the hull: {cut:.1f} ms")


def house_of(height) -> Surface:
    return bodies.moved(bodies.barge(3.0, 2.0, height, cells=6), np.array([5.0, 0.0, 1.2]))


def house_changed(pieces, house, loading, start):
    """All that follows once a house is cut: its arrays, the envelope, the equilibrium."""
    fresh = Piece(Surface.unchecked(house.vertices, house.faces), True, "house")
    return equilibrium(Envelope((*pieces, fresh)), loading, WATER, start)


def main():
    kernels()
    solves()


if __name__ == "__main__":
    main()
