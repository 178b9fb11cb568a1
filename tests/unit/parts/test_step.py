"""The record as STEP, read by another reader: names, volumes, places, the same bytes."""

import json

import cadquery as cq
import pytest
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFApp import XCAFApp_Application
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool
from refits import demo

from hullchange.cad.solids import record_of
from hullchange.cad.step import StepHead, step_of
from hullchange.present.export import Origin, sidecar

pytestmark = [pytest.mark.slow, pytest.mark.cad]
HEAD = StepHead("record.step", "2026-11-25T10:00:00Z", "hullchange", ("Saltmarrow", "signed"))
ORIGIN = Origin("Saltmarrow", "ab" * 32, "", "2", "cd" * 32, "2026-11-25", "signed", "tool")


def products(file):
    """The tree another reader finds: part, then plate, with each plate's shape [mm]."""
    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    XCAFApp_Application.GetApplication_s().InitDocument(document)
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    assert reader.ReadFile(str(file)) == IFSelect_RetDone
    assert reader.Transfer(document)
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    roots = TDF_LabelSequence()
    tool.GetFreeShapes(roots)
    [(_, whole)] = [(called(root), root) for root in labels(roots)]
    return {
        called(part): {
            called(plate): cq.Shape.cast(XCAFDoc_ShapeTool.GetShape_s(plate))
            for plate in below(part)
        }
        for part in below(whole)
    }


def below(label):
    """What a product is assembled of."""
    components = TDF_LabelSequence()
    XCAFDoc_ShapeTool.GetComponents_s(label, components)
    for component in labels(components):
        product = TDF_Label()
        assert XCAFDoc_ShapeTool.GetReferredShape_s(component, product)
        yield product


def labels(sequence):
    return [sequence.Value(number) for number in range(1, sequence.Length() + 1)]


def called(label):
    name = TDataStd_Name()
    assert label.FindAttribute(TDataStd_Name.GetID_s(), name)
    return name.Get().ToExtString()


def test_another_reader_finds_every_plate_by_name_with_its_volume(tmp_path):
    boat = demo()[0]
    parts = {name: built.part.plates for name, built in boat.parts.items()}
    content = step_of(parts, HEAD)
    assert step_of(parts, HEAD) == content
    file = tmp_path / "record.step"
    file.write_bytes(content)

    found = products(file)
    assert list(found) == list(parts)
    for name, plates in parts.items():
        assert list(found[name]) == [f"{name}.{plate.id}" for plate in plates]
    record = json.loads(
        sidecar(ORIGIN, boat, {name: record_of(plates) for name, plates in parts.items()})
    )
    rows = {row["product"]: row for row in record["plates"]}
    shapes = {name: shape for plates in found.values() for name, shape in plates.items()}
    assert rows.keys() == shapes.keys()
    for name, shape in shapes.items():
        # the record's mesh follows a bent plate within four parts in ten thousand
        mass = shape.Volume() * 1e-9 * 7850.0
        assert rows[name]["mass_kg"] == pytest.approx(mass, rel=5e-4)
        centre = [c * 1e-3 for c in shape.centerOfMass(shape).toTuple()]
        assert rows[name]["centroid_m"] == pytest.approx(centre, abs=1e-3)
    for name, built in boat.parts.items():
        row = next(p for p in record["parts"] if p["part"] == name)
        assert row["mass_kg"] == pytest.approx(built.steel.mass, rel=1e-3)
    assert record["status"] == "signed"

    solids = cq.importers.importStep(str(file)).solids().vals()
    assert len(solids) == len(shapes)
    volume = sum(plate.volume for plates in parts.values() for plate in plates)
    assert sum(s.Volume() for s in solids) * 1e-9 == pytest.approx(volume, rel=1e-6)

    head = content[:600].decode("ascii")
    for words in ("'Saltmarrow','signed'", "record.step','2026-11-25T10:00:00Z',(''),(''),"):
        assert words in head
    assert b"Open CASCADE" not in content
    assert str(tmp_path.parent).encode() not in content
