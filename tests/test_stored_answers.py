"""Answers and files of three boats as they were stored: what moves one of them shows here.

Words are compared letter by letter, numbers to a millionth, since another processor may round
the last digit another way. Where a change is meant to alter them, write them anew with
``HULLCHANGE_STORE_ANSWERS=1`` and look at the difference.
"""

import gzip
import json
import os
import re
from itertools import zip_longest
from pathlib import Path

import pytest

from hullchange_api.command_line.main import main

FOLDER = Path(__file__).parent / "stored"
BOATS = sorted(path.name.removesuffix(".yaml") for path in FOLDER.glob("*.yaml"))
NUMBER = re.compile(r"(?<![\w.])[-+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?(?![\w.]*\w)")
TEXTS = {".csv", ".json", ".txt", ".dxf", ".svg", ".yaml"}
RELATIVE, ABSOLUTE = 1e-6, 1e-9
CALLS = {
    "check": ("check", "--json"),
    "assess": ("assess", "--quick", "--json"),
    "assess-tables": ("assess", "--quick"),
    "explain": ("explain", "--deep", "--json"),
}


def printed(capsys, *words):
    main([str(word) for word in words])
    return capsys.readouterr().out


def answers(capsys, file, folder):
    """Everything the command line says and writes of a boat, by name."""
    shown = {
        name: printed(capsys, command, file, *options)
        for name, (command, *options) in CALLS.items()
        if name != "explain"
    }
    assessed = json.loads(shown["assess"])
    afloat = next(c for c in assessed["conditions"] if "gm_m" in c)
    path = f"conditions.{afloat['id']}.gm_m"
    shown["explain"] = printed(capsys, "explain", file, path, "--deep", "--json")
    for command in ("tables", "cut"):
        out = folder / command
        printed(capsys, command, file, "--out", out, *(["--quick"] if command == "cut" else []))
        for path in sorted(p for p in out.rglob("*") if p.suffix in TEXTS):
            name = f"{command}/{path.relative_to(out).as_posix()}"
            shown[name] = path.read_text(encoding="utf-8")
    return {name: text.replace(str(file), "FILE") for name, text in shown.items()}


def differences(stored, now):
    """The first place where a text says something else, or nothing; JSON may gain keys."""
    if stored.startswith("{"):
        return next(moved(json.loads(stored), json.loads(now), ""), None)
    if NUMBER.sub("#", stored) != NUMBER.sub("#", now):
        lines = zip_longest(
            NUMBER.sub("#", stored).splitlines(), NUMBER.sub("#", now).splitlines()
        )
        return next(pair for pair in lines if pair[0] != pair[1])
    pairs = zip(NUMBER.findall(stored), NUMBER.findall(now), strict=True)
    return next((pair for pair in pairs if not same(*map(float, pair))), None)


def moved(stored, now, path):
    """Where a value is no longer what was stored, or is not there any more."""
    if isinstance(stored, dict) and isinstance(now, dict):
        for key, value in stored.items():
            yield from moved(value, now.get(key, "no such key"), f"{path}.{key}")
    elif isinstance(stored, list) and isinstance(now, list) and len(stored) == len(now):
        for number, pair in enumerate(zip(stored, now, strict=True)):
            yield from moved(*pair, f"{path}.{number}")
    elif not alike(stored, now):
        yield path, stored, now


def alike(stored, now):
    """Whether two plain values say the same."""
    if isinstance(stored, str) and isinstance(now, str):
        return not stored.startswith("{") and differences(stored, now) is None
    if isinstance(stored, float) and isinstance(now, float | int):
        return same(stored, now)
    return stored == now


def same(stored, now):
    return abs(stored - now) <= max(RELATIVE * abs(stored), ABSOLUTE)


@pytest.mark.slow
@pytest.mark.parametrize("boat", BOATS)
def test_answers_are_those_that_were_stored(capsys, tmp_path, boat):
    now = answers(capsys, FOLDER / f"{boat}.yaml", tmp_path)
    kept = FOLDER / f"{boat}.json.gz"
    if os.environ.get("HULLCHANGE_STORE_ANSWERS"):
        kept.write_bytes(gzip.compress(json.dumps(now, indent=0).encode(), mtime=0))
    stored = json.loads(gzip.decompress(kept.read_bytes()))
    assert now.keys() == stored.keys()
    changed = {name: differences(stored[name], now[name]) for name in now}
    assert {name: pair for name, pair in changed.items() if pair} == {}


def test_a_moved_number_and_a_changed_word_are_seen():
    text = "GM 0.984 m, by the stern 112 mm, 1e-12"
    assert differences(text, text.replace("1e-12", "1.1e-12")) is None
    assert differences(text, text.replace("0.984", "0.985")) == ("0.984", "0.985")
    assert differences(text, text.replace("stern", "bow")) is not None
    answer = '{"gm_m": 0.984, "freeboards": [{"mark": "bow"}]}'
    assert differences(answer, answer.replace("{", '{"new": 1, ', 1)) is None
    assert differences(answer, answer.replace("0.984", "0.985")) == (".gm_m", 0.984, 0.985)
    assert differences(answer, answer.replace("bow", "aft")) is not None
    assert differences(answer, '{"gm_m": 0.984}') is not None
