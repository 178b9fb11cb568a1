"""Which room may import which, in both languages; each wall is tried by a violation."""

import itertools
import os
import re
import shutil
import subprocess
import sys
import tomllib
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
VIEWER = ROOT / "viewer/src"
FLOORS = [floor.split(" | ") for floor in PYPROJECT["tool"]["hullchange"]["viewer-rooms"]]
"""Rooms of the viewer, highest first; rooms on one floor do not know each other."""
SPECIFIER = re.compile(r"""(?:from|import)\s*\(?\s*['"]([^'"]+)['"]""")
LARGEST_ROOM, MOST_FILES = 4000, 25

LIBRARIES = {
    "hullchange.geometry.frame": ["fastapi", "numba", "openpyxl"],
    "hullchange.parts.part": ["shapely", "pypdfium2"],
    "hullchange.document.document": ["cadquery", "pygltflib"],
    "hullchange.present.gltf": ["trimesh", "ruamel.yaml"],
    "hullchange.shop.nest": ["spyrrow", "reportlab"],
    "hullchange_api.wire.working_copy": ["OCP", "manifold3d", "sqlalchemy", "filelock"],
}


def walls():
    """(module, what it must not import) of each layer contract: next door, and one floor up.

    Between colons the rooms of a floor may know each other.
    """
    contracts = PYPROJECT["tool"]["importlinter"]["contracts"]
    for contract in (c for c in contracts if "containers" in c):
        container = contract["containers"][0]
        above = []
        for layer in contract["layers"]:
            floor = [f"{container}.{room}" for room in re.split(r" [|:] ", layer)]
            following = floor if " : " in layer else (*floor[1:], floor[0])
            for room, beside in zip(floor, following, strict=True):
                yield room, [other for other in (beside, *above) if other != room]
            above = floor


def source_of(folder, module):
    """The file of a module, or the first file of a package."""
    path = folder / ("api" if "_api" in module else "model") / module.replace(".", "/")
    return path / "__init__.py" if path.is_dir() else path.with_suffix(".py")


def broken_contracts(folder, planted):
    """What import-linter says of a copy of the source with lines added, by module."""
    for top in ("model", "api"):
        shutil.copytree(ROOT / top, folder / top, ignore=shutil.ignore_patterns("web"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    sources = [str(folder / top) for top in ("model", "api")]
    for module, lines in planted.items():
        with source_of(folder, module).open("a", encoding="utf-8") as file:
            file.writelines(f"\n{line}" for line in lines)
    linted = subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache"],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sources), "COLUMNS": "400"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert linted.returncode == 1
    return linted.stdout


@pytest.mark.slow
@pytest.mark.parametrize("planted", [dict(walls()), LIBRARIES], ids=["rooms", "libraries"])
def test_a_planted_import_breaks_its_contract(tmp_path, planted):
    lines = {module: [f"import {n}" for n in names] for module, names in planted.items()}
    broken = broken_contracts(tmp_path, lines)
    for module, names in planted.items():
        for name in names:
            root = name if name.startswith("hullchange") else name.split(".")[0]
            assert f"{module} -> {root} (" in broken, f"{module} may import {name}"


CYCLES = {
    "hullchange.geometry": ("frame", "surface"),
    "hullchange_api.wire": ("problems", "working_copy"),
}


@pytest.mark.slow
def test_a_planted_cycle_breaks_its_contract(tmp_path):
    planted = {}
    for package, (one, other) in CYCLES.items():
        planted[f"{package}.{one}"] = [f"import {package}.{other}"]
        in_function = ["def late():", f"    import {package}.{one}"]
        planted[f"{package}.{other}"] = in_function
    broken = broken_contracts(tmp_path, planted)
    for package in CYCLES:
        assert f"No cycles are allowed in {package}." in broken


def test_every_package_stands_in_a_contract():
    packages = {
        ".".join(path.parent.relative_to(ROOT / top).parts)
        for top in ("model", "api")
        for path in (ROOT / top).rglob("__init__.py")
    }
    walled = {room for room, _ in walls()} | {"hullchange", "hullchange_api"}
    assert sorted(p for p in packages - walled if "migrations" not in p) == []


# The viewer


def room_of(path):
    """The room of a file of the viewer."""
    name = path.relative_to(VIEWER).as_posix()
    return next(room for floor in FLOORS for room in floor if f"{name}/".startswith(f"{room}/"))


def imports_of(path, text):
    """(specifier, file of the viewer or None where it is a library) of each import."""
    for specifier in SPECIFIER.findall(text):
        inside = specifier.startswith(".")
        yield specifier, (path.parent / specifier).resolve() if inside else None


def broken_walls(path, text):
    """What a file of the viewer imports and may not."""
    floor = {room: i for i, rooms in enumerate(FLOORS) for room in rooms}
    here = room_of(path)
    for specifier, target in imports_of(path, text):
        if target is None:
            if specifier.split("/")[0] == "three" and here != "scene":
                yield specifier
        elif VIEWER in target.parents and target.suffix != ".css":
            there = room_of(target)
            if there != here and floor[there] <= floor[here]:
                yield specifier


def asks(text):
    """Whether a file asks the server by itself."""
    return re.search(r"\b(fetch|EventSource|XMLHttpRequest|WebSocket|sendBeacon)\(", text)


SOURCES = sorted(p for end in ("ts", "tsx") for p in VIEWER.rglob(f"*.{end}"))
UNTRIED = [p for p in SOURCES if ".test." not in p.name]


def viewer_name(path):
    return path.relative_to(VIEWER).as_posix()


@pytest.mark.parametrize("path", UNTRIED, ids=viewer_name)
def test_a_file_of_the_viewer_keeps_to_the_walls(path):
    text = path.read_text(encoding="utf-8")
    assert list(broken_walls(path, text)) == []
    assert room_of(path) == "session" or not asks(text)


def planted():
    """(room, what it must not import) of every wall of the viewer."""
    for above, floor in itertools.pairwise([[], *FLOORS]):
        for room, beside in zip(floor, (*floor[1:], floor[0]), strict=True):
            for other in sorted({beside, *above} - {room}):
                yield room, other


@pytest.mark.parametrize(("room", "other"), list(planted()))
def test_a_planted_import_breaks_a_wall_of_the_viewer(room, other):
    def file_in(name):
        return VIEWER / name if name.endswith((".ts", ".tsx")) else VIEWER / name / "x.ts"

    up = os.path.relpath(file_in(other), file_in(room).parent)
    specifier = up if up.startswith(".") else f"./{up}"
    assert list(broken_walls(file_in(room), f"import '{specifier}';")) == [specifier]


def test_planted_libraries_and_requests_are_seen():
    page = VIEWER / "float/x.ts"
    assert list(broken_walls(page, "import { Mesh } from 'three';")) == ["three"]
    assert asks("await fetch('/api/refits')")


def test_the_viewer_imports_in_no_circle():
    graph = {
        path: {target for _, target in imports_of(path, path.read_text("utf-8")) if target}
        for path in UNTRIED
    }
    TopologicalSorter(graph).prepare()  # names the circle it finds


def rooms():
    """Every room of the house, and the two top packages."""
    model, api = ROOT / "model/hullchange", ROOT / "api/hullchange_api"
    for top in (model, api):
        yield from (p for p in (top, *top.iterdir()) if (p / "__init__.py").is_file())
    yield from (VIEWER / room for floor in FLOORS for room in floor if "." not in room)


def source_in(folder):
    """Files of a room; a hallway's rooms are not its own."""
    kinds = {".py", ".ts", ".tsx", ".css", ".yaml"}
    hallways = (ROOT / "model", ROOT / "api")
    inside = folder.iterdir() if folder.parent in hallways else folder.rglob("*")
    return [p for p in inside if p.suffix in kinds]


@pytest.mark.parametrize("room", list(rooms()), ids=lambda room: str(room.relative_to(ROOT)))
def test_a_room_is_small_enough_to_know(room):
    lines = sum(len(p.read_text(encoding="utf-8").splitlines()) for p in source_in(room))
    assert lines <= LARGEST_ROOM
    levels = {p.parent for p in source_in(room)}
    files = {level: sum(p.parent == level for p in source_in(room)) for level in levels}
    assert max(files.values(), default=0) <= MOST_FILES


# Its style sheets


SHEETS = sorted(VIEWER.rglob("*.css"))
COMMON = VIEWER / "shared/style"
"""What every page writes: here alone a selector may begin with an element."""


def class_names(path):
    """Every word in a string or template of a file, and so every class that it may write."""
    strings = re.findall(r"""'[^'\n]*'|"[^"\n]*"|`[^`]*`""", path.read_text(encoding="utf-8"))
    return {word for string in strings for word in re.findall(r"[A-Za-z][\w-]*", string)}


def classes_of(room):
    """Classes that a room may write itself."""
    written = (class_names(path) for path in UNTRIED if room_of(path) == room)
    return set().union(*written)


def selectors(text):
    """Every single selector of a style sheet."""
    plain = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    for prelude in re.findall(r"([^{};]+)\{", plain):
        if not prelude.strip().startswith("@"):
            yield from (one.strip() for one in re.split(r",(?![^(]*\))", prelude))


def strangers(path, text):
    """Selectors that do not begin in a room, or reach into one that it does not know."""
    here = room_of(path)
    below = FLOORS[next(i for i, floor in enumerate(FLOORS) if here in floor) + 1 :]
    own = classes_of(here)
    known = own.union(*(classes_of(room) for floor in below for room in floor))
    for selector in selectors(text):
        first = named_in(re.split(r"[\s>+~]", selector)[0])
        begins_here = any(is_written(name, own) for name in first)
        if not begins_here or not all(is_written(name, known) for name in named_in(selector)):
            yield selector


def named_in(selector):
    """Classes that a selector names."""
    return re.findall(r"\.([A-Za-z][\w-]*)", selector)


def is_written(name, words):
    """Whether a class is among words, or begins with one that a template completes."""
    return name in words or any(w.endswith("-") and name.startswith(w) for w in words)


@pytest.mark.parametrize(
    "path", [p for p in SHEETS if COMMON not in p.parents], ids=viewer_name
)
def test_a_style_sheet_stays_in_its_room(path):
    assert list(strangers(path, path.read_text(encoding="utf-8"))) == []
