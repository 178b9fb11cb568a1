"""Plates as a STEP file: the CAD solids of the record, named by part and plate.

Knows the CAD kernel as ``solids`` does, and is imported like it: where a file is wanted.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

import cadquery as cq
from cadquery.occ_impl.assembly import toCAF
from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.Interface import Interface_HArray1OfHAsciiString, Interface_Static
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_AsIs
from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
from OCP.TCollection import TCollection_HAsciiString

from hullchange.cad.solids import solid_of
from hullchange.geometry.plate import Plate
from hullchange.latin import ascii_of


@dataclass(frozen=True)
class StepHead:
    """The head of the file, in ASCII.

    Attributes:
        name: of the file.
        made_at: time of what it was made from, ISO 8601; empty where that has none.
        tool: what made it.
        description: sentences.
    """

    name: str
    made_at: str
    tool: str
    description: tuple[str, ...]


def step_of(parts: Mapping[str, Iterable[Plate]], head: StepHead) -> bytes:
    """A STEP file (AP214, millimetres, the boat's frame): one assembly for each part.

    The same plates and head give the same bytes.

    Args:
        parts: plates by part; a plate's product is called ``part.plate``.
        head: of the file.

    Raises:
        ModelError: ``no-solid`` where the kernel makes none.
    """
    whole = cq.Assembly(name=Path(head.name).stem)
    for name, plates in parts.items():
        part = cq.Assembly(name=name)
        for plate in plates:
            part.add(solid_of(plate), name=f"{name}.{plate.id}")
        whole.add(part, name=name)
    _, document = toCAF(whole, coloredSTEP=True)
    writer = STEPCAFControl_Writer()
    writer.SetNameMode(True)
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    writer.Transfer(document, STEPControl_AsIs)
    _number_places(writer)
    _set_head(writer, head)
    with TemporaryDirectory(prefix="hullchange-") as folder:
        file = Path(folder) / "record.step"
        writer.Write(str(file))
        return file.read_bytes()


def _number_places(writer: STEPCAFControl_Writer) -> None:
    """Count places in the assembly from one; the kernel counts on from file to file."""
    model = writer.ChangeWriter().Model()
    numbers = count(1)
    for number in range(1, model.NbEntities() + 1):
        entity = model.Value(number)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            entity.SetId(_text(str(next(numbers))))


def _set_head(writer: STEPCAFControl_Writer, head: StepHead) -> None:
    """Write a head that names no machine, no user and no time but the given one."""
    made = APIHeaderSection_MakeHeader(writer.ChangeWriter().Model())
    made.SetName(_text(head.name))
    made.SetTimeStamp(_text(head.made_at))
    made.SetAuthor(_texts(""))
    made.SetOrganization(_texts(""))
    made.SetPreprocessorVersion(_text(head.tool))
    made.SetOriginatingSystem(_text(head.tool))
    made.SetAuthorisation(_text(""))
    made.SetDescription(_texts(*head.description))
    made.Apply(writer.ChangeWriter().Model())


def _text(words: str) -> TCollection_HAsciiString:
    return TCollection_HAsciiString(ascii_of(words))


def _texts(*lines: str) -> Interface_HArray1OfHAsciiString:
    array = Interface_HArray1OfHAsciiString(1, len(lines))
    for number, line in enumerate(lines, 1):
        array.SetValue(number, _text(line))
    return array
