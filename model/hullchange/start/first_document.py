"""The first document of a boat of which only a type and the main dimensions are known.

What was given is hers; lines, deck, keel, rudder and the centre of gravity are put in by
proportions and listed as assumed.
"""

from collections.abc import Iterator
from textwrap import wrap

from hullchange.document.yaml_edit import flow_text
from hullchange.hull_sources.main_dimensions import LOWEST_SHEER
from hullchange.proposals.appendage_shares import FOIL, KEELS, SideOutline
from hullchange.start.proportions import (
    CAMBER,
    VCG_SD_AT_LEAST,
    VCG_SD_SHARE,
    BoatGuess,
    FirstDimensions,
    guess_of,
    lines_together,
    rudder_half,
    would_not_stand,
)

MARKS = ("forward", "midships", "aft")


def first_document(name: str, given: FirstDimensions) -> str:
    """A commented document of a boat of these dimensions, which floats on her lines.

    Args:
        name: of the boat.
        given: her dimensions.

    Raises:
        ModelError: ``dimensions-disagree``, with what would fit.
    """
    guess = guess_of(given)
    if not guess.stands:
        raise would_not_stand(guess)
    return "\n".join([*_head(name, given), *_hull(guess), *_survey(guess), ""])


def _head(name: str, given: FirstDimensions) -> Iterator[str]:
    yield from (
        "# The first document of a boat of which the main dimensions are known. What is listed",
        "# under assumed, at the end, is put in by proportions and is not hers: measure it,",
        "# replace it, and take its path off the list; the pages take it off by themselves.",
        "#",
        "# Axes: x aft from where the design waterline meets the stem, y to starboard, z up",
        "# from the design waterline. Metres and kilograms.",
        "format: 1",
        f"boat: {{name: {flow_text(name)}}}",
        f"water: {{density_kg_m3: {_text(given.water_density)}}}",
        "",
    )


def _hull(guess: BoatGuess) -> Iterator[str]:
    given, found = guess.given, guess.found
    thick = KEELS[given.keel].half_thickness * given.waterline
    foil = ", ".join(f"[{_text(at)}, {_text(half * thick)}]" for at, half in FOIL)
    yield from (
        f"# 1. The hull: {given.hull_type}, {given.length:.2f} by {given.beam:.2f} m,",
        f"#    {given.displacement:,.0f} kg with keel and rudder. Its lines are a guess:",
        *(f"#    {row}" for row in wrap(" ".join([found.worth, *found.notes]), 86)),
        "hull:",
        "  kind: offsets",
        f"  length_waterline_m: {_text(guess.waterline)}",
        f"  from: {{source: dimensions, plus_minus_m: {_text(found.plus_minus)}}}",
        "  lines:",
    )
    for line in found.lines:
        yield f"    {line.name}:"
        yield f"      kind: {line.kind}"
        yield "      points_m: ["
        points = ", ".join(f"[{', '.join(map(_text, point))}]" for point in line.points)
        rows = wrap(points.replace(", ", ",~").replace("],~", "], "), 86)
        yield from (f"        {row.replace('~', ' ')}" for row in rows[:-1])
        yield f"        {rows[-1].replace('~', ' ')}]"
    half = given.beam / 2.0
    yield from (
        f"  deck: {{camber_m: {_text(CAMBER * half)}, at_half_breadth_m: {_text(half)}}}",
        "  appendages:                      # side view [x, z]; the top follows the hull",
        "    keel:",
        f"      outline_m: {_pairs(guess.keel)}",
        f"      half_thickness_m: [{foil}]",
        "      nose: ellipse",
        *_pair(given),
        "    rudder:",
        f"      outline_m: {_pairs(guess.rudder)}",
        f"      half_thickness_m: {_text(rudder_half(guess.rudder))}",
        "",
    )


def _pair(given: FirstDimensions) -> Iterator[str]:
    """What makes the keel one of a pair, where she has two."""
    shares = KEELS[given.keel]
    if shares.count > 1:
        yield f"      at_y_m: {_text(shares.at_breadth * given.beam)}"
        yield "      pair: true"


def _survey(guess: BoatGuess) -> Iterator[str]:
    given, (centreline, _) = guess.given, lines_together(guess.found)
    bow = float(centreline[0, 0])
    places = (bow, bow + LOWEST_SHEER * given.length, bow + given.length)
    sd = max(VCG_SD_AT_LEAST, VCG_SD_SHARE * given.beam)
    yield from (
        "# 2. Freeboards as given, sheer to water. Where they were read along the boat, and",
        "#    how high the sheer is there, follows from the guessed lines.",
        "survey:",
        f"  water: {{density_kg_m3: {_text(given.water_density)}}}",
        "  plus_minus_m: 0.01",
        "  marks:",
    )
    for name, x, height in zip(MARKS, places, given.freeboards, strict=True):
        z = _text(height)
        read = f"{{port: {z}, starboard: {z}}}"
        yield f"    {name}: {{x_m: {_text(x)}, sheer_z_m: {z}, freeboard_m: {read}}}"
    of_hull = ["hull.lines", "hull.deck", "hull.appendages"]
    if guess.waterline != given.waterline:
        of_hull.insert(0, "hull.length_waterline_m")
    of_marks = (f"survey.marks.{name}.{key}" for name in MARKS for key in ("x_m", "sheer_z_m"))
    yield from (
        "  # The height of the centre of gravity is not known: incline her.",
        f"  vcg: {{z_m: {_text(guess.vcg)}, plus_minus_m: {_text(sd)}, from: guessed}}",
        "",
        "conditions:",
        "  survey-state: {}",
        "",
        "assumed:                           # not measured yet; the pages keep this list",
        *(f"  - {path}" for path in (*of_hull, *of_marks)),
        "  - survey.vcg",
    )


def _pairs(outline: SideOutline) -> str:
    return "[" + ", ".join(f"[{_text(x)}, {_text(z)}]" for x, z in outline) + "]"


def _text(value: float) -> str:
    """A number to the millimetre, without zeros behind it."""
    return f"{round(value, 3) + 0.0:.10g}"
