"""How the figures of a boat that is heeled round come about."""

from collections.abc import Iterator

from hullchange.answer.heeled import CriterionResult, OpeningResult
from hullchange.criteria.definitions import SAILING_CODE_OPENINGS
from hullchange.explain.record import (
    CHOSEN,
    INTEGRATED,
    SOLVED,
    SPREAD,
    Basis,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    constant,
    document_value,
    same_float,
    volumes,
)
from hullchange.explain.rules_afloat import LCG, MASS, OWN, TCG, VCG, WEIGHT, liquids
from hullchange.explain.rules_hull import UNDER
from hullchange.explain.rules_loaded import row_of

HEELED = (*WEIGHT, *UNDER, volumes)
LEVER = (
    "GZ: horizontal distance from the line of weight to the line of buoyancy at this heel; "
    "she is free to sink and trim, and liquids lie level in their tanks"
)
VANISHES = "heel beyond which the lever no longer rights her: solved for GZ = 0"
SHE_RIGHTS = "0: she does not right herself to that side; 180: she rights from every heel."
UNDER_WATER = "heel at which it reaches the water: solved for height = 0 on the curve"


def _curve(figure: str, name: str, formula: str, basis: Basis = SOLVED) -> Derivation:
    heel = same_float("φ", f"{figure}.heel_deg.{{2}}")
    return Derivation(name, formula, (heel, *HEELED), basis)


def _angle(name: str, formula: str = VANISHES) -> Derivation:
    note = SHE_RIGHTS if formula.startswith(VANISHES) else ""
    return Derivation(name, formula, HEELED, SOLVED, note=note)


def _of_both(name: str) -> Derivation:
    return Derivation(name, "the smaller of both sides", (_each_side,))


def _each_side(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The same figure of each side on which there is one."""
    figure = asked.spot.path.rsplit(".", 1)[-1]
    for side, own_angles in (row_of(asked).sides or {}).items():
        if getattr(own_angles, figure) is not None:
            yield same_float("", f"sides.{side}.{figure}")


def _counts(opening: OpeningResult, figure: str) -> bool:
    """Whether an opening is one of those that a figure is the first of."""
    if figure.endswith("all_open_deg"):
        return True
    if figure.endswith("by_area_deg"):
        return not opening.tank_air_pipe and _is_in_use(opening)
    in_use = figure.endswith("in_use_deg") and _is_in_use(opening)
    return opening.into_hull and (opening.stands_open or in_use)


def _is_in_use(opening: OpeningResult) -> bool:
    return opening.stands_open or opening.regular is not False


def open_edges(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """Angle of each opening that a figure looks at; by area its area as well."""
    figure = asked.spot.path
    for edge in row_of(asked).openings:
        if _counts(edge, figure) and edge.immersion_angle_deg is not None:
            place = f"openings.{edge.id}.{edge.side}"
            yield same_float("φ", f"{place}.immersion_angle_deg")
            if figure.endswith("by_area_deg"):
                yield same_float("a", f"{place}.area_m2")


def every_edge(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """Angle of each opening that goes under, whether it counts or not."""
    for edge in row_of(asked).openings:
        if edge.immersion_angle_deg is not None:
            yield same_float("φ", f"openings.{edge.id}.{edge.side}.immersion_angle_deg")


FLOODING = (
    "heel at which Σ a of the openings in use that are under exceeds Δ / 1 500 000 (m², kg)"
)
FIRST_OF = {
    "downflooding_angle_deg": (
        "downflooding angle",
        "of the openings into the hull that nothing closes",
    ),
    "downflooding_angle_in_use_deg": (
        "downflooding angle, boards out",
        "of the openings into the hull that are unclosed or that people open at sea",
    ),
    "downflooding_angle_all_open_deg": (
        "first opening under water, all openings open",
        "of all openings, wherever they lead",
    ),
}


def _first_of(figure: str) -> Rules:
    """The first opening to go under: of both sides, and to each."""
    name, which = FIRST_OF[figure]
    first = f"min φ {which}"
    return {
        f"{OWN}.{figure}": Derivation(name, first, (open_edges,)),
        f"{OWN}.sides.*.{figure}": Derivation(
            f"{name} to {{2}}", f"{first}; {UNDER_WATER}", HEELED, SOLVED
        ),
    }


def by_definition(asked: ExplanationRequest) -> Derivation:
    """The downflooding angle of a rule: first opening, or area, by its own definition."""
    found = asked.spot.owner
    wanted = found.downflooding_by if isinstance(found, CriterionResult) else asked.names[2]
    rule = next(one for one in row_of(asked).downflooding_by_rule if one.id == wanted)
    return Derivation(
        f"downflooding angle by {rule.document}",
        f"heel at which these are under water: {rule.openings}",
        (every_edge, MASS),
        Basis(rule.grade, rule.source),
        note=f"{rule.follows[:1].upper()}{rule.follows[1:]}.",
    )


CURVES = "righting_levers"
LEVERS: Rules = {
    f"{OWN}.{CURVES}.heel_deg.*": Derivation(
        "heel", "one of the heels of the curve", (), CHOSEN
    ),
    f"{OWN}.{CURVES}.gz_m.*": _curve(CURVES, "righting lever", LEVER),
    f"{OWN}.{CURVES}.gz_plus_minus_m.*": Derivation(
        "plus/minus of the lever",
        "σ² = J C Jᵀ, J by GZ = … − dz sin φ − dy cos φ: mass and place of G, trim held",
        (
            same_float("φ", f"{CURVES}.heel_deg.{{2}}"),
            same_float("σ", "plus_minus.vcg_m"),
            same_float("σ", "plus_minus.tcg_m"),
        ),
        SPREAD,
    ),
    f"{OWN}.{CURVES}.gz_well_dry_m.*": _curve(
        CURVES,
        "righting lever, cockpit dry",
        f"{LEVER}; a cockpit counts as dry until its coaming goes under",
    ),
    f"{OWN}.{CURVES}.gz_without_house_m.*": _curve(
        CURVES,
        "righting lever without deckhouse buoyancy",
        f"{LEVER}; the house displaces nothing",
    ),
    f"{OWN}.{CURVES}.trim_deg.*": _curve(CURVES, "trim at this heel", LEVER),
    f"{OWN}.{CURVES}.water_offset_m.*": _curve(
        CURVES, "the water's distance from the origin at this heel", LEVER
    ),
    f"{OWN}.wells_full.heel_deg.*": Derivation(
        "heel", "one of the heels of the curve", (), CHOSEN
    ),
    f"{OWN}.wells_full.gz_m.*": _curve(
        "wells_full", "righting lever, wells full", f"{LEVER}; each well as full as it can be"
    ),
    f"{OWN}.wells_full.water_kg.*": _curve(
        "wells_full",
        "water in her wells",
        "ρ V up to the lowest point of each rim at this heel",
        INTEGRATED,
    ),
    f"{OWN}.wells_full.vanishing_angle_deg": _angle("angle of vanishing stability, wells full"),
    f"{OWN}.free_surface.heel_deg": Derivation(
        "heel of the comparison", "30° to her worse side"
    ),
    f"{OWN}.free_surface.rise_mm": Derivation(
        "rise of G by the free surfaces",
        "1000 Σ ρ i / Δ, i the second moment of each liquid's surface about its own centre",
        (MASS, liquids),
        INTEGRATED,
    ),
    f"{OWN}.free_surface.gz_m": _angle("righting lever, liquids moving", LEVER),
    f"{OWN}.free_surface.gz_virtual_m": Derivation(
        "righting lever, G raised",
        f"{LEVER}; liquids frozen, G raised by the rise",
        (same_float("rise", "free_surface.rise_mm"), *HEELED),
        SOLVED,
    ),
    f"{OWN}.free_surface.difference_mm": Derivation(
        "difference of the two levers",
        "1000 (GZ raised − GZ moving)",
        (
            same_float("GZ raised", "free_surface.gz_virtual_m"),
            same_float("GZ moving", "free_surface.gz_m"),
        ),
    ),
    f"{OWN}.vanishing_angle_deg": Derivation(
        "angle of vanishing stability",
        "the smaller of both sides",
        (
            same_float("", "vanishing_angle_port_deg"),
            same_float("", "vanishing_angle_starboard_deg"),
        ),
    ),
    f"{OWN}.vanishing_angle_port_deg": _angle("angle of vanishing stability to port"),
    f"{OWN}.vanishing_angle_starboard_deg": _angle("angle of vanishing stability to starboard"),
    f"{OWN}.vanishing_angle_without_house_deg": _angle(
        "angle of vanishing stability without deckhouse buoyancy",
        f"{VANISHES}, the smaller of both sides",
    ),
    f"{OWN}.greatest_gz_m": _angle("maximum GZ", "maximum of GZ to her worse side"),
    f"{OWN}.greatest_gz_at_deg": _angle(
        "heel at maximum GZ", "heel at the maximum of GZ to her worse side"
    ),
    **_first_of("downflooding_angle_deg"),
    **_first_of("downflooding_angle_in_use_deg"),
    **_first_of("downflooding_angle_all_open_deg"),
    f"{OWN}.downflooding_by_area_deg": _of_both("downflooding angle by area"),
    f"{OWN}.sides.*.downflooding_by_area_deg": Derivation(
        "downflooding angle by area to {2}",
        FLOODING,
        (MASS, constant("", "kg_per_m2_of_opening"), open_edges),
        Basis(SAILING_CODE_OPENINGS.grade.value, SAILING_CODE_OPENINGS.source),
        note="An opening counts as in use unless the document says regular: false.",
    ),
    f"{OWN}.downflooding_by_rule.*.angle_deg": by_definition,
    f"{OWN}.criteria.*.downflooding_angle_deg": by_definition,
    f"{OWN}.range_deg": Derivation(
        "range",
        "the smaller of the angle of vanishing stability and the downflooding angle",
        (same_float("", "vanishing_angle_deg"), same_float("", "downflooding_angle_deg")),
    ),
    f"{OWN}.deck_edge_angle_deg": _of_both("heel at which the deck edge goes under"),
    f"{OWN}.coaming_angle_deg": _of_both("heel at which the cockpit coaming goes under"),
    f"{OWN}.sides.*.deck_edge_angle_deg": _angle(
        "heel at which the deck edge goes under to {2}", UNDER_WATER
    ),
    f"{OWN}.sides.*.coaming_angle_deg": _angle(
        "heel at which the cockpit coaming goes under to {2}", UNDER_WATER
    ),
    f"{OWN}.openings.*.*.immersion_angle_deg": Derivation(
        "heel at which {2} goes under, {3}",
        UNDER_WATER,
        (document_value("", "openings.{2}.edge_m"), *HEELED),
        SOLVED,
    ),
    f"{OWN}.openings.*.*.height_mm": Derivation(
        "height of {2} above the water at rest, {3}",
        "the lowest point of its edge above the waterplane",
        (
            document_value("", "openings.{2}.edge_m"),
            same_float("d", "sinkage_mm"),
            same_float("t", "trim_mm"),
            same_float("φ", "heel_deg"),
        ),
    ),
    f"{OWN}.openings.*.*.edge_m.*.*": Derivation(
        "edge of {2}",
        "as entered, raised with the part it rises with",
        (document_value("", "openings.{2}"),),
    ),
    f"{OWN}.openings.*.*.area_m2": Derivation(
        "clear area of {2}", "as entered", (document_value("a", "openings.{2}.area_m2"),)
    ),
    f"{OWN}.rests.*.heel_deg": _angle("heel at which she rests", "GZ = 0 on the curve, solved"),
    f"{OWN}.area_under_gz.*": Derivation(
        "area under the righting levers",
        "∫ GZ dφ to her worse side, between the bounds in its name",
        (MASS, LCG, TCG, VCG, same_float("GZ max", "greatest_gz_m")),
        INTEGRATED,
    ),
}
