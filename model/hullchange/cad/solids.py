"""CAD solids of plates, and their masses: the record that is kept.

The only module that knows the CAD kernel, which takes seconds to load: import it where a solid
is wanted, never at the top of another module. Lengths inside the kernel are millimetres. Solids
are made of edges, wires and faces directly.
"""

from collections.abc import Iterable

import cadquery as cq
import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Sewing,
)
from OCP.BRepGProp import BRepGProp
from OCP.BRepLib import BRepLib
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.Geom import (
    Geom_BSplineCurve,
    Geom_ConicalSurface,
    Geom_CylindricalSurface,
    Geom_Surface,
)
from OCP.Geom2d import Geom2d_BSplineCurve
from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Pnt2d
from OCP.GProp import GProp_GProps
from OCP.TColgp import TColgp_Array1OfPnt, TColgp_Array1OfPnt2d
from OCP.TColStd import TColStd_Array1OfInteger, TColStd_Array1OfReal
from OCP.TopAbs import TopAbs_REVERSED
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Edge, TopoDS_Wire
from scipy.interpolate import make_interp_spline

from hullchange.errors import ModelError
from hullchange.geometry.developable import Cone, Planar
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.outline import Arc, Circle, FlatOutline, Line, Segment, Spline
from hullchange.geometry.plate import Plate
from hullchange.geometry.strip import Strip
from hullchange.geometry.surface import MassProperties, Surface, mass_properties
from hullchange.materials import STEEL_DENSITY
from hullchange.units import MM_PER_M, mm_of_m

DEFLECTION_MM = 0.2  # of a mesh from the solid, absolute
OF_THICKNESS = 0.1  # at most: the faces of a bent plate are meshed apart
TURN, BENT_TURN = 0.1, 0.08  # [rad] between neighbouring normals, of flat plates and bent ones
CLOSE, FINER = 4e-4, 3  # a bent plate's mesh is made finer until its volume is this close
SAME_POINT_MM = 1e-5
PRECISION = 1e-6  # of the kernel's integrals; without one it is a per cent off on bent plates
ALONG_A_CURVE = 24  # pieces in which an edge is laid on a cone


def solid_of(plate: Plate) -> cq.Solid:
    """The solid of a plate in the boat's frame [mm], found sound by the kernel.

    Raises:
        ModelError: ``no-solid`` where the kernel makes none.
    """
    solid = _made(plate)
    if not solid.isValid():
        raise _none_of(plate)
    return solid


def _made(plate: Plate) -> cq.Solid:
    solid: cq.Shape
    match plate.map:
        case Planar():
            solid = _flat_solid(plate, plate.map)
        case Cone():
            solid = _rolled_solid(plate, plate.map)
        case Strip():
            solid = _faceted_solid(plate)
    if not isinstance(solid, cq.Solid):
        raise _none_of(plate)
    return solid


def _none_of(plate: Plate) -> ModelError:
    return ModelError("no-solid", f"The CAD kernel makes no solid of plate {plate.id}.")


def cad_mesh_of(plate: Plate) -> Surface:
    """Closed surface of the plate's solid, triangulated by the kernel [m].

    Whether the solid is sound is not asked, which takes a quarter of the time: who weighs the
    mesh refuses one that is not closed.

    Raises:
        ModelError: ``no-solid`` where the kernel makes none.
    """
    shape = _made(plate)
    bent = plate.kind == "tube" or not isinstance(plate.map, Planar)
    deflection = min(DEFLECTION_MM, OF_THICKNESS * mm_of_m(plate.gauge))
    turn = BENT_TURN if bent else TURN
    mesh = _meshed(shape, deflection, turn)
    if not bent:
        return mesh
    exact = _integrated(shape, 1.0).volume
    for _ in range(FINER):
        if abs(mesh.volume - exact) <= CLOSE * exact:
            break
        deflection, turn = deflection / 2.0, turn / 2.0
        mesh = _meshed(shape, deflection, turn)
    return mesh


def _meshed(shape: cq.Solid, deflection: float, turn: float) -> Surface:
    """Closed surface of a solid, at an absolute deflection [mm] and turn [rad] [m]."""
    BRepTools.Clean_s(shape.wrapped)
    BRepMesh_IncrementalMesh(shape.wrapped, deflection, False, turn, False)
    points, faces, first = [], [], 0
    for face in shape.Faces():
        where = TopLoc_Location()
        mesh = BRep_Tool.Triangulation_s(face.wrapped, where)
        placed = where.Transformation()
        nodes = [mesh.Node(k).Transformed(placed) for k in range(1, mesh.NbNodes() + 1)]
        corners = np.array([mesh.Triangle(k).Get() for k in range(1, mesh.NbTriangles() + 1)])
        if face.wrapped.Orientation() == TopAbs_REVERSED:
            corners = corners[:, ::-1]
        points += [(node.X(), node.Y(), node.Z()) for node in nodes]
        faces.append(corners - 1 + first)
        first += len(nodes)
    return _sewn(np.array(points), np.concatenate(faces))


def _integrated(shape: cq.Solid, density: float) -> MassProperties:
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties, PRECISION, False, False)
    volume, centre = properties.Mass() / MM_PER_M**3, properties.CentreOfMass()
    x, y, z = (c / MM_PER_M for c in (centre.X(), centre.Y(), centre.Z()))
    return MassProperties(volume, volume * density, (x, y, z))


def record_of(plates: Iterable[Plate]) -> list[tuple[str, MassProperties]]:
    """Every plate's id and its solid, weighed by trimesh; a twin's is its partner's, mirrored.

    Raises:
        ModelError: as ``cad_mesh_of`` and ``mass_properties``.
    """
    made: dict[str, MassProperties] = {}
    for plate in plates:
        partner = made.get(plate.twin_of)
        made[plate.id] = (
            mass_properties(cad_mesh_of(plate), STEEL_DENSITY)
            if partner is None
            else partner.mirrored()
        )
    return list(made.items())


def _sewn(points: FloatArray, faces: FloatArray) -> Surface:
    """One surface of the faces' meshes: nodes on shared edges made one, flat triangles gone."""
    cells = np.round(points / SAME_POINT_MM).astype(np.int64)
    _, first, number = np.unique(cells, axis=0, return_index=True, return_inverse=True)
    corners = number.ravel()[faces]
    a, b, c = corners.T
    kept = corners[(a != b) & (b != c) & (c != a)]
    return Surface.unchecked(points[first] / MM_PER_M, kept.astype(np.int32))


def _faceted_solid(plate: Plate) -> cq.Shape:
    """The facets between rulings, on both faces and round the edge, sewn together."""
    surface = plate.surface()
    sewing = BRepBuilderAPI_Sewing(SAME_POINT_MM)
    for corners in (surface.vertices[surface.faces] * MM_PER_M).tolist():
        around = BRepBuilderAPI_MakePolygon(*(gp_Pnt(*corner) for corner in corners), True)
        sewing.Add(BRepBuilderAPI_MakeFace(around.Wire(), True).Face())
    sewing.Perform()
    shell = cq.Shape.cast(sewing.SewedShape())
    if not isinstance(shell, cq.Shell):
        raise ModelError("no-solid", f"The CAD kernel does not close plate {plate.id}.")
    return cq.Solid.makeSolid(shell)


def _flat_solid(plate: Plate, place: Planar) -> cq.Solid:
    outer, *holes = (_flat_wire(outline) for outline in (plate.outer, *plate.holes))
    thickness = mm_of_m(plate.thickness)
    body = cq.Solid.extrudeLinear(
        cq.Face.makeFromWires(outer, holes), cq.Vector(0, 0, thickness)
    )
    frame = place.frame
    foot = frame.origin * MM_PER_M - frame.normal * (thickness / 2.0)
    plane = cq.Plane(origin=tuple(foot), xDir=tuple(frame.u), normal=tuple(frame.normal))
    return body.moved(cq.Location(plane))


def _flat_wire(outline: FlatOutline) -> cq.Wire:
    return cq.Wire.assembleEdges([_flat_edge(segment) for segment in outline.segments])


def _flat_edge(segment: Segment) -> cq.Edge:
    def at(point: tuple[float, float]) -> cq.Vector:
        return cq.Vector(mm_of_m(point[0]), mm_of_m(point[1]), 0.0)

    match segment:
        case Line():
            return cq.Edge.makeLine(at(segment.start), at(segment.end))
        case Arc():
            return cq.Edge.makeThreePointArc(
                *map(at, (segment.start, segment.through, segment.end))
            )
        case Circle():
            return cq.Edge.makeCircle(mm_of_m(segment.radius), at(segment.centre))
        case Spline():
            points = np.array(segment.points) * MM_PER_M
            knots, poles = _b_spline(points)
            spatial = TColgp_Array1OfPnt(1, len(poles))
            for k, (x, y) in enumerate(poles.tolist(), 1):
                spatial.SetValue(k, gp_Pnt(x, y, 0.0))
            curve = Geom_BSplineCurve(spatial, *knots)
            return cq.Edge(BRepBuilderAPI_MakeEdge(curve).Edge())


def _b_spline(
    points: FloatArray,
) -> tuple[tuple[TColStd_Array1OfReal, TColStd_Array1OfInteger, int], FloatArray]:
    """Knots, multiplicities, degree and poles of the spline an outline means by its points."""
    spline = make_interp_spline(np.arange(len(points)), points, k=min(3, len(points) - 1))
    knots, counts = np.unique(spline.t, return_counts=True)
    places = TColStd_Array1OfReal(1, len(knots))
    times = TColStd_Array1OfInteger(1, len(knots))
    for k, (knot, count) in enumerate(zip(knots.tolist(), counts.tolist(), strict=True), 1):
        places.SetValue(k, knot)
        times.SetValue(k, count)
    return (places, times, spline.k), spline.c


def _rolled_solid(plate: Plate, cone: Cone) -> cq.Solid:
    """The inner face by its edges drawn on the inner cone, thickened outwards."""
    thickness = mm_of_m(plate.thickness)
    inner = cone.offset(-plate.thickness / 2.0)
    surface = _kernel_surface(inner)
    hand = 1.0 if np.cross(cone.axis, cone.out) @ cone.side > 0.0 else -1.0
    face = BRepBuilderAPI_MakeFace(
        surface, _rolled_wire(plate.outer, cone, hand, surface), True
    )
    for outline in plate.holes:
        hole = _rolled_wire(outline, cone, hand, surface)
        if outline.runs_left == (hand < 0.0):  # the kernel's holes run to the right
            hole.Reverse()
        face.Add(hole)
    BRepLib.BuildCurves3d_s(face.Face())
    return cq.Face(face.Face()).thicken(thickness)


def _kernel_surface(cone: Cone) -> Geom_Surface:
    """The whole cone or cylinder; its v runs along the rulings from the cone's origin."""
    foot = (cone.origin - cone.radius * cone.out) * MM_PER_M
    axes = gp_Ax3(gp_Pnt(*foot), gp_Dir(*cone.axis), gp_Dir(*cone.out))
    if abs(cone.half_angle) < 1e-7:
        return Geom_CylindricalSurface(axes, mm_of_m(cone.radius))
    return Geom_ConicalSurface(axes, cone.half_angle, mm_of_m(cone.radius))


def _rolled_wire(
    outline: FlatOutline, cone: Cone, hand: float, surface: Geom_Surface
) -> TopoDS_Wire:
    wire = BRepBuilderAPI_MakeWire()
    for segment in outline.segments:
        wire.Add(_rolled_edge(segment, cone, hand, surface))
    if not wire.IsDone():
        raise ModelError("no-solid", "The CAD kernel cannot join the edges of a bent plate.")
    return wire.Wire()


def _rolled_edge(
    segment: Segment, cone: Cone, hand: float, surface: Geom_Surface
) -> TopoDS_Edge:
    """An edge of the flat pattern laid on the surface, by its curve in (azimuth, run)."""
    flat = segment.spread(ALONG_A_CURVE)
    azimuth, along = cone.azimuth(flat) * hand, cone.along(flat) * MM_PER_M
    knots, poles = _b_spline(np.stack([azimuth, along], axis=1))
    laid = TColgp_Array1OfPnt2d(1, len(poles))
    for k, (u, v) in enumerate(poles.tolist(), 1):
        laid.SetValue(k, gp_Pnt2d(u, v))
    return BRepBuilderAPI_MakeEdge(Geom2d_BSplineCurve(laid, *knots), surface).Edge()
