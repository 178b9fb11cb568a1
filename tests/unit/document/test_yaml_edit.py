"""Saving back: only what changes changes, and comments stay."""

import copy
import difflib
import random
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.document.paths import value_at, with_value, without_value
from hullchange.document.yaml_edit import edited_text, flow_text
from hullchange.document.yaml_text import parsed, parsed_value
from hullchange.errors import DocumentError

EXAMPLE = Path(__file__).parents[3] / "examples/saltmarrow.yaml"


@cache
def example():
    text = EXAMPLE.read_text(encoding="utf-8")
    return text, parsed(text).document()


def changed_lines(before, after):
    """Lines taken out and lines put in."""
    lines = list(difflib.ndiff(before.splitlines(), after.splitlines()))
    return [x[2:] for x in lines if x[0] == "-"], [x[2:] for x in lines if x[0] == "+"]


def test_without_a_change_the_text_is_the_same_to_the_byte():
    text, document = example()
    assert edited_text(text, document) == text
    as_json = copy.deepcopy(document)
    as_json["survey"]["vcg"]["z_m"] = 0.1
    as_json["hull"]["length_waterline_m"] = 10.15
    as_json["changes"]["cockpit"]["parts"]["cockpit"]["plate_mm"] = 4.0
    assert edited_text(text, as_json) == text


@pytest.mark.parametrize(
    ("path", "value", "before", "after"),
    [
        ("changes.deckhouse.parts.house.side_height_m", 0.65, "0.58 ", "0.65 "),
        ("survey.marks.aft.freeboard_m.port", 1.07, "port: 1.061", "port: 1.07"),
        ("hull.lines.sheer.points_m.6.z", 1.2, "1.75, 1.18]", "1.75, 1.2]"),
        ("boat.name", "Salt: marrow", "Saltmarrow", '"Salt: marrow"'),
        ("survey.vcg.from", "guessed", "from: inclining", "from: guessed"),
    ],
)
def test_a_changed_value_changes_its_own_characters_and_nothing_else(
    path, value, before, after
):
    text, document = example()
    result = edited_text(text, with_value(document, path, value))
    (old,), (new,) = changed_lines(text, result)
    assert old.count(before) == 1
    assert new == old.replace(before, after)
    assert value_at(parsed(result).document(), path) == value


def test_a_new_weight_is_one_new_line_where_it_belongs():
    text, document = example()
    lead = {"mass_kg": 120, "at_m": [3.3, 0, -1.2], "from": "weighed"}
    result = edited_text(text, with_value(document, "changes.finish.adds.lead", lead))
    out, new = changed_lines(text, result)
    assert out == []
    assert new == ["      lead: {mass_kg: 120, at_m: [3.3, 0, -1.2], from: weighed}"]


def test_a_weight_taken_away_is_one_line_less():
    text, document = example()
    result = edited_text(
        text, without_value(document, "changes.electric-drive.removes.exhaust")
    )
    out, new = changed_lines(text, result)
    assert new == []
    assert [line.split(":")[0].strip() for line in out] == ["exhaust"]


def test_points_are_put_in_and_taken_out_of_a_wrapped_list():
    text, document = example()
    changed = copy.deepcopy(document)
    points = changed["hull"]["lines"]["sheer"]["points_m"]
    points.insert(3, [0.4, 0.8, 1.38])
    del points[10]
    result = edited_text(text, changed)
    assert len(result.splitlines()) == len(text.splitlines())
    assert len(changed_lines(text, result)[1]) <= 3


LAID_OUT = """\
# of the file
a: {}   # of a
list:
  # of the first
  - [1, 2]   # first
  - [3, 4]   # second
b:
  c: 1   # of c
  # before d
  d: {x: 1, y: 2}
"""


@pytest.mark.parametrize(
    ("path", "value", "gone", "new"),
    [
        ("a", {"k": 1}, ["a: {}   # of a"], ["a: {k: 1}   # of a"]),
        ("list", [[1, 2], [3, 4], [5, 6]], [], ["  - [5, 6]"]),
        ("list", [[0, 0], [1, 2], [3, 4]], [], ["  - [0, 0]"]),
        ("list", [[3, 4]], ["  - [1, 2]   # first"], []),
        ("list", [[1, 2], [3, 5]], ["  - [3, 4]   # second"], ["  - [3, 5]   # second"]),
        ("b.c", 1.5, ["  c: 1   # of c"], ["  c: 1.5   # of c"]),
        ("b.e", "so: it", [], ['  e: "so: it"']),
        ("b.d.x", None, ["  d: {x: 1, y: 2}"], ["  d: {y: 2}"]),
        ("b.d.y", None, ["  d: {x: 1, y: 2}"], ["  d: {x: 1}"]),
        ("b.d.z", [1], ["  d: {x: 1, y: 2}"], ["  d: {x: 1, y: 2, z: [1]}"]),
        ("b.c", None, ["  c: 1   # of c"], []),
        ("new", True, [], ["new: true"]),
        ("a.k", "x" * 70, ["a: {}   # of a"], ["a: {k: " + "x" * 70 + "}   # of a"]),
    ],
)
@pytest.mark.parametrize("line_break", ["\n", "\r\n"])
def test_comments_and_layout_stay(path, value, gone, new, line_break):
    text = LAID_OUT.replace("\n", line_break)
    document = parsed(text).document()
    holder = document
    *above, last = path.split(".")
    for step in above:
        holder = holder[step]
    if value is None:
        del holder[last]
    else:
        holder[last] = value
    result = edited_text(text, document)
    assert changed_lines(text, result) == (gone, new)
    assert result.count("\r\n") == (result.count("\n") if line_break == "\r\n" else 0)


def test_a_large_change_is_written_a_line_per_entry():
    weights = {f"weight-{i}": {"mass_kg": i, "at_m": [1, 2, 3]} for i in range(4)}
    text = edited_text("changes: {}   # yours\n", {"changes": {"bow": {"adds": weights}}})
    assert text.splitlines() == [
        "changes:   # yours",
        "  bow:",
        "    adds:",
        *(f"      weight-{i}: {{mass_kg: {i}, at_m: [1, 2, 3]}}" for i in range(4)),
    ]


def test_a_value_is_given_to_a_key_that_had_none():
    assert edited_text("a:\nb: 1", {"a": 5, "b": 1}) == "a: 5\nb: 1\n"
    assert edited_text("a:   # empty\n", {"a": [1]}) == "a: [1]   # empty\n"


def test_a_group_that_empties_keeps_the_comment_beside_its_key():
    assert edited_text("b:   # of b\n  c: 1\n", {"b": {}}) == "b:   # of b\n  {}\n"
    assert edited_text("b:\n  c: 1\nd: 2\n", {"b": {}, "d": 2}) == "b: {}\nd: 2\n"


def test_yes_is_not_one():
    assert edited_text("a: 1\nb: true\n", {"a": True, "b": 1}) == "a: true\nb: 1\n"


def test_what_is_no_document_is_not_edited():
    with pytest.raises(DocumentError):
        edited_text("a: [", {"a": 1})


names = st.text("abcxyz-", min_size=1, max_size=3).filter(lambda name: name.strip("-"))
singles = (
    st.booleans()
    | st.none()
    | st.integers(-99, 99)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=6)
    | st.sampled_from(
        ["null", "5", "true", " a", "a ", "a: b", "# a", "-", "a #b", "é", "x, y"]
    )
)
values = st.recursive(
    singles,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(names, inner, max_size=4),
    max_leaves=12,
)
documents = st.dictionaries(names, values, min_size=1, max_size=4)


@given(singles)
def test_a_written_value_is_read_back(value):
    found = parsed_value(flow_text(value))
    assert (found, type(found)) == (value, type(value))


def laid_out(value, indent, chance):
    """Lines of a value in some layout with comments."""
    pad = " " * indent
    if not isinstance(value, dict | list) or not value or chance.random() < 0.3:
        yield flow_text(value) if chance.random() < 0.8 else f"{flow_text(value)}  # said"
        return
    yield ""
    for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
        if chance.random() < 0.2:
            yield f"{pad}# about {key}"
        lead = f"{flow_text({key: 0})[1:-4]}:" if isinstance(value, dict) else "-"
        first, *rest = laid_out(inner, indent + 2, chance)
        if lead == "-" and rest:
            first, rest = flow_text(inner), []
        yield f"{pad}{lead} {first}".rstrip()
        yield from rest


@given(documents, documents, st.randoms(use_true_random=False))
def test_any_text_can_be_made_to_say_any_document(one, other, chance):
    text = "\n".join(laid_out(one, 0, chance)).lstrip("\n") + "\n"
    if not text.startswith(("{", "#")):
        assert parsed(text).document() == one
        mixed = {**one, **{key: other[key] for key in other if chance.random() < 0.7}}
        for key in [key for key in mixed if chance.random() < 0.2]:
            del mixed[key]
        assert parsed(edited_text(text, mixed)).document() == mixed


def other_numbers(value, chance):
    """The same with some of its numbers changed."""
    match value:
        case dict():
            return {key: other_numbers(inner, chance) for key, inner in value.items()}
        case list():
            return [other_numbers(inner, chance) for inner in value]
        case bool():
            return value
        case int() | float() if chance.random() < 0.5:
            return value + 1.5
        case _:
            return value


@given(documents, st.randoms(use_true_random=False))
def test_changed_numbers_leave_every_line_and_comment_in_place(document, chance):
    text = "\n".join(laid_out(document, 0, chance)).lstrip("\n") + "\n"
    wanted = other_numbers(document, chance)
    result = edited_text(text, wanted)
    assert parsed(result).document() == wanted
    assert len(result.splitlines()) == len(text.splitlines())
    assert result.count("#") == text.count("#")


def test_the_example_keeps_its_lines_whatever_its_numbers():
    text, document = example()
    chance = random.Random(7)
    for _ in range(5):
        wanted = other_numbers(document, chance)
        result = edited_text(text, wanted)
        assert parsed(result).document() == wanted
        assert result.count("#") == text.count("#")
        assert len(result.splitlines()) == len(text.splitlines())
