"""Every word a person reads is plain English: strings, answers, papers, and their spelling."""

import gzip
import json
import re
from functools import cache

import pytest
from plain_english import ROOT, faults_in, faults_in_answer, is_read, strings_of
from spellchecker import SpellChecker

from hullchange.document.reading import read_document

SOURCES = sorted(p for top in ("model", "api") for p in (ROOT / top).rglob("*.py"))
PAPERS = [ROOT / "README.md", ROOT / "DEVELOPERS.md"]
PAPERS += sorted(
    p
    for top in ("model", "api", "viewer/src", "tools")
    for p in (ROOT / top).rglob("decisions.md")
)
STORED = sorted((ROOT / "tests/stored").glob("*.json.gz"))
TRADE = frozenset((ROOT / "tests/support/trade_words.txt").read_text("utf-8").split())
"""Words of the trade, names, and British spellings that the dictionary lacks."""
AMERICAN = re.compile(
    r"\b(color(?:s|ed)?|center(?:s|line|ed)?|(?:centi|milli)?meters?|liters?|drafts?|gray"
    r"|aluminum|neighbors?|neighboring|behavior|galvanized|recognized?|canceled|labeled|modeled)\b",
    re.IGNORECASE,
)
NOT_WORDS = re.compile(
    r"`[^`]*`|\S*[_/\\=@<>]\S*|\]\([^)]*\)|--\w[\w-]*|\b\w+\.[a-z]\w*|^    .*$", re.MULTILINE
)
WORD = re.compile(r"(?<!\w)[A-Z]?[a-z]+(?:['\u2019][a-z]+)?(?!\w)")


@cache
def words_read():
    """(where, text) of everything in Python that people read."""
    return [
        (path.relative_to(ROOT).as_posix(), text)
        for path in SOURCES
        for text in strings_of(path.read_text(encoding="utf-8"))
        if is_read(text)
    ]


def unknown(text, dictionary):
    """Words that neither the dictionary nor the trade knows, and American spellings."""
    plain = NOT_WORDS.sub(" ", text)
    yield from AMERICAN.findall(plain)
    for found in WORD.findall(plain):
        word = found.lower().replace("\u2019", "'").removesuffix("'s")
        forms = {word, word.removesuffix("s"), word.removesuffix("es")}
        if len(word) > 2 and word not in dictionary and not forms & TRADE:
            yield found


def test_no_string_reads_translated_or_has_a_unit_in_ascii():
    assert [f"{at}: {fault}" for at, text in words_read() for fault in faults_in(text)] == []


@pytest.mark.parametrize(
    "planted",
    [
        "Look at this: the drain is small.",
        "The trim is 112 mm, wanted at most 25.",
        "12 is no number here.",
        "GM upright is 0.98 +/- 0.03 m.",
        "She lists 0.3 deg to port.",
        "Drains of 39 cm2 are too small.",
        "about 2,613 kg m of moment",
        "has a mass below nought",
        "The figures hang on the units.",
        "Traceback (most recent call last)",
    ],
)
def test_a_planted_phrase_or_unit_is_found(planted):
    (text,) = strings_of(
        f"def refused():\n    '''A docstring told over.'''\n    say({planted!r})\n"
    )
    assert is_read(text)
    assert list(faults_in(text)) != []


def test_no_stored_answer_holds_a_raw_id_or_none_for_nothing():
    faults = []
    for path in STORED:
        name = path.name.removesuffix(".json.gz")
        plain = read_document(path.with_name(f"{name}.yaml")).plain
        answers = json.loads(gzip.decompress(path.read_bytes()))
        for key in ("check", "assess", "explain"):
            answer = json.loads(answers[key])
            faults += [f"{name}, {key}{fault}" for fault in faults_in_answer(answer, plain)]
    assert faults == []


@pytest.mark.parametrize(
    "sentence",
    [
        "The opening fore-hatch lies under water.",
        "Closed by none.",
        "The list is 0.32 deg.",
    ],
)
def test_a_planted_id_is_found_in_an_answer(sentence):
    answer = {"findings": [{"sentence": sentence}]}
    assert list(faults_in_answer(answer, {"openings": {"fore-hatch": {}}})) != []
    answer = {"sentence": "Give it replaced_by: fore-hatch, at openings.fore-hatch.edge_m."}
    assert list(faults_in_answer(answer, {"openings": {"fore-hatch": {}}})) == []


def test_papers_findings_and_refusals_are_spelled_as_the_british_do():
    dictionary = SpellChecker()
    found = [(at, word) for at, text in words_read() for word in unknown(text, dictionary)]
    for paper in PAPERS:
        text = paper.read_text(encoding="utf-8")
        found += [(paper.name, word) for word in unknown(text, dictionary)]
    assert found == []


def test_a_planted_misspelling_is_found():
    dictionary = SpellChecker()
    planted = "Teh hull's freebords are mesured from the color line, `freebord_mm`."
    assert list(unknown(planted, dictionary)) == ["color", "Teh", "freebords", "mesured"]
