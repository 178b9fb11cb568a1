"""Every leaf of a document, and what may come to stand there."""

import json
import re
from functools import partial

from other_refits import other_refit
from refits import SALTMARROW, with_all

from hullchange.assess.assessment import assessment
from hullchange.assess.check import base_design_findings, check_document
from hullchange.boat.boat import boat_of
from hullchange.document.document import Document
from hullchange.document.lines_file import with_lines_read
from hullchange.document.reading import document_of, read_document
from hullchange.document.yaml_text import parsed
from hullchange.errors import DocumentError, ModelError
from hullchange.present.tables import tables

MISSING = object()
NAMED = (
    *("existing", "changes", "tanks", "voids", "openings", "conditions", "targets", "options"),
    *("weights",),
)


def leaves(plain, above=()):
    """(steps, value) of everything that stands in a document, groups and lists too."""
    inside = plain.items() if isinstance(plain, dict) else enumerate(plain)
    for step, value in inside:
        steps = (*above, step)
        yield steps, value
        if isinstance(value, dict | list):
            yield from leaves(value, steps)


def with_leaf(plain, steps, value):
    """The document with another value there, or with nothing where it is `MISSING`."""
    step, *rest = steps
    held = dict(plain) if isinstance(plain, dict) else list(plain)
    if rest:
        held[step] = with_leaf(held[step], rest, value)
    elif value is MISSING:
        del held[step]
    else:
        held[step] = value
    return held


def dotted(steps):
    """Steps as a path."""
    return ".".join(map(str, steps))


def renamed(plain, name, other):
    """The document with a name replaced wherever it stands, in keys, paths and texts."""
    word = re.compile(rf"(?<![a-z0-9-]){re.escape(name)}(?![a-z0-9-])")
    return json.loads(word.sub(other, json.dumps(plain)))


def names_in(plain):
    """Every name that the owner chose: of parts, lines, appendages, marks and the rest."""
    found = [*plain.get("hull", {}).get("lines", {}), *plain["hull"].get("appendages", {})]
    found += [*plain["hull"].get("plating", {})]
    found += [*plain["survey"]["marks"], *plain["survey"].get("aboard", {})]
    for group in NAMED:
        for name, inside in plain.get(group, {}).items():
            found.append(name)
            for below in ("removes", "parts", "adds", "moves", "loads"):
                given = inside.get(below) if isinstance(inside, dict) else None
                found += given if isinstance(given, dict) else []
    return list(dict.fromkeys(found))


def a_little_other(value):
    """Values that may well stand there instead: near numbers, other words of the grammar."""
    others = []
    match value:
        case bool():
            others = [not value]
        case int():
            others = [value + 1]
        case float():
            others = [value * 1.004 + (0.0011 if value >= 0 else -0.0011)]
        case str():
            others = [word for words in _WORDS if value in words for word in words]
        case list():
            others = [value[:-1], value[1:]]
        case dict():
            others = [dict(list(value.items())[1:]), dict(list(value.items())[::-1])]
    return [other for other in others if json.dumps(other) != json.dumps(value)]


_WORDS = (
    ("fair", "chine", "sheer"),
    ("ellipse", "square"),
    ("both", "one"),
    ("salt", "fresh", "diesel"),
    ("none", "weathertight", "watertight"),
    ("as_found", "refit"),
    ("in", "out"),
    ("weighed", "drawn", "guessed", "catalogue", "inclining"),
    ("A", "B", "C", "D"),
    ("proposed", "agreed", "cut", "fitted"),
    ("stick", "flux-cored", "solid-wire", "tig"),
)


NUMBERS = (
    *(-1, 0, 0.0, -0.0, 1e-12, -1e-12, 1e12, -1e12, 1e308, 5e-324, float("nan"), float("inf")),
    *(float("-inf"), 10**400, -(10**400), 2**63, 2**1024),
)
TEXTS = (
    *("", " ", ".", "..", "...", "[", "[0]", "a.b", "/", "hull", "\x00", "\x1b[31m", "é"),
    *(
        "Ω" * 3,
        "名前",
        "\u202e",
        "x" * 5000,
        "-" * 61,
        "1",
        "1e400",
        "nan",
        "null",
        "=1+1",
        "{}",
    ),
    *("%s%n", "\n", "<b>", "9999-12-31T23:59:59Z", "changes", "existing.", "options"),
)


def broken_values(value):
    """(what, value) of all that may come to stand at a leaf, and mostly may not."""
    yield "missing", MISSING
    yield "empty", None
    yield "true", True
    yield "a list", []
    yield "a group", {}
    yield "a list in a list", [[[]]]
    yield "a group of odd keys", {"": 1, "a.b": {}, "[0]": [], "x": None}
    yield from ((f"the number {str(n)[:9]}", n) for n in NUMBERS)
    yield from ((f"the text {t[:9]!r}", t) for t in TEXTS)
    if isinstance(value, bool):
        return
    if isinstance(value, int | float) and abs(value) < 1e300:
        for times in (-1, 0.001, 0.01, 0.1, 0.5, 2, 10, 100, 1000):
            yield f"times {times}", value * times
    if isinstance(value, list) and value:
        yield "shorter", value[:-1]
        yield "longer", [*value, value[-1]]
        yield "backwards", value[::-1]
        yield "one alone", value[:1]
        yield "twice", [*value, *value]
        yield "alike", [value[0]] * len(value)
        yield "a hundredfold", value * 100
    if isinstance(value, dict) and value:
        yield "without its first", dict(list(value.items())[1:])
        yield "without its last", dict(list(value.items())[:-1])
        yield "with one more", {**value, "more": next(iter(value.values()))}


def every_broken(plain, draw):
    """(what, how to make it) of a document with each leaf put wrong in each way.

    In a drawn order, in which every kind of leaf comes once before its like.
    """
    seen, first, then = set(), [], []
    every = [
        (steps, *wrong) for steps, value in leaves(plain) for wrong in broken_values(value)
    ]
    draw.shuffle(every)
    for steps, what, other in every:
        kind = (tuple("n" if isinstance(step, int) else step for step in steps), what)
        row = (f"{dotted(steps)}: {what}", partial(with_leaf, plain, steps, other))
        (then if kind in seen else first).append(row)
        seen.add(kind)
    return [*first, *then]


def outcome(plain, folder=None, levers=map):
    """How a document ends in `check` and `assess --quick`: a refusal's code, or answered.

    Args:
        plain: the document.
        folder: where it is written and read again; as plain values where none is given,
            which is ten times as fast and leaves options out.
        levers: as `assessment` takes them.
    """
    try:
        document, findings = _examined(plain, folder)
        answer = assessment(boat_of(document), levers=levers)
    except DocumentError as error:
        "".join(f"{fault.place}: {fault.sentence}" for fault in error.faults).encode()
        raw = [fault for fault in error.faults if "_" in fault.code]
        assert not raw, f"in a library's words: {raw}"
        return error.faults[0].code
    except ModelError as error:
        str(error).encode()
        return error.code
    every_finding = [*findings, *answer.findings]
    "".join(finding.sentence for finding in every_finding).encode()
    tables(answer).encode()
    answer.model_dump_json()
    return "answered"


def _examined(plain, folder):
    if folder is None:
        document = document_of(plain, SALTMARROW.parent)
        return document, base_design_findings(document)
    file = folder / "any.yaml"
    text = json.dumps(plain, ensure_ascii=False)
    file.write_text(text.replace("NaN", ".nan").replace("Infinity", ".inf"), encoding="utf-8")
    return read_document(file).document, check_document(file)


def furnished_document():
    """A boat with every key of the grammar that neither the demo nor the workboat has."""
    house, vent = "changes.shelter.parts.wheelhouse", "openings.vent-1"
    rises = {"path": f"{house}.side_height_m", "from_m": 0.3}
    reach = {"x": [4.5, 5.5], "y": [-0.3, 0.3], "z": [-0.4, 0.2]}
    rolls = {"swings": 10, "times_s": [30.0, 30.4], "note": "at anchor"}
    return with_all(
        other_refit(38).plain,
        {
            "survey.water": {"density_kg_m3": 1004.0},
            "survey.marks.bow.plus_minus_m": 0.004,
            "survey.vcg": None,
            "survey.inclining": {
                "readings": [
                    {"moment_kgm": moment, "heel_deg": round(moment / 100.0, 2)}
                    for moment in (-160, -80, 0, 80, 160)
                ],
                "plus_minus_deg": 0.05,
                "plus_minus_moment_percent": 1.0,
            },
            "hull.lines.chine-1.knuckles_at_x_m": [4.727],
            "weights.ballast-keel.plus_minus_kg": 40.0,
            "weights.ballast-keel.plus_minus_m": [0.05, 0.02, 0.05],
            f"{house}.door": {
                "sill_z_m": 1.05,
                "width_m": 0.4,
                "corner_radius_m": 0.03,
                "head_below_roof_m": 0.05,
            },
            f"{house}.opening": {
                **{f"side_{side}_m": 2.6 for side in ("port", "starboard")},
                **{f"diagonal_forward_{side}_m": 3.206 for side in ("port", "starboard")},
                **{"across_forward_m": 1.6, "across_aft_m": 2.2, "sheer_mm": 4.0},
                **{"camber_forward_mm": 30.0, "camber_aft_mm": 40.0},
            },
            "changes.new-plating.parts.plating.cutouts_m": [
                [[4.65, 0.3, -0.15], [4.75, 0.3, -0.15], [4.75, 0.3, -0.08]]
            ],
            "changes.new-plating.parts.plating.scallop_corners": [1],
            "changes.drive.adds.motor.rises_with": rises,
            "changes.drive.adds.motor.may_lie_m": reach,
            "changes.shifted.moves.chain.may_lie_m": {"y": [-0.3, 0.3], "z": [-0.5, 0.5]},
            "conditions.river.water": {"density_kg_m3": 999.0},
            "conditions.river.boat": "refit",
            "conditions.cruising.loads.crew.plus_minus_m": 0.2,
            f"{vent}.boat": "refit",
            f"{vent}.progressive": True,
            f"{vent}.tank_air_pipe": True,
            "targets.level": {"result": "heel_deg", "condition": "home", "at_most": 2.0},
            "targets.trim": {"result": "trim_mm", "condition": "home", "at_most_mm": 90},
            "targets.sunk": {
                **{"result": "sinkage_mm", "condition": "home", "between_mm": [-60, 60]},
                "boat": "as_found",
            },
            "voids.bilge": {
                "within": "hull",
                "x_m": [3.0, 5.0],
                "y_m": [-0.3, 0.3],
                "z_m": [-0.55, -0.3],
                "fill": {"material": "lead", "density_kg_m3": 9000.0},
            },
            "trials.rolls.after": rolls,
            "cutting.roll_mm": 610.0,
            "cutting.layers": {"CUT": "OUTER"},
        },
    )


def sound_document():
    """Parts on parts, pairs, rooms in the keel, compartments, what checks the lines."""
    folder = SALTMARROW.parents[1] / "tests/wrong"
    text = (folder / "sound-with-all-kinds-of-parts.yaml").read_text(encoding="utf-8")
    return with_lines_read(parsed(text).document(), folder)


def keys_of_grammar(schema, path=()):
    """Every path a document may have, `*` for a name and `#` for a number in a list."""
    while "$ref" in schema:
        schema = _DEFINED[schema["$ref"].rsplit("/", 1)[-1]]
    for one in (*schema.get("anyOf", ()), *schema.get("oneOf", ())):
        yield from keys_of_grammar(one, path)
    for key, one in schema.get("properties", {}).items():
        yield (*path, key)
        yield from keys_of_grammar(one, (*path, key))
    inside = {"*": [schema.get("additionalProperties")], "#": [schema.get("items")]}
    inside["*"] += schema.get("patternProperties", {}).values()
    inside["#"] += schema.get("prefixItems", ())
    for step, kinds in inside.items():
        for one in kinds:
            if isinstance(one, dict):
                yield from keys_of_grammar(one, (*path, step))


def holds(plain, steps):
    """Whether a document has something at a path of the grammar."""
    if not steps:
        return True
    step, *rest = steps
    if step == "#":
        return isinstance(plain, list) and any(holds(one, rest) for one in plain)
    if not isinstance(plain, dict):
        return False
    if step == "*":
        return any(holds(one, rest) for one in plain.values())
    return step in plain and holds(plain[step], rest)


GRAMMAR = Document.model_json_schema(by_alias=True)
_DEFINED = GRAMMAR["$defs"]
