"""YAML as it is written: values, lines, and what is refused."""

from pathlib import Path

import pytest
from ruamel.yaml import YAML

from hullchange.document.yaml_text import parsed, parsed_value
from hullchange.errors import DocumentError

EXAMPLE = Path(__file__).parents[3] / "examples/saltmarrow.yaml"


def test_the_example_says_what_another_reader_of_yaml_finds_in_it():
    text = EXAMPLE.read_text(encoding="utf-8")
    assert parsed(text).document() == YAML(typ="safe", pure=True).load(text)


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("0.060", 0.06),
        ("-5", -5),
        ("+5", 5),
        (".5", 0.5),
        ("5.", 5.0),
        ("1e3", 1000.0),
        ("1E-2", 0.01),
        ("007", 7),
        ("true", True),
        ("null", None),
        ("~", None),
        ("yes", "yes"),
        ("on", "on"),
        ("2024-05-01", "2024-05-01"),
        ("12:30", "12:30"),
        ("1_000", "1_000"),
        ("1,5", "1,5"),
        ("'5'", "5"),
        ('"a\\tb"', "a\tb"),
        (".inf", float("inf")),
        ("9" * 30, 1e30),
        ("plain words, more", "plain words, more"),
    ],
)
def test_a_word_has_its_value(written, value):
    found = parsed_value(written)
    assert (found, type(found)) == (value, type(value))


def test_an_unquoted_text_goes_on_after_a_comma():
    text = "a: {note: readings lost, so KM is unknown, and more, z_m: 1}\n"
    assert parsed(text).document() == {
        "a": {"note": "readings lost, so KM is unknown, and more", "z_m": 1}
    }


def test_a_key_without_a_value_is_not_taken_for_a_text_that_goes_on():
    assert parsed("a: {b: x, c: , d: 1}\n").document() == {"a": {"b": "x", "c": None, "d": 1}}
    assert parsed("a: {b: 5, c}\n").document() == {"a": {"b": 5, "c": None}}
    assert parsed("a: {b: 'x', c}\n").document() == {"a": {"b": "x", "c": None}}


def test_keys_are_names_even_where_they_look_like_numbers():
    assert parsed("4: a\n2.5: b\ntrue: c\n").document() == {"4": "a", "2.5": "b", "true": "c"}


LINED = """# first
boat:
  name: Tern

lines:
  - [1, 2,
     3]
  - {x: 4}
"""


@pytest.mark.parametrize(
    ("place", "line"),
    [
        ("", 1),
        ("boat", 2),
        ("boat.name", 3),
        ("boat.nothing", 2),
        ("lines", 5),
        ("lines.0.z", 7),
        ("lines[0][2]", 7),
        ("lines.1.x", 8),
        ("lines.7", 5),
    ],
)
def test_a_place_has_its_line(place, line):
    assert parsed(LINED).line_of(place) == line


def test_every_duplicate_key_is_listed_with_both_lines():
    with pytest.raises(DocumentError) as refused:
        parsed("a: 1\nb: {c: 1, c: 2}\na: 2\na: 3\n")
    assert [(f.code, f.place, f.line) for f in refused.value.faults] == [
        ("duplicate-key", "b.c", 2),
        ("duplicate-key", "a", 3),
        ("duplicate-key", "a", 4),
    ]
    assert "lines 1 and 4" in refused.value.faults[-1].sentence


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty-document"),
        ("---\n", "empty-document"),
        ("- 1\n", "not-a-document"),
        ("a: 1\n---\nb: 2\n", "several-documents"),
        ("a: !!str 5\n", "yaml-tag"),
        ("a: &x 5\n", "yaml-alias"),
        ("a: *x\n", "yaml-alias"),
        ("[a]: 5\n", "not-yaml"),
        ("? {a: b}\n: 5\n", "not-yaml"),
        ("a:\n\tb: 1\n", "tab-indent"),
        ("a: [1,\n", "not-yaml"),
        ("a: 'x\n", "not-yaml"),
        ("a: b: c\n", "not-yaml"),
        ("a: \x01\n", "not-text"),
        ("a: " + "{a: " * 40 + "1" + "}" * 40, "too-deep"),
        ("a: [" + "1, " * 30_000 + "]", "file-too-large"),
        ("a: " + "x" * 2_000_000, "file-too-large"),
    ],
)
def test_what_cannot_be_read_is_refused(text, code):
    with pytest.raises(DocumentError) as refused:
        parsed(text)
    assert [fault.code for fault in refused.value.faults] == [code]


def test_a_tag_inside_a_quoted_text_is_a_text():
    assert parsed("a: '!x &y *z'\n").document() == {"a": "!x &y *z"}


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("a: 1\nb: {c: 1, d: 3\ne: 2\n", 2, "bracket { opened here is still open in line 3"),
        ("a: 1\nb: [1, 2\nc:\n  d: 2\n", 2, "bracket [ opened here is still open in line 3"),
        ("a: {b: 1, c: {d: 2}\n# note\nq: 1\n", 1, "still open in line 3"),
        ("a: 1\nb: {c: [1, 2]\n", 2, "bracket { opened here is never closed"),
        ("a: 1\nb: 'left\nc: 2\n", 2, "quote ' opened here is never closed"),
        ("a: 1\nb: {c: 1: 2}\n", 2, "colon"),
        ("a: 1\nb: [1, 2}\n", 2, "never closed, or is closed by the wrong sign"),
    ],
)
def test_what_is_left_open_is_reported_where_it_was_opened(text, line, words):
    with pytest.raises(DocumentError) as refused:
        parsed(text)
    (fault,) = refused.value.faults
    assert (fault.code, fault.line) == ("not-yaml", line)
    assert words in fault.sentence
