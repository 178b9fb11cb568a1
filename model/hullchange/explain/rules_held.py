"""How the figures of a boat held at a heel come about, and what changes of her angles."""

from collections.abc import Iterator

from hullchange.explain.record import (
    CHOSEN,
    SOLVED,
    SPREAD,
    SUM,
    Basis,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    both_boats,
    document_value,
    same_float,
)
from hullchange.explain.rules_afloat import CANCELS, OWN
from hullchange.explain.rules_hull import LENGTH
from hullchange.explain.rules_levers import HEELED, LEVER, UNDER_WATER

HELD = f"{OWN}.held.*"
READ = (
    "Interpolated along the curve by its exact slopes, and solved where these are not "
    "accurate to 0.1 mm and 0.01°."
)


def _at(figure: str) -> InputPath:
    """The same boat's figure at the same heel."""
    return same_float("", f"held.{{2}}.{figure}.{{3}}")


HEEL, TRIM, OFFSET = _at("heel_deg"), _at("trim_deg"), _at("water_offset_m")


def _held(name: str, formula: str = LEVER, basis: Basis = SOLVED) -> Derivation:
    return Derivation(name, formula, (HEEL, *HEELED), basis, note=READ)


def _edges(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The openings of the boat."""
    yield from (
        document_value("", f"openings.{name}.edge_m") for name in asked.document.openings
    )


def _under(name: str, formula: str) -> Derivation:
    return Derivation(name, formula, (HEEL, TRIM, OFFSET, _edges))


WELLS = "linear between the heels at which her wells were filled"
HELD_RULES: Rules = {
    f"{HELD}.heel_deg.*": Derivation(
        "heel", "whole degrees, and where the lever steps", (), CHOSEN
    ),
    f"{HELD}.gz_m.*": _held("righting lever at this heel"),
    f"{HELD}.gz_plus_minus_m.*": Derivation(
        "plus/minus of the lever at this heel",
        "linear between the heels of the curve",
        (HEEL, same_float("σ", "plus_minus.vcg_m"), same_float("σ", "plus_minus.tcg_m")),
        SPREAD,
    ),
    f"{HELD}.gz_without_house_m.*": _held(
        "righting lever at this heel without deckhouse buoyancy",
        f"{LEVER}; the house displaces nothing",
    ),
    f"{HELD}.gz_well_dry_m.*": _held(
        "righting lever at this heel, cockpit dry",
        f"{LEVER}; a cockpit counts as dry until its coaming goes under",
    ),
    f"{HELD}.gz_wells_full_m.*": Derivation(
        "righting lever, wells full", WELLS, (HEEL,), SOLVED
    ),
    f"{HELD}.water_in_wells_kg.*": Derivation("water in her wells", WELLS, (HEEL,), SOLVED),
    f"{HELD}.gz_change_m.*": Derivation(
        "change of the righting lever at this heel",
        "GZ₂ − GZ₁: refit minus boat as found",
        both_boats("GZ", "held.{2}.gz_m.{3}"),
    ),
    f"{HELD}.trim_deg.*": _held("trim at this heel"),
    f"{HELD}.water_offset_m.*": _held("the water's distance from the origin at this heel"),
    f"{HELD}.trim_mm.*": Derivation("trim at this heel", "1000 L tan θ", (TRIM, LENGTH)),
    f"{HELD}.sinkage_mm.*": Derivation(
        "depth of the middle of the design waterline",
        "1000 (offset + L sin θ / 2)",
        (OFFSET, TRIM, LENGTH),
    ),
    **{
        f"{HELD}.{of}_{way}_m.*": Derivation(f"{words}, {where}", formula, (HEEL, *more))
        for of, words, more in (
            ("gravity", "centre of gravity at this heel", HEELED),
            ("buoyancy", "centre of buoyancy at this heel", (TRIM, OFFSET)),
        )
        for way, where, formula in (
            ("across", "across the water", "(0, cos φ, sin φ) · centre, to starboard"),
            ("above_sea", "above the water", "up · centre − offset"),
        )
    },
    f"{HELD}.openings_under.*.*": _under(
        "an opening under water, by its number in the list", "its lowest point lies under water"
    ),
    f"{HELD}.next_opening.*": _under(
        "the next opening to go under, by its number in the list",
        "the lowest of those above water",
    ),
    f"{HELD}.next_opening_m.*": _under(
        "height of the next opening to go under", "its lowest point above the waterplane"
    ),
    f"{OWN}.sides.*.range_deg": Derivation(
        "range to {2}",
        "the smaller of the angle of vanishing stability and the downflooding angle",
        (
            same_float("", "vanishing_angle_{2}_deg"),
            same_float("", "sides.{2}.downflooding_angle_deg"),
        ),
    ),
    f"{OWN}.openings.*.*.immersion_angles_deg.*": Derivation(
        "heel to {4} at which {2} goes under, {3}",
        UNDER_WATER,
        (document_value("", "openings.{2}.edge_m"), *HEELED),
        SOLVED,
    ),
    f"{OWN}.water_offset_m": Derivation(
        "the water's distance from the origin",
        "up · (L / 2, 0, d): the plane through the water amidships",
        (
            same_float("d", "sinkage_mm"),
            same_float("θ", "trim_deg"),
            same_float("φ", "heel_deg"),
            LENGTH,
        ),
    ),
    f"{OWN}.freeboards_at_marks.*.mean_mm": Derivation(
        "mean freeboard at {2}",
        "(port + starboard) / 2",
        tuple(
            same_float(side, f"freeboards.{{2}}.{side}.freeboard_mm")
            for side in ("port", "starboard")
        ),
        SUM,
    ),
    f"{OWN}.freeboards_at_marks.*.change_mm": Derivation(
        "change of the mean freeboard at {2}",
        "(port + starboard) / 2 of the two changes",
        tuple(
            same_float(side, f"change.freeboards.{{2}}.{side}.freeboard_mm")
            for side in ("port", "starboard")
        ),
        SUM,
    ),
}
for _side in ("port", "starboard"):
    HELD_RULES[f"{OWN}.freeboards_at_marks.*.{_side}_mm"] = Derivation(
        f"freeboard at {{2}}, {_side}",
        "as among the freeboards",
        (same_float("f", f"freeboards.{{2}}.{_side}.freeboard_mm"),),
    )
CHANGES = {
    "vanishing_angle_port_deg": "angle of vanishing stability to port",
    "vanishing_angle_starboard_deg": "angle of vanishing stability to starboard",
    "vanishing_angle_without_house_deg": "angle of vanishing stability without deckhouse "
    "buoyancy",
    "downflooding_angle_in_use_deg": "downflooding angle, boards out",
    "downflooding_angle_all_open_deg": "downflooding angle, all openings open",
    "downflooding_by_area_deg": "downflooding angle by area",
    "deck_edge_angle_deg": "heel at which the deck edge goes under",
    "coaming_angle_deg": "heel at which the cockpit coaming goes under",
    "greatest_gz_at_deg": "heel at maximum GZ",
    "area_under_gz.*": "area under the righting levers",
}
LESS = "e₂ − e₁: refit minus boat as found"
for _field, _name in CHANGES.items():
    HELD_RULES[f"{OWN}.change.heeled.{_field}"] = Derivation(
        f"change of {_name}", LESS, both_boats("e", _field.replace("*", "{2}"))
    )
HELD_RULES |= {
    f"{OWN}.change.heeled.vanishing_angle_wells_full_deg": Derivation(
        "change of angle of vanishing stability, wells full",
        LESS,
        both_boats("e", "wells_full.vanishing_angle_deg"),
    ),
    f"{OWN}.change.heeled.roll_period_s": Derivation(
        "change of roll period", LESS, both_boats("T", "roll_period_s.0")
    ),
    f"{OWN}.change.trim_deg": Derivation(
        "change of the angle of trim", LESS, both_boats("θ", "trim_deg"), note=CANCELS
    ),
}
for _end in ("bow", "stern"):
    HELD_RULES[f"{OWN}.change.sinkage_{_end}_mm"] = Derivation(
        f"change of sinkage at the {_end}",
        LESS,
        both_boats("d", f"sinkage_{_end}_mm"),
        plus_minus=f"conditions.{{0}}.{{1}}.change.plus_minus.sinkage_{_end}_mm",
        note=CANCELS,
    )
