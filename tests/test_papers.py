"""The papers say what is there: generated files are fresh, and every file they name exists."""

import importlib.util
import re
from pathlib import Path

import pytest

from hullchange_api.command_line.main import COMMANDS

ROOT = Path(__file__).parents[1]
SOURCE_ROOTS = (
    ROOT,
    ROOT / "model/hullchange",
    ROOT / "api/hullchange_api",
    ROOT / "viewer/src",
)
PAPERS = [ROOT / "README.md", ROOT / "DEVELOPERS.md"]
PAPERS += sorted(
    p for top in ("model", "api", "viewer/src") for p in (ROOT / top).rglob("*.md")
)
PAPERS += sorted((ROOT / "tools").glob("*.md"))
PATH = re.compile(r"[\w*.-]+(/[\w*.-]+)+/?|[\w*-]+\.(py|ts|tsx|md|svg|css|toml|json|yaml|csv)")
LINK = re.compile(r"\]\(([^)]+)\)")


def tool(name):
    spec = importlib.util.spec_from_file_location(name, ROOT / "tools" / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


floors, refusals = tool("floors"), tool("refusals")


def named(path):
    return path.relative_to(ROOT).as_posix()


def paths_in(text):
    """What a paper names in backticks or links that has the form of a path."""
    marked = re.findall(r"`([^`\s]+)`", text) + re.findall(r"`(\S+\.py) [A-Z_ ]+`", text)
    return {word for word in marked if PATH.fullmatch(word)} | set(LINK.findall(text))


def exists(word, paper):
    # a pattern counts where it names something
    return any(next(top.glob(word.strip("/")), None) for top in (paper.parent, *SOURCE_ROOTS))


def test_a_path_that_is_not_there_is_seen():
    text = (
        "See `hull/gone.py`, `tools/floors.py`, [this](gone.svg) and `tests/fuzz/gone.py SEED`."
    )
    missing = {word for word in paths_in(text) if not exists(word, ROOT / "README.md")}
    assert missing == {"hull/gone.py", "gone.svg", "tests/fuzz/gone.py"}


@pytest.mark.parametrize("paper", PAPERS, ids=named)
def test_every_path_a_paper_names_exists(paper):
    words = paths_in(paper.read_text(encoding="utf-8"))
    assert sorted(word for word in words if not exists(word, paper)) == []


def names_in(text):
    """What a paper names in backticks that is no path: functions, classes, keys, codes."""
    return set(re.findall(r"`([A-Za-z_][\w.-]*)(?:\([^`]*\))?`", text))


def test_every_name_in_backticks_is_in_the_source():
    tops = ("model", "api", "viewer/src", "tests", "tools", "examples")
    kinds = {".py", ".ts", ".tsx", ".yaml", ".toml", ""}
    files = [p for top in tops for p in (ROOT / top).rglob("*") if p.suffix in kinds]
    files += [ROOT / "pyproject.toml", ROOT / "Makefile"]
    text = "\n".join(path.read_text(encoding="utf-8") for path in files if path.is_file())
    known = {"", *re.findall(r"[\w-]+", text)}
    missing = {
        (name, named(paper))
        for paper in PAPERS
        if paper.name in ("README.md", "DEVELOPERS.md", "decisions.md")
        for name in names_in(paper.read_text(encoding="utf-8"))
        if not exists(name, paper) and not set(name.split(".")) <= known
    }
    assert missing == set()


def test_a_name_that_is_not_there_is_seen():
    assert names_in("See `Boat.unchanged`, `typical(low, high)` and `a b`.") == {
        "Boat.unchanged",
        "typical",
    }


@pytest.mark.parametrize("home", refusals.HOMES, ids=named)
def test_the_table_of_refusals_is_what_the_source_says(home):
    assert (home / refusals.TABLE).read_text(encoding="utf-8") == refusals.table(home)


def test_a_planted_refusal_is_found_with_its_sentence():
    source = """
LATER = "It comes later."
PLACES = (("here", "from-a-table", "It is here."),)
def _at(wrong, code, sentence, below="") -> Fault:
    return Fault(code, below, sentence)
def refused(name, wrong):
    if wrong:
        sentence = f"There is no {name} here: " "choose another."
        raise ModelError("by-name", sentence)
    sentence = LATER if name else "It is empty."
    yield Fault("by-constant", "place", sentence)
    yield _at(wrong, "by-argument", "It is wrong.")
    yield Problem(title="Not here", status=404, code="by-keyword")
    raise PydanticCustomError("by-class", "lies above {high}", {"high": 1})
def picked(word):
    _, code, sentence = next(one for one in PLACES if one[0] == word)
    raise ModelError("elsewhere", word.sentence)
"""
    assert set(refusals.refusals(source)) == {
        ("by-name", "There is no … here: choose another."),
        ("by-constant", "It comes later."),
        ("by-constant", "It is empty."),
        ("by-argument", "It is wrong."),
        ("by-class", "… lies above …."),
        ("by-keyword", "Not here"),
        ("from-a-table", "It is here."),
        ("elsewhere", ""),
    }


def test_the_picture_of_the_floors_is_what_the_contracts_say():
    assert floors.PICTURE.read_text(encoding="utf-8") == floors.picture()


def test_every_room_has_one_sentence_in_the_table():
    paper = floors.PAPER.read_text(encoding="utf-8")
    assert paper == floors.with_table(paper)
    rooms = [room for house in floors.houses() for floor in house.floors for room in floor]
    assert [room.name for room in rooms if not room.sentence.endswith(".")] == []


@pytest.mark.parametrize(("paper", "most"), [("README.md", 120), ("DEVELOPERS.md", 250)])
def test_a_paper_stays_short(paper, most):
    assert len((ROOT / paper).read_text(encoding="utf-8").splitlines()) <= most


def test_the_readme_names_every_command():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    names = [command.__name__.rsplit(".", 1)[1] for command in COMMANDS]
    assert [name for name in names if not re.search(rf"\b{name}\b", readme)] == []


@pytest.mark.slow
def test_the_python_of_the_readme_runs(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    lines = (ROOT / "README.md").read_text(encoding="utf-8").splitlines()
    start = lines.index("    import hullchange")
    exec("\n".join(line.strip() for line in lines[start : start + 3]))
    assert 0.5 < float(capsys.readouterr().out) < 1.5
