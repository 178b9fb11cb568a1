"""Rules of the house that no linter has."""

import ast
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from hullchange.document.document import Document

ROOT = Path(__file__).parents[1]
SOURCES = sorted(p for top in ("model", "api") for p in (ROOT / top).rglob("*.py"))
REFERENCES = sorted((ROOT / "tests/reference").glob("test_*.py"))
VIEWER = sorted(p for end in ("ts", "tsx") for p in (ROOT / "viewer/src").rglob(f"*.{end}"))

LENGTHS = ("m", "mm", "m2", "cm2", "m3")
MASSES = ("kg", "kg_m3", "kgm", "kg_per_cm", "kgm_per_cm")
UNITS = (
    *LENGTHS,
    *MASSES,
    "deg",
    "s",
    "rad",
    "percent",
    "l",
    "c",
    "kwh",
    "coefficient",
    "bytes",
    "count",
)
UNIT_ELSEWHERE = {
    "count": "a count",
    "persons": "a count",
    "draws": "a count",
    "solids": "a count",
    "degrees_of_freedom": "a count",
    "swings": "a count",
    "arrival": "a running number",
    "gm_ratio": "a pure number",
    "gm_ratio_plus_minus": "a pure number",
    "gm_ratio_expected": "a pure number",
    "plus_minus": "in the unit beside it",
    "as_found": "a ratio, made in the units beside it",
    "refit": "a ratio, made in the units beside it",
    "edit": "a running number",
    "number": "a running number",
    "revision": "a running number",
    "revisions": "running numbers",
    "scallop_corners": "running numbers",
    "format": "a running number",
    "step": "in the unit beside it",
    "status": "as HTTP says",
    "chi_square": "a pure number",
    "margin_sd": "in standard deviations",
    "probability": "a pure number",
    "taken_by_floors": "a fraction of one",
    "price": "in the owner's currency",
    "x": "the name of the place or box carries the unit",
    "y": "the name of the place or box carries the unit",
    "z": "the name of the place or box carries the unit",
    "port": "the name of the pair carries the unit",
    "starboard": "the name of the pair carries the unit",
    "between": "the result's path carries the unit",
    "at_least": "the result's path carries the unit",
    "at_most": "the result's path carries the unit",
    "value": "its unit stands beside it",
    "limit": "its unit stands beside it",
    "area_under_gz": "the names inside carry the unit",
    "kg_per_cm": "it is its unit",
}
# which argument of these is the code
REFUSERS = {"ModelError": 0, "Fault": 0, "PydanticCustomError": 0, "_refused": 0, "_at": 1}


# compiled loops stay in one file: kept machine code does not notice that another has changed
LONGER = {"model/hullchange/floating/descent.py": 620}


def parsed(path):
    return ast.parse(path.read_text(encoding="utf-8"))


def named(path):
    return str(path.relative_to(ROOT))


def tracked():
    """The files that are in the repository, or would be."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    paths = (ROOT / line for line in listed.stdout.splitlines())
    return [path for path in paths if path.is_file()]


def body_lines(function):
    """Lines of a function without its docstring."""
    total = function.end_lineno - function.lineno + 1
    if ast.get_docstring(function) is None:
        return total
    return total - (function.body[0].end_lineno - function.body[0].lineno + 1)


@pytest.mark.parametrize("path", SOURCES, ids=named)
def test_module_and_functions_are_short(path):
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= LONGER.get(named(path), 400)
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef)
    functions = (n for n in ast.walk(parsed(path)) if isinstance(n, kinds))
    assert {f.name: body_lines(f) for f in functions if body_lines(f) > 40} == {}


@pytest.mark.parametrize("path", REFERENCES, ids=named)
def test_a_reference_says_its_source_and_how_it_was_seen(path):
    said = ast.get_docstring(parsed(path)) or ""
    assert [word for word in ("Source:", "Seen:") if word not in said] == []


def test_tests_and_examples_are_no_packages():
    # a dependency of the CAD kernel installs a top-level `tests`
    assert [*ROOT.glob("tests/**/__init__.py"), *ROOT.glob("examples/**/__init__.py")] == []


def schemas():
    """Every class whose numbers cross an edge."""
    contract = json.loads((ROOT / "api/openapi.json").read_text(encoding="utf-8"))
    document = Document.model_json_schema(ref_template="#/components/schemas/{model}")
    parts = document.pop("$defs")
    return {"Document": document} | parts | contract["components"]["schemas"]


def is_number(schema, known):
    if "$ref" in schema:
        target = known[schema["$ref"].rsplit("/", 1)[-1]]
        return target.get("type") != "object" and is_number(target, known)
    inside = [s for key in ("anyOf", "oneOf", "prefixItems") for s in schema.get(key, ())]
    inside += [
        schema[k] for k in ("items", "additionalProperties") if isinstance(schema.get(k), dict)
    ]
    plain = schema.get("type") in ("number", "integer")
    return plain or any(is_number(s, known) for s in inside)


def test_every_number_that_crosses_an_edge_names_its_unit():
    known = schemas()
    fields = {
        (owner, name)
        for owner, schema in known.items()
        for name, field in schema.get("properties", {}).items()
        if is_number(field, known)
    }
    assert len(fields) > 100
    bare = {f for f in fields if not f[1].endswith(tuple(f"_{unit}" for unit in UNITS))}
    assert sorted(f for f in bare if f[1] not in UNIT_ELSEWHERE) == []
    assert sorted(UNIT_ELSEWHERE.keys() - {name for _, name in bare}) == []


def said_codes(node):
    """The codes a piece of source names: where it refuses, or as ``code = ...``."""
    if isinstance(node, ast.Call) and getattr(node.func, "id", None) in REFUSERS:
        at = REFUSERS[node.func.id]
        return node.args[at : at + 1]
    if isinstance(node, ast.Assign) and isinstance(node.value, ast.Tuple | ast.Constant):
        values = getattr(node.value, "elts", [node.value])
        targets = getattr(node.targets[0], "elts", node.targets)
        pairs = zip(targets, values, strict=False)
        return [value for target, value in pairs if getattr(target, "id", None) == "code"]
    return []


def refusal_codes():
    nodes = (node for path in SOURCES for node in ast.walk(parsed(path)))
    said = (word for node in nodes for word in said_codes(node))
    return {word.value for word in said if isinstance(word, ast.Constant)}


def test_every_refusal_code_has_one_row_in_the_table():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.split("## Refusals by code")[1].split("\n## ")[0]
    rows = re.findall(r"^\| `([a-z0-9-]+)` \|", table, re.MULTILINE)
    assert sorted(rows) == sorted(refusal_codes())


@pytest.mark.parametrize("path", SOURCES, ids=named)
def test_what_is_kept_depends_on_what_is_handed_over_alone(path):
    """The one cache sits on plain functions of a module, kept properties on frozen values."""
    module = ast.parse(path.read_text(encoding="utf-8"))
    tools = (n for n in ast.walk(module) if getattr(n, "module", None) == "functools")
    names = {alias.name for node in tools for alias in node.names}
    assert not names & {"cache", "lru_cache"}, "there is one cache: hullchange.cache"
    plain = {id(node) for node in module.body}
    for node in ast.walk(module):
        if isinstance(node, ast.FunctionDef) and decorated(node, "cached"):
            assert id(node) in plain, f"{node.name} may see more than it is handed"
        if isinstance(node, ast.ClassDef) and not decorated(
            node, r"dataclass\(frozen=True.*\)"
        ):
            kept = [one.name for one in node.body if decorated(one, "cached_property")]
            assert kept == [], f"{node.name} may change behind {kept}"


def decorated(node, by):
    """Whether a decorator reads like that, whatever it is called with."""
    words = [ast.unparse(one) for one in getattr(node, "decorator_list", ())]
    return any(re.fullmatch(rf"({by})(\(.*\))?", word) for word in words)


def test_the_locks_name_versions_and_no_address():
    package_lock = (ROOT / "viewer/package-lock.json").read_text(encoding="utf-8")
    assert '"resolved"' not in package_lock
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    assert [line for line in lines if not re.fullmatch(r"[\w.-]+==[\w.]+", line)] == []


def test_no_path_of_one_machine_is_in_the_files():
    own = re.compile(rb"(?<![\w.}])/(?:work|tmp|root|home|Users)/")
    assert [named(path) for path in tracked() if own.search(path.read_bytes())] == []


def test_reading_the_help_loads_no_heavy_library():
    heavy = {"cadquery", "trimesh", "shapely", "scipy", "numba", "numpy", "fastapi", "ruamel"}
    question = (
        f"import sys, hullchange_api.command_line.main; print(*({heavy!r} & set(sys.modules)))"
    )
    asked = [sys.executable, "-c", question]
    assert subprocess.run(asked, capture_output=True, text=True, check=True).stdout == "\n"
