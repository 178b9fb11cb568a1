"""Ids and units as they read in a sentence."""

import re

SURVEY = "survey-state"
"""Condition that stands for the boat as she was surveyed."""
AS_SURVEYED = "as surveyed"
SIGNS = {
    "deg": "°",
    "m2": " m²",
    "m3": " m³",
    "cm2": " cm²",
    "in2": " in²",
    "kg/m2": " kg/m²",
    "kg/m3": " kg/m³",
    "kg m": " kg·m",
    "kg m/cm": " kg·m/cm",
    "m deg": " m·deg",
    "m rad": " m·rad",
    "%": " %",
    "": "",
}


def id_in_words(name: str) -> str:
    """The last key of an id or path, as it reads in a sentence.

    >>> id_in_words("changes.electric-drive.adds.battery-2"), id_in_words("side_height_m")
    ('battery 2', 'side height m')
    >>> id_in_words("flat-bar-80x8")
    'flat bar 80 × 8'
    """
    words = name.rsplit(".", 1)[-1].replace("-", " ").replace("_", " ")
    return re.sub(r"(?<=\d) ?x ?(?=\d)", " × ", words)


GROUPS = re.compile(r"changes|parts|adds|removes|moves|existing")
UNIT_AT_END = re.compile(r"_(mm2?|cm2|m[23]?|kg|deg|kg_m3|l)$")


def path_in_words(path: str) -> str:
    """A dotted path of the document in words, as it reads in a sentence.

    >>> path_in_words("changes.electric-drive.adds.battery.mass_kg")
    'electric drive battery mass'
    >>> path_in_words("survey.vcg.z_m")
    'survey vcg z'
    """
    steps = [step for step in path.split(".") if not GROUPS.fullmatch(step)]
    return " ".join(id_in_words(UNIT_AT_END.sub("", step)) for step in steps or [path])


def plate_in_words(part: str, plate: str) -> str:
    """A plate and the part it belongs to, as they read on paper.

    >>> plate_in_words("fore-house", "side-port")
    'fore house side port'
    """
    return f"{id_in_words(part)} {id_in_words(plate)}"


def condition_in_words(condition: str) -> str:
    """A condition as it reads in a table.

    >>> condition_in_words("cockpit-flooded"), condition_in_words("survey-state")
    ('cockpit flooded', 'as surveyed')
    """
    return AS_SURVEYED if condition == SURVEY else id_in_words(condition)


def in_condition(condition: str) -> str:
    """A condition as it reads in a sentence.

    >>> in_condition("half-tanks"), in_condition("survey-state")
    ('in condition half tanks', 'as surveyed')
    """
    words = condition_in_words(condition)
    return words if condition == SURVEY else f"in condition {words}"


def gm_in_words(gm: float) -> str:
    """GM [m] with its sign, to the centimetre, finer next to nothing, where its sign decides.

    >>> gm_in_words(0.996), gm_in_words(-0.003)
    ('+1.00', '-0.003')
    """
    return f"{gm:+.{2 if abs(gm) >= 0.005 else 3}f}"


def unit_sign(unit: str) -> str:
    """What stands behind a figure.

    >>> unit_sign("deg"), unit_sign("kg"), unit_sign("m rad")
    ('°', ' kg', ' m·rad')
    """
    return SIGNS.get(unit, f" {unit}")
