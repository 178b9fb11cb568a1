"""What no person should read: translated phrases, raw ids, units in ASCII, unknown words."""

import ast
import json
import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
PHRASES = tuple(
    (re.compile(pattern, re.IGNORECASE), better)
    for pattern, better in json.loads(
        (ROOT / "viewer/src/testing/phrases.json").read_text(encoding="utf-8")
    )
)
"""Shared with the viewer's own test."""
ASCII_UNITS = re.compile(
    r"\+/-|\d ?deg\b|…deg\b|\b(?:deg|degrees) of heel\b|\b(?:mm|cm|m|in|ft)[23]\b(?!\w)"
    r"|\bkg m\b|\bm rad\b|\bkN/m2"
)
KEY = re.compile(r"(?<![\w.:/-])[a-z]+(?:_[a-z0-9]+)+(?![\w.(])")
VALUE = "…"
SENTENCES = {"sentence", "reminder", "remarks", "flooding_sentence", "not_followed"}
SENTENCES |= {"unanswered", "why", "title", "agreement", "vcg_from"}
"""Fields of an answer that people read as they stand."""
WRITTEN = re.compile(r"\b(?:\w+: [\w.-]+|[a-z]+(?:\.[\w*-]+)+)")
"""What a sentence tells one to write: ``replaced_by: old-house``, or a path."""


def strings_of(source):
    """What a module may show to a person, values as …: no docstrings, no code."""
    tree = ast.parse(source)
    hidden = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            hidden |= {id(inner) for inner in ast.walk(node) if inner is not node}
    for node in ast.walk(tree):
        if id(node) in hidden:
            continue
        if isinstance(node, ast.JoinedStr):
            pieces = (p.value if isinstance(p, ast.Constant) else VALUE for p in node.values)
            yield "".join(map(str, pieces))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def is_read(text):
    """Whether a string is words for people: two of them at least, and no pattern or markup."""
    is_code = re.search(
        r"\\[wdsb]|^[<#M]|[{}<>|]{2}|(?:^| )[a-z]+_[a-z_]+ [a-z]+_|'(self|none)'|^[A-Z]{5,} ",
        text,
    )
    return bool(re.search(r"[A-Za-z]{3}[^ ]* .|[A-Za-z]{3}.*[.:]$", text)) and not is_code


def faults_in(text):
    """What is wrong with words for people."""
    for pattern, better in PHRASES:
        if found := pattern.search(text):
            yield f"“{found[0]}”, say {better}: {text}"
    if found := ASCII_UNITS.search(text):
        yield f"“{found[0]}” has a sign of its own: {text}"


def faults_in_answer(answer, plain):
    """Sentences of an answer that hold a raw id of the boat, ``none`` for nothing, or worse."""
    ids = {key for key in _keys(plain) if "-" in key}
    for place, text in sentences_in(answer, ""):
        yield from (f"{place}: {fault}" for fault in faults_in(text))
        rest = WRITTEN.sub(VALUE, text)
        raw = set(re.findall(r"(?<![\w-])[a-z0-9]+(?:-[a-z0-9]+)+(?![\w-])", rest)) & ids
        yield from (f"{place}: raw id {one}: {text}" for one in sorted(raw))
        if re.search(r"\bnone\b(?! of| is)", rest):
            yield f"{place}: none for nothing: {text}"


def sentences_in(answer, path):
    """(place, text) of everything in an answer that people read as it stands."""
    if isinstance(answer, dict):
        for key, inner in answer.items():
            for text in _texts(inner) if key in SENTENCES else ():
                yield f"{path}.{key}", text
            yield from sentences_in(inner, f"{path}.{key}")
    elif isinstance(answer, list):
        for k, inner in enumerate(answer):
            yield from sentences_in(inner, f"{path}[{k}]")


def _texts(found):
    return [
        text
        for text in (found if isinstance(found, list) else [found])
        if isinstance(text, str)
    ]


def _keys(plain):
    if isinstance(plain, dict):
        for key, inner in plain.items():
            yield key
            yield from _keys(inner)
    elif isinstance(plain, list):
        for inner in plain:
            yield from _keys(inner)
