"""A hull through STEP and back, and CAD files that are none."""

import numpy as np
import pytest
from hulls import random_hull

from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull_sources.cad_hull import CadAsked, CadBody, lines_of_cad

LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)


def volume(hull):
    return integrals_below(hull.surface, LEVEL).volume


@pytest.mark.slow
@pytest.mark.parametrize(("unit", "scale"), [("", 1000.0), ("m", 1.0), ("in", 1 / 0.0254)])
def test_a_body_in_triangles_gives_its_displacement(unit, scale):
    hull = random_hull(4)
    lifted = (hull.surface.vertices + [0.0, 0.0, 0.7]) * scale
    body = CadBody(lifted, hull.surface.faces.astype(np.int64), 2, 1)
    found = lines_of_cad(body, CadAsked(0.7, unit, bow_aft=False))
    assert found.source == "step"
    assert "Body 1 of 2" in found.notes[0]
    assert volume(hull_of(HullInput(found.lines), 4000)) == pytest.approx(
        volume(hull), rel=0.01
    )


def test_a_unit_that_cannot_be_is_asked_for():
    hull = random_hull(4)
    body = CadBody(hull.surface.vertices, hull.surface.faces.astype(np.int64), 1, 1)
    with pytest.raises(ModelError, match="choose the file's unit") as caught:
        lines_of_cad(body, CadAsked(0.0))
    assert caught.value.code == "no-scale"
    with pytest.raises(ModelError) as caught:
        lines_of_cad(body, CadAsked(0.0, "furlong"))
    assert caught.value.code == "unit-missing"


@pytest.mark.slow
@pytest.mark.cad
def test_a_step_file_is_read_and_others_are_refused(tmp_path):
    import cadquery

    from hullchange.hull_sources.cad_file import cad_body

    path = tmp_path / "two.step"
    boxes = [
        cadquery.Solid.makeBox(1000, 300, 200),
        cadquery.Solid.makeBox(100, 30, 20).translate(cadquery.Vector(0, 0, 900)),
    ]
    cadquery.exporters.export(
        cadquery.Workplane(obj=cadquery.Compound.makeCompound(boxes)), str(path)
    )
    content = path.read_bytes()
    body = cad_body("two.STEP", content)
    assert body.count == 2
    assert np.ptp(body.vertices, axis=0) == pytest.approx([1000, 300, 200])
    assert np.ptp(cad_body("two.stp", content, 2).vertices, axis=0) == pytest.approx(
        [100, 30, 20]
    )
    for name, text, code in (
        ("two.step", b"", "not-a-cad-file"),
        ("two.step", content[:900], "not-a-cad-file"),
        ("two.igs", b"nothing", "not-a-cad-file"),
        ("two.dwg", content, "not-a-cad-file"),
        ("two.step", b"x" * (20 * 1024 * 1024 + 1), "too-large"),
    ):
        with pytest.raises(ModelError) as caught:
            cad_body(name, text)
        assert caught.value.code == code
    with pytest.raises(ModelError, match="no body 3"):
        cad_body("two.step", content, 3)


@pytest.mark.slow
@pytest.mark.cad
def test_surfaces_that_hang_together_nowhere_are_one_body(tmp_path):
    import cadquery

    from hullchange.hull_sources.cad_file import cad_body

    path = tmp_path / "sides.step"
    sides = [
        cadquery.Face.makePlane(length, 300).translate(cadquery.Vector(0, y, 0))
        for length, y in ((1000, 0), (900, 500))
    ]
    cadquery.exporters.export(
        cadquery.Workplane(obj=cadquery.Compound.makeCompound(sides)), str(path)
    )
    content = path.read_bytes()
    whole = cad_body("sides.step", content)
    assert whole.count == 3
    assert np.ptp(whole.vertices, axis=0) == pytest.approx([300, 1450, 0])
    assert np.ptp(cad_body("sides.step", content, 3).vertices, axis=0).max() == 900
