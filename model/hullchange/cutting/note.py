"""The one page of words that goes with every pack."""

from hullchange.answer.cautions import CAUTIONS, STRENGTH
from hullchange.cutting.pack import CutPack
from hullchange.shop.layers import LAYERS
from hullchange.units import mm_of_m

_CAUTIONS = (
    *("before cutting", "hot work", "closed spaces", "fumes and current", "sealed ballast"),
    *("old plate", "dust and solvents", "shoring and shape"),
)


def cut_note(pack: CutPack) -> str:
    """What is in the folder, what was agreed with the cutter, what to beware of."""
    stamp = pack.stamp
    layers = [
        f"  {pack.layers.get(layer, layer):<8} {words}" for layer, words in LAYERS.items()
    ]
    cautions = [f"- {c.sentence}" for c in CAUTIONS if c.topic in _CAUTIONS]
    rows = [
        f"{stamp.boat}: cut files",
        f"document {stamp.document}",
        f"revision {stamp.revision}, {stamp.state.upper()}\n{STRENGTH.sentence}",
        "",
        "SERVICE  one DXF per mark, contours alone, with quantities: for a cutting service",
        "YARD     nests as DXF, SVG and PDF, a page for each plate, labels, lists,",
        "         and the steel to remove: old plates with lifting points, in cutting order",
        f"TORCH    templates at full size on A4 and on a roll of {pack.roll:g} mm, offsets",
        "placements.json records where each piece lies, so the nests stay as they are.",
        "",
        "AGREED WITH THE CUTTER",
        "- Millimetres, 1:1. Contours are net: kerf, lead-ins and piercing are the cutter's.",
        "- Contours include no weld gap and no extra steel at edges: order either first.",
        f"- Pieces lie {mm_of_m(pack.spacing.gap):g} mm apart and "
        f"{mm_of_m(pack.spacing.margin):g} mm from the sheet's edge.",
        "- Plate is taken to be rolled along the sheet's length.",
        "- Plates are developed at half their thickness; rolling lines carry the radius there.",
        "- Splines are drawn as arcs and chords within 0.1 mm.",
        "- Seen from the marked side. Of a pair, one is the other turned over.",
        "",
        "LAYERS",
        *layers,
        "",
        "BEWARE",
        f"- This pack is {stamp.state}. Compare the code {stamp.document[:8]} on label,",
        "  sheet and file with the review before the first cut: a stale file cuts scrap.",
        *cautions,
        "- Weld shrinkage is given as a range, not allowed for: tack, measure, then weld.",
        "- After cutting out, measure the opening again before new plate is cut: four sides",
        "  and two diagonals between corner marks, entered on the Cutting page.",
        "",
    ]
    return "\n".join(rows)
