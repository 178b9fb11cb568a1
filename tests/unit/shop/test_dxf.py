"""DXF files: sound by ezdxf's audit, and the same steel to every reader."""

import io

import ezdxf
import numpy as np
import pytest
import trimesh
from trimesh.constants import res_path

from hullchange.errors import ModelError
from hullchange.geometry.frame import Frame
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.plate import Planar, Plate
from hullchange.parts.steelwork import AFT, STARBOARD
from hullchange.shop.contour import Contour
from hullchange.shop.dxf import audited, dxf_of, read_again
from hullchange.shop.marks import marks_of
from hullchange.shop.picture import Picture, cut_of, marks_picture
from hullchange.shop.piece import steel_of
from hullchange.shop.recheck import feature_findings, require_sound

SAID = ("HOUSE-01", "R- 12345678 unsigned")


@pytest.fixture(scope="module")
def files(steel):
    return {piece.id: dxf_of(cut_of(piece), SAID) for piece in steel.pieces}


def test_every_file_passes_the_check(steel, files):
    for piece in steel.pieces:
        require_sound(files[piece.id], "CUT", [piece], piece.id)


def test_one_layer_closed_in_millimetres(files):
    for text in files.values():
        document = ezdxf.read(io.StringIO(text))
        assert document.header["$INSUNITS"] == 4
        assert document.dxfversion == "AC1015"
        entities = list(document.modelspace())
        assert {(e.dxftype(), e.dxf.layer) for e in entities} == {("LWPOLYLINE", "CUT")}
        assert all(entity.closed for entity in entities)
        assert text.startswith("999\nHOUSE-01\n999\nR- 12345678 unsigned\n")


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_the_layer_every_file_has_may_be_cut_on(pieces, version):
    piece = pieces["HOUSE-01-S"]
    text = dxf_of(cut_of(piece), SAID, {"CUT": "0"}, version)
    require_sound(text, "0", [piece], piece.id)
    assert ezdxf.read(io.StringIO(text)).layers.get("0").color == 1


@pytest.mark.slow
def test_trimesh_reads_the_same_area(pieces, files, monkeypatch):
    monkeypatch.setattr(res_path, "seg_angle", 0.01)
    monkeypatch.setattr(res_path, "seg_frac", 0.005)
    for name, text in files.items():
        path = trimesh.load(io.BytesIO(text.encode()), file_type="dxf")
        assert path.is_closed, name
        assert path.area / 1e6 == pytest.approx(pieces[name].area, rel=1e-4), name


@pytest.mark.cad
@pytest.mark.slow
def test_the_cad_kernel_reads_the_same_area(pieces, files, tmp_path):
    import cadquery

    for name, text in files.items():
        path = tmp_path / f"{name}.dxf"
        path.write_text(text)
        (face,) = cadquery.importers.importDXF(str(path)).faces().vals()
        assert face.Area() / 1e6 == pytest.approx(pieces[name].area, rel=1e-4), name


def test_the_oldest_version_is_the_same_steel(pieces):
    piece = pieces["HOUSE-01-S"]
    text = dxf_of(cut_of(piece), SAID, version="R12")
    assert audited(text) == []
    require_sound(text, "CUT", [piece], "twin")


def test_layers_are_called_as_asked(pieces, steel):
    piece = pieces["COCKPIT-01"]
    picture = cut_of(piece).with_(marks_picture(marks_of(piece, steel, "R-")))
    text = dxf_of(picture, SAID, {"CUT": "1_OUTER", "TEXT": "ENGRAVE"})
    layers = {layer for layer, _, _ in read_again(text)}
    assert layers == {"1_OUTER", "MARK", "ENGRAVE", "REF"}
    assert audited(text) == []


def test_the_same_drawing_gives_the_same_file(pieces):
    texts = {dxf_of(cut_of(pieces["HOUSE-02"]), SAID) for _ in range(2)}
    assert len(texts) == 1


def planted(piece, change):
    loops = change(list(piece.rings))
    return dxf_of(Picture(tuple(("CUT", loop) for loop in loops)), SAID)


FAULTS = {
    "a contour is in the file twice": lambda rings: [*rings, rings[1]],
    "contours instead of": lambda rings: rings[:-1],
    "different from": lambda rings: [Contour(rings[0].nodes * [1.002, 1.0, 1.0]), *rings[1:]],
    "crosses itself": lambda rings: [
        Contour(rings[0].nodes[np.r_[1, 0, 2 : len(rings[0].nodes)]]), *rings[1:]
    ],
}  # fmt: skip


@pytest.mark.parametrize("message", FAULTS)
def test_a_planted_fault_is_found(pieces, message):
    piece = pieces["HOUSE-01-S"]
    with pytest.raises(ModelError) as refusal:
        require_sound(planted(piece, FAULTS[message]), "CUT", [piece], "HOUSE-01.dxf")
    assert refusal.value.code == "file-fails-check"
    assert message in refusal.value.sentence


def test_an_open_contour_is_found(pieces, files):
    piece = pieces["HOUSE-01-S"]
    head, tail = files[piece.id].rsplit("AcDbPolyline\n", 1)
    opened = tail.replace(" 70\n1\n", " 70\n0\n", 1)
    with pytest.raises(ModelError) as refusal:
        require_sound(f"{head}AcDbPolyline\n{opened}", "CUT", [piece], "HOUSE-01.dxf")
    assert "not closed" in refusal.value.sentence


def test_of_the_demo_two_sharp_points_are_doubtful(steel):
    doubts = [f for p in steel.pieces for f in feature_findings(p, marks_of(p, steel, "R-"))]
    assert [f.code for f in doubts] == ["smaller-than-thickness"] * 2
    assert {f.place for f in doubts} == {f"extension.skin-{s}-3" for s in ("starboard", "port")}


def test_a_hole_and_a_web_smaller_than_the_plate(refined):
    hole, web = refined
    assert "a hole 5.0 mm wide" in hole
    assert "a bridge 4.0 mm wide" in web


@pytest.fixture
def refined():
    frame = Frame(np.zeros(3), AFT, STARBOARD)
    holes = {"hole": ((0.2, 0.1), 2.5e-3), "web": ((0.2, 0.024), 0.02)}
    sentences = []
    for name, (at, radius) in holes.items():
        outer = FlatOutline.rectangle((0.0, 0.0), (0.4, 0.2))
        plate = Plate(
            name, "plate", outer, 6e-3, Planar(frame), (FlatOutline.circle(at, radius),)
        )
        steel = steel_of({"try": [plate]}, ())
        doubts = feature_findings(steel.pieces[0], marks_of(steel.pieces[0], steel, "R-"))
        sentences.append(" ".join(f.sentence for f in doubts))
    return sentences
