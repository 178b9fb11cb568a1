"""Rules of the house that no linter has."""

import ast
import json
import re
import subprocess
import sys
from itertools import pairwise
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
    "px",
    "count",
)
UNIT_ELSEWHERE = {
    "count": "a count",
    "persons": "a count",
    "draws": "a count",
    "solids": "a count",
    "degrees_of_freedom": "a count",
    "swings": "a count",
    "figures": "a count",
    "yours": "a count",
    "all": "a count",
    "arrival": "a running number",
    "permeability": "a share",
    "blind_lengths": "boat lengths",
    "light": "a share",
    "gm_ratio": "a pure number",
    "gm_ratio_plus_minus": "a pure number",
    "gm_ratio_expected": "a pure number",
    "plus_minus": "in the unit beside it",
    "as_found": "a ratio, made in the units beside it",
    "refit": "a ratio, made in the units beside it",
    "edit": "a running number",
    "number": "a running number",
    "row": "a running number",
    "index": "a place in a row",
    "openings_under": "places in a list",
    "next_opening": "a place in a list",
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
    assert lines <= 400
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef)
    functions = (n for n in ast.walk(parsed(path)) if isinstance(n, kinds))
    assert {f.name: body_lines(f) for f in functions if body_lines(f) > 40} == {}


# one name for two things, and why
ROW = "a row of the database, written tables.X, and what crosses the edge of it"
TWICE = dict.fromkeys(("Comment", "Refit", "Remark", "Signature"), ROW)


def type_names(module):
    """Names of classes and of type aliases and variables of a module."""
    for node in ast.walk(module):
        if isinstance(node, ast.ClassDef):
            yield node.name
    for node in module.body:
        targets = getattr(node, "targets", [getattr(node, "target", None)])
        names = [target.id for target in targets if isinstance(target, ast.Name)]
        yield from (name for name in names if re.match(r"[A-Z][a-z]", name))


def test_a_class_or_type_alias_has_a_name_of_its_own():
    where = {}
    for path in (p for p in SOURCES if "migrations" not in p.parts):
        for name in set(type_names(parsed(path))):
            where.setdefault(name, []).append(named(path))
    double = {name: paths for name, paths in where.items() if len(paths) > 1}
    assert {name: paths for name, paths in double.items() if name not in TWICE} == {}
    assert sorted(TWICE.keys() - double.keys()) == []


DECLARED = re.compile(
    r"^(?:export )?(?:abstract )?(?:type|interface|class) (\w+)"
    r"|^export (?:async )?(?:function|const) (\w+)",
    re.MULTILINE,
)


def test_a_type_or_export_of_the_viewer_has_a_name_of_its_own():
    where = {}
    for path in (p for p in VIEWER if ".test." not in p.name):
        found = DECLARED.findall(path.read_text(encoding="utf-8"))
        for name in {a or b for a, b in found} - {"Props"}:
            where.setdefault(name, []).append(named(path))
    assert len(where) > 500
    assert {name: paths for name, paths in where.items() if len(paths) > 1} == {}


UNIT = re.compile(
    r"\[[^\]\s][^\]]*\]|%|\b(units?|fractions?|ratios?|shares?|counts?|percent|per cent"
    r"|coefficients?|probability|numbers? of|how many|prices?|standard deviations)\b",
    re.IGNORECASE,
)
SHAPE = re.compile(r"\((?:\.\.\.|[\w+\-* ]+),(?:\s*(?:\.\.\.|[\w+\-* ]+),?)*\)")
NAMES_ITS_UNIT = re.compile(rf"_(?:{'|'.join(UNITS)})$")


def section(docstring, title):
    """Entries of a section of a docstring by name, as ``Args`` has them."""
    found = re.search(rf"^{title}:\n((?:[ ]+.*\n?|\n)*)", docstring, re.MULTILINE)
    entries, name = {}, ""
    for line in (found[1] if found else "").splitlines():
        if begins := re.match(r"    (\w+): ?(.*)", line):
            name = begins[1]
            entries[name] = begins[2]
        elif name:
            entries[name] += " " + line.strip()
    return entries


def lacks(text, annotation, name=""):
    """What a text leaves out of a number or an array: its unit, its shape."""
    kind = ast.unparse(annotation) if annotation else ""
    if "Callable" in kind or not re.search(r"\b(float|FloatArray|ndarray)\b", kind):
        return []
    array = re.search(r"\b(FloatArray|ndarray)\b", kind)
    return [
        *(["unit"] if not UNIT.search(text) and not NAMES_ITS_UNIT.search(name) else []),
        *(["shape"] if array and not SHAPE.search(text) else []),
    ]


def undocumented(function, of_all):
    """Numbers that a function takes or gives back without saying their unit and shape."""
    docstring = ast.get_docstring(function) or ""
    about = re.split(r"\n(?:Args|Raises|Source):", docstring)[0] + of_all
    taken, back = section(docstring, "Args"), docstring.partition("Returns:")[2]
    given = function.args
    for one in (*given.posonlyargs, *given.args, *given.kwonlyargs):
        if missing := lacks(taken.get(one.arg, about) + of_all, one.annotation, one.arg):
            yield f"{function.name}({one.arg}): {missing}"
    if missing := lacks(about + back, function.returns, function.name):
        yield f"{function.name}: {missing}"


def undocumented_fields(of_class, about, of_all):
    """Numbers of a dataclass or a named tuple that say no unit or no shape."""
    words = [ast.unparse(word) for word in (*of_class.decorator_list, *of_class.bases)]
    if not any("dataclass" in word or word == "NamedTuple" for word in words):
        return
    listed = section(ast.get_docstring(of_class) or "", "Attributes")
    for node, after in pairwise((*of_class.body, ast.Pass())):
        name = getattr(getattr(node, "target", None), "id", "_")
        if isinstance(node, ast.AnnAssign) and not name.startswith("_"):
            below = after.value.value if isinstance(after, ast.Expr) else ""
            text = listed.get(name) or str(below) or about
            if missing := lacks(text + of_all, node.annotation, name):
                yield f"{of_class.name}.{name}: {missing}"


def numbers_without_unit(module):
    """What the public names of a module say no unit or no shape of."""
    functions = (ast.FunctionDef, ast.AsyncFunctionDef)
    for node in module.body:
        if getattr(node, "name", "_").startswith("_"):
            continue
        if isinstance(node, functions):
            yield from undocumented(node, "")
        if isinstance(node, ast.ClassDef):
            about = (ast.get_docstring(node) or "").split("\nAttributes:")[0]
            of_all = about if re.search(r"\b[Aa]ll .*\[", about) else ""
            yield from undocumented_fields(node, about, of_all)
            public = (m for m in node.body if isinstance(m, functions) and m.name[0] != "_")
            for method in public:
                yield from undocumented(method, of_all)


@pytest.mark.parametrize("path", SOURCES, ids=named)
def test_numbers_say_their_unit_and_arrays_their_shape(path):
    assert list(numbers_without_unit(parsed(path))) == []


@pytest.mark.parametrize("path", REFERENCES, ids=named)
def test_a_reference_says_its_source_and_how_it_was_seen(path):
    docstring = ast.get_docstring(parsed(path)) or ""
    assert [word for word in ("Source:", "Seen:") if word not in docstring] == []


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


@pytest.mark.parametrize("path", SOURCES, ids=named)
def test_what_is_kept_depends_on_what_is_handed_over_alone(path):
    """The one cache sits on plain functions of a module, kept properties on frozen values."""
    module = parsed(path)
    tools = (n for n in ast.walk(module) if getattr(n, "module", None) == "functools")
    names = {alias.name for node in tools for alias in node.names}
    # the kernel is made from its own sources alone: a test of its machine code asks for that
    is_kernel = path.parent.name == "kernel"
    assert is_kernel or not names & {"cache", "lru_cache"}, "there is one: hullchange.cache"
    assert list(unsafely_kept(module)) == []


MAY_CHANGE = re.compile(r"\W?(?:\w+\.)?(?:dict|defaultdict|ordereddict|list|set)\b", re.I)


def unsafely_kept(module):
    """What is kept in a module and may depend on more than it is handed, or be changed."""
    plain = {id(node) for node in module.body}
    for node in ast.walk(module):
        of_function = isinstance(node, ast.FunctionDef) and decorated(node, "cached")
        if of_function and id(node) not in plain:
            yield f"{node.name} may see more than it is handed"
        of_class = node.body if isinstance(node, ast.ClassDef) else []
        for kept in (one for one in of_class if decorated(one, "cached_property")):
            if not decorated(node, r"dataclass\(frozen=True.*\)"):
                yield f"{node.name} may change behind {kept.name}"
            if MAY_CHANGE.match(ast.unparse(kept.returns)):
                yield f"{node.name}.{kept.name} may be changed"


FROZEN = "@dataclass(frozen=True)\nclass Boat:\n    "


@pytest.mark.parametrize(
    "planted",
    [
        "class Boat:\n    @cached_property\n    def levers(self) -> float: ...",
        FROZEN + "@cached_property\n    def known(self) -> dict[str, float]: ...",
        FROZEN + "@cached_property\n    def known(self) -> 'list[float]': ...",
        FROZEN + "@cached_property\n    def known(self) -> set[str]: ...",
        FROZEN + "@cached(8)\n    def levers(self) -> float: ...",
        "def levers():\n    @cached(8)\n    def at(heel: float) -> float: ...",
    ],
)
def test_a_planted_answer_is_unsafely_kept(planted):
    assert len(list(unsafely_kept(ast.parse(planted)))) == 1


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


# Files of the viewer


STYLED = ROOT / "viewer/src"
MEASURED = sorted(
    p
    for p in STYLED.rglob("*")
    if p.suffix in (".ts", ".tsx", ".css") and p.name != "contract.ts"
)


@pytest.mark.parametrize("path", MEASURED, ids=named)
def test_a_file_of_the_viewer_is_short(path):
    most = 400 if ".test." in path.name or "testing" in path.parts else 300
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= most


TOKENS = STYLED / "shared/style/tokens.css"
SHEETS = sorted(p for p in STYLED.rglob("*.css") if p != TOKENS)
BREAKPOINTS = {"760px", "1000px", "1180px"}
LOWEST = "32rem"  # a window lower than this keeps nothing in sight beside its curve
SPACED = re.compile(r"(?:padding|margin|gap|row-gap|column-gap)(?:-[a-z-]+)?")
SPACE = re.compile(r"0|auto|inherit|-?[12]px|100%|-1|\*|calc|var\(--(?:space|printed)-\d+\)")
COLOUR = re.compile(r"#[0-9a-f]{3,8}\b|\b(?:rgba?|hsla?|oklch|oklab|lab|lch|color)\(", re.I)
LINED = re.compile(r"stroke-width|border(?:-[a-z]+)*|outline|transition|animation")
BARE = re.compile(r"^(?!0$)[\d.]+$|(?<![\w.-])[\d.]*[1-9]\d*(?:px|ms|s)\b")
NAMED_COLOURS = re.compile(r"(?<![\w-])(?:white|black|gr[ae]y|red|green|blue|silver)(?![\w-])")


def plain(sheet):
    """A style sheet without comments, and without the size of a printed page."""
    text = re.sub(r"/\*.*?\*/", "", sheet.read_text(encoding="utf-8"), flags=re.DOTALL)
    return re.sub(r"@page\s*\{[^}]*\}", "", text)


def declarations(sheet):
    """(property, value) of every declaration."""
    return re.findall(r"([\w-]+)\s*:\s*([^;{}]+);", plain(sheet))


def not_a_token(name, value):
    """Whether a value stands there that ought to be one of the tokens."""
    if name == "font-size":
        return not re.fullmatch(r"var\(--text-\w+\)|inherit", value)
    if name == "font":
        return value != "inherit"
    if SPACED.fullmatch(name):
        return SPACE.sub("", value).strip(" ()") != ""
    if name.startswith("--"):
        return not name.startswith("--text-")
    if LINED.fullmatch(name) and BARE.search(value):
        return True
    return bool(COLOUR.search(value) or NAMED_COLOURS.search(value))


@pytest.mark.parametrize("sheet", SHEETS, ids=named)
def test_sizes_colours_and_spaces_are_tokens(sheet):
    assert [pair for pair in declarations(sheet) if not_a_token(*pair)] == []
    media = " ".join(re.findall(r"@media([^{]*)\{", plain(sheet)))
    assert set(re.findall(r"\d+\w+", media)) <= {*BREAKPOINTS, LOWEST}


@pytest.mark.parametrize(
    "pair",
    [
        ("font-size", "13px"),
        ("font", "12px/1 serif"),
        ("margin", "0 3px"),
        ("gap", "0.3rem"),
        ("color", "#fff"),
        ("border", "1px solid rgb(0 0 0)"),
        ("fill", "white"),
        ("stroke-width", "1.4"),
        ("border-left", "2px dotted var(--ink)"),
        ("transition", "opacity 0.2s"),
    ],
)
def test_a_planted_value_is_no_token(pair):
    assert not_a_token(*pair)


def test_the_scale_of_type_has_seven_sizes():
    screen, printed = TOKENS.read_text(encoding="utf-8").split('[data-paper="print"]')
    sizes = set(re.findall(r"--text-\w+(?=:)", screen))
    assert len(sizes) <= 7
    assert set(re.findall(r"--text-\w+(?=:)", printed)) <= sizes
