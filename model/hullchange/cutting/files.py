"""Every file of a cut pack, by its name in the folder."""

from collections.abc import Callable, Mapping

from hullchange.cutting.comes_off_sheets import cut_out_pdf
from hullchange.cutting.drawing import svg_of
from hullchange.cutting.labels import labels_pdf
from hullchange.cutting.lists import csv_of, cut_tables, service_name, workbook_of
from hullchange.cutting.note import cut_note
from hullchange.cutting.pack import CutPack
from hullchange.cutting.placements import placements
from hullchange.cutting.progress import PieceSteps
from hullchange.cutting.roll_plot import roll_pdf
from hullchange.cutting.sheets import nest_name, nest_pdf, nest_picture, plates_pdf
from hullchange.cutting.templates import offsets_table, template_pdf
from hullchange.shop.dxf import Version, dxf_of
from hullchange.shop.picture import cut_of
from hullchange.shop.recheck import require_sound


def cut_files(
    pack: CutPack,
    r12: bool = False,
    progress: Mapping[str, PieceSteps] | None = None,
    report: Callable[[str], None] = lambda _: None,
) -> dict[str, bytes]:
    """All three packs, the lists and the note.

    Args:
        pack: made ready.
        r12: add a twin of every DXF file in the oldest version, which has no unit.
        progress: how far each piece is, to be written into the cut list.
        report: called with words for what is being written.

    Raises:
        ModelError: ``file-fails-check`` where a file, read again, is not the model's steel.
    """
    report("writing files, 1 of 4: lists, labels and sheets")
    files = {"note.txt": cut_note(pack).encode(), **_paper(pack, progress or {})}
    files["placements.json"] = placements(pack).encode()
    versions: tuple[Version, ...] = ("R2000", "R12") if r12 else ("R2000",)
    report(f"writing files, 2 of 4: DXF of {len(pack.pieces)} pieces and the nests, read again")
    for version in versions:
        files |= _service(pack, version) | _nests(pack, version)
    report("writing files, 3 of 4: drawings of the nests")
    for plates in pack.plates:
        for number, nest in enumerate(plates.nests, 1):
            name = nest_name(plates, number)
            texts = {"title": f"{pack.stamp.boat} {name}", "desc": pack.stamp.words}
            files[f"yard/{name}.svg"] = svg_of(nest_picture(pack, nest), texts).encode()
            files[f"yard/{name}.pdf"] = nest_pdf(pack, plates, number)
    report(f"writing files, 4 of 4: templates of {len(pack.pieces)} pieces")
    for piece in pack.pieces:
        files[f"torch/{piece.id}.pdf"] = template_pdf(pack, piece)
    return files


def _paper(pack: CutPack, progress: Mapping[str, PieceSteps]) -> dict[str, bytes]:
    """Lists, and sheets of what there is: labels, plates, what comes off, offsets."""
    files: dict[str, bytes] = {}
    tables = cut_tables(pack, progress)
    for name, table in tables.items():
        folder = "service" if name == "quantities" else "yard"
        files[f"{folder}/{name}.csv"] = csv_of(pack, table).encode()
    files["yard/lists.xlsx"] = workbook_of(pack, tables)
    if pack.steel.plates:
        files["yard/labels.pdf"] = labels_pdf(pack)
    if pack.pieces:
        files["yard/plates.pdf"] = plates_pdf(pack)
        files[f"torch/roll-{pack.roll:g}mm.pdf"] = roll_pdf(pack)
        files["torch/offsets.csv"] = csv_of(pack, offsets_table(pack)).encode()
    if pack.comes_off:
        files["yard/cut-out.pdf"] = cut_out_pdf(pack)
    return files


def _dxf_comments(pack: CutPack, name: str) -> tuple[str, ...]:
    stamp = pack.stamp
    return (
        f"{stamp.boat} {name}",
        f"document {stamp.document}",
        f"revision {stamp.revision} {stamp.state}",
        "millimetres 1:1, net contours, no kerf",
    )


def _service(pack: CutPack, version: Version) -> dict[str, bytes]:
    """One file for each mark, its contours alone."""
    files = {}
    layer = pack.layers.get("CUT", "CUT")
    first = {piece.mark: piece for piece in reversed(pack.pieces)}
    for mark, piece in sorted(first.items()):
        name = service_name(pack, mark)
        text = dxf_of(cut_of(piece), _dxf_comments(pack, name), pack.layers, version)
        require_sound(text, layer, [piece], name)
        files[f"service/{_dxf_name(version, name)}"] = text.encode()
    return files


def _nests(pack: CutPack, version: Version) -> dict[str, bytes]:
    files = {}
    layer = pack.layers.get("CUT", "CUT")
    pieces = {piece.id: piece for piece in pack.pieces}
    for plates in pack.plates:
        for number, nest in enumerate(plates.nests, 1):
            name = f"{nest_name(plates, number)}.dxf"
            text = dxf_of(
                nest_picture(pack, nest), _dxf_comments(pack, name), pack.layers, version
            )
            require_sound(text, layer, [pieces[p.id] for p in nest.places], name)
            files[f"yard/{_dxf_name(version, name)}"] = text.encode()
    return files


def _dxf_name(version: Version, name: str) -> str:
    return name if version == "R2000" else name.replace(".dxf", "_R12_mm.dxf")
