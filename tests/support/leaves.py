"""Every leaf of a document, and what may come to stand there."""

import json
import re

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
