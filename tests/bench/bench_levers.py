"""Speed of the righting levers, on the demo boat, and against slicing by trimesh.

Ratios within one run only: machines differ. Targets: 0 to 180 degrees at 1 degree within
150 ms, at most 4 evaluations a heel, at least 100 times the same lines on trimesh's slicing;
plus and minus of all conditions within 300 ms.
"""

import importlib
import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import trimesh

from hullchange.afloat.at_rest import condition_weights, envelope_of
from hullchange.afloat.floats_in_conditions import answers_of
from hullchange.afloat.heeled_uncertainty import heeled_change
from hullchange.afloat.stability import SIDES
from hullchange.afloat.uncertainty import change_covariance
from hullchange.assess.stability import with_stability
from hullchange.boat.boat import boat_of
from hullchange.boat.conditions import conditions_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.openings import edges_of
from hullchange.boat.variants import refit
from hullchange.document.paths import with_value
from hullchange.document.reading import document_of, read_document
from hullchange.floating.crossings import Reached
from hullchange.floating.equilibrium import Loading, Tank
from hullchange.floating.heeled import HeldBoat
from hullchange.floating.kernel import below_plane, compiled, held
from hullchange.floating.kernel.shapes import COLUMNS, OFFSET, ROWS, TO_PORT, Integrals
from hullchange.floating.lever_curve import LeverCurve
from hullchange.floating.levers import righting_levers
from hullchange.geometry.surface import box
from hullchange.survey.as_found import surveyed

SALTMARROW = Path(__file__).parents[2] / "examples/saltmarrow.yaml"
HALF, WHOLE = np.radians(np.arange(0.0, 181.0)), np.radians(np.arange(-180.0, 181.0))
UPRIGHT = (0.0, 0.0, 1.0)
COARSE = np.radians(np.arange(0.0, 181.0, 5.0))


def best(question, count=15):
    """Shortest CPU time of a question [ms]: other work slows the clock, not this."""
    question()
    times = []
    for _ in range(count):
        start = time.process_time()
        question()
        times.append(time.process_time() - start)
    return min(times) * 1e3


def demo():
    """Envelope, loading and water of the refit at departure, and her openings.

    Her fuel tank, a point in the document, is a box here: a second slack tank.
    """
    document = read_document(SALTMARROW).document
    boat = boat_of(document)
    variant, condition = refit(boat), conditions_of(document)["departure"]
    weights = condition_weights(boat, surveyed(boat), variant, condition)
    fuel = box(np.array([7.9, -0.5, -0.3]), np.array([8.8, 0.5, 0.06]))
    tanks = (*weights.tanks, Tank(fuel, 0.16, 840.0))
    loading = Loading(weights.account.mass, np.array(weights.account.centre), tanks)
    envelope = envelope_of(boat, variant)
    pieces = ", ".join(piece.id for piece in envelope.pieces)
    print(f"Demo, departure: {pieces}; {len(envelope.mesh.faces)} faces, {len(tanks)} tanks")
    edges = [edge for _, edge in edges_of(document, variant.stage)]
    return envelope, loading, condition.water_density, edges


def curves(envelope, loading, water, edges):
    rows = {"0 to 180 by 1 deg": HALF, "0 to 180 by 5": COARSE, "-180 to 180 by 1": WHOLE}
    print(f"{'':24}{'ms':>8}{'evaluations a heel':>22}{'most':>6}{'energy gap':>14}")
    for name, heels in rows.items():
        curve = righting_levers(envelope, loading, water, heels)
        spent = best(lambda h=heels: righting_levers(envelope, loading, water, h))
        taken = curve.evaluations
        print(f"{name:24}{spent:8.1f}{taken.mean():22.2f}{taken.max():6d}", end="")
        print(f"{curve.energy_gap:14.1e}")
    frozen = Loading(loading.total_mass, loading.centre)
    spent = best(lambda: righting_levers(envelope, frozen, water, HALF))
    print(f"{'by 1 deg, no tanks':24}{spent:8.1f}")
    answers(righting_levers(envelope, loading, water, WHOLE), edges)


def answers(curve: LeverCurve, edges):
    def vanishing():
        return curve.vanishing_angle("starboard")

    def every():
        return [curve.immersion_angle(edge, side) for edge in edges for side in SIDES]

    found_at = vanishing()
    print(f"vanishing angle {np.degrees(found_at.at.heel):.3f} deg: ", end="")
    print(f"{found_at.solves} solves, {best(vanishing):.2f} ms")
    print(f"largest lever: {best(lambda: curve.maximum('starboard')):.2f} ms")
    most = max(angle.solves for angle in every() if isinstance(angle, Reached))
    print(f"{len(edges)} openings, both sides: at most {most} solves, {best(every):.2f} ms")


def uncertainty():
    """Plus and minus of all conditions, both boats, her floats and levers known.

    Target: within 0.3 s; in brackets the boat whose centre of gravity lies 0.9 m higher, so
    that all is drawn.
    """
    spent = []
    for vcg in (0.1, 1.0):
        plain = with_value(read_document(SALTMARROW).plain, "survey.vcg.z_m", vcg)
        boat = boat_of(document_of(plain, SALTMARROW.parent))
        hull, as_surveyed = hull_result(boat), surveyed(boat)
        beam = (hull.beam_m, hull.beam_waterline_m)
        conditions = conditions_of(boat.document).values()
        groups = [answers_of(boat, as_surveyed, c) for c in conditions]
        heeled = [
            [(one.row, with_stability(boat, one.row, one.answer, beam)) for one in group]
            for group in groups
        ]
        spent.append(best(lambda heeled=heeled: worked_out_again(heeled), 5))
    print(f"plus and minus of {len(groups)} conditions: {spent[0]:.0f} ms ({spent[1]:.0f} ms)")


def worked_out_again(heeled):
    """Slopes, draws and what comes of them for every float, and for every change."""
    for pairs in heeled:
        fresh = []
        for row, known in pairs:
            spread = replace(row.spread)
            spread.__dict__["levers"] = row.spread.levers  # not what is measured
            whole = known.spread.curve is spread.levers
            curve = known.spread.curve
            own = spread.weight_slopes if whole else spread.slopes_of_levers(curve)
            draws = replace(known.spread, spread=spread, weight_slopes=own)
            assert draws.lever_sd().all()
            assert draws.plus_minus
            assert spread.covariance.size
            assert draws.sampled is None or draws.sampled.draws
            fresh.append(draws)
        change_covariance(fresh[0].spread, fresh[-1].spread)
        heeled_change(fresh[0], fresh[-1])


def against_slicing(envelope, loading, water):
    """The same lines run as plain Python on trimesh's slicing, at every degree."""
    boat = HeldBoat(envelope, loading, water)
    start = np.zeros((1, 12))
    volume = loading.total_mass / water
    start[0, OFFSET] = below_plane.level(boat.body.mesh, UPRIGHT, volume, 1e-3)[0]
    plain = plain_kernel()
    began = time.process_time()
    rows = plain.swept(boat.body, start, HALF)
    sliced = (time.process_time() - began) * 1e3
    ours = best(lambda: held.swept(boat.body, start, HALF))
    gap = np.abs(rows - held.swept(boat.body, start, HALF))[:, TO_PORT].max()
    print(f"0 to 180 by 1: compiled {ours:.1f} ms, on trimesh's slicing {sliced:.0f}", end="")
    print(f" ms, ratio {sliced / ours:.0f}; levers differ by {gap:.0e} m at most")


def plain_kernel():
    """A second copy of the kernel, not compiled, that slices."""
    package = held.__name__.rsplit(".", 1)[0]
    loaded = {name: sys.modules[name] for name in sys.modules if name.startswith(package)}
    for name in loaded.keys() - {package, compiled.__name__, Integrals.__module__}:
        del sys.modules[name]
    compiled.COMPILES = False
    plain = importlib.import_module(below_plane.__name__)
    plain.integrals = sliced_integrals
    plain = importlib.import_module(held.__name__)
    compiled.COMPILES = True
    sys.modules.update(loaded)
    for name, module in loaded.items():  # the package still has the sliced ones
        parent, _, leaf = name.rpartition(".")
        setattr(sys.modules[parent], leaf, module)
    return plain


KNOWN = {}


def sliced_integrals(mesh, up, offset):
    """The integrals below a plane by trimesh: the wet faces, and the cut's edges."""
    faces = mesh.faces[mesh.block_starts[0] : mesh.block_starts[-1]]
    place = faces.ctypes.data
    if place not in KNOWN:
        KNOWN[place] = trimesh.Trimesh(mesh.vertices, faces, process=False)
    body, up = KNOWN[place], np.array(up)
    foot = up * offset
    a, b, c = np.moveaxis(body.slice_plane(foot, -up).triangles - foot, 1, 0)
    six_volumes = np.einsum("ij,ij->i", a, np.cross(b, c))
    edges, faces = trimesh.intersections.mesh_plane(body, up, foot, return_faces=True)
    p, q = np.moveaxis(edges - foot, 1, 0)
    outwards = np.einsum("ij,ij->i", np.cross(p - q, up), body.face_normals[faces])
    w = np.cross(q, p) @ up * np.sign(outwards)
    i, j, both = ROWS, COLUMNS, p + q
    products = both[:, i] * both[:, j] + p[:, i] * p[:, j] + q[:, i] * q[:, j]
    return Integrals(
        six_volumes.sum() / 6.0,
        six_volumes @ (a + b + c) / 24.0,
        w.sum() / 2.0,
        w @ both / 6.0,
        w @ products / 24.0,
        0.0,
    )


def main():
    envelope, loading, water, edges = demo()
    curves(envelope, loading, water, edges)
    against_slicing(envelope, loading, water)
    uncertainty()


if __name__ == "__main__":
    main()
