"""Saving back: the text of a file changed only where its values change.

Comments, order, spelling of numbers and line breaks stay, so that a changed number shows as one
line in a comparison of the two files.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from pydantic import JsonValue

from hullchange.cache import cached
from hullchange.document.yaml_text import (
    MOST_CHARACTERS,
    Mapping,
    Node,
    Scalar,
    Sequence,
    YamlEntry,
    YamlText,
    parsed,
    value_of,
    word_value,
)
from hullchange.errors import ModelError

WIDEST = 96
INDENT = 2
_PLAIN = re.compile(r"[A-Za-z](?:[\w ./()+'%-]*[\w./()+'%-])?", re.ASCII)
_PLAIN_KEY = re.compile(r"[A-Za-z0-9](?:[\w.-]*\w)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class _Edit:
    """Characters [start, end) become ``text``."""

    start: int
    end: int
    text: str


def edited_text(text: str, document: dict[str, JsonValue]) -> str:
    r"""The text with the fewest changes that give it the values of ``document``.

    Keys that are new are appended where they belong; the order of those that are there stays.

    >>> print(edited_text("mass_kg: 5.00  # weighed\n", {"mass_kg": 6.5, "from": "weighed"}))
    mass_kg: 6.5  # weighed
    from: weighed

    Args:
        text: a YAML file.
        document: plain values that it shall have.

    Raises:
        DocumentError: the text is no document.
        ModelError: cannot-save, where the layout of the text does not allow the edit.
    """
    root = _parsed(text).root
    if _same(value_of(root), document):
        return text
    ended = text if text.endswith("\n") else text + "\n"
    result = _applied(ended, _Editor(ended).edits(root, document))
    if not _same(_parsed(result).document(), document):
        raise ModelError(
            "cannot-save", "The file's layout does not allow this change: edit it by hand."
        )
    return result


@cached(2 * MOST_CHARACTERS, lambda written: len(written.text))
def _parsed(text: str) -> YamlText:
    """What was written is not read again when it is edited."""
    return parsed(text)


def flow_text(value: JsonValue) -> str:
    """The value on one line of YAML.

    >>> print(flow_text({"mass_kg": 33.0, "at_m": [-1.55, 0, 1.4], "note": "no: 5"}))
    {mass_kg: 33.0, at_m: [-1.55, 0, 1.4], note: "no: 5"}
    """
    match value:
        case dict():
            return "{" + ", ".join(f"{_key(k)}: {flow_text(v)}" for k, v in value.items()) + "}"
        case list() | tuple():
            return "[" + ", ".join(flow_text(item) for item in value) + "]"
        case str():
            return _words(value)
        case bool():
            return "true" if value else "false"
        case None:
            return "null"
        case _:
            return repr(value)


def _key(key: str) -> str:
    is_plain = _PLAIN_KEY.fullmatch(key) and not isinstance(word_value(key), bool | None)
    return key if is_plain else _quoted(key)


def _words(text: str) -> str:
    is_plain = _PLAIN.fullmatch(text) and isinstance(word_value(text), str)
    return text if is_plain else _quoted(text)


def _quoted(text: str) -> str:
    return '"' + "".join(map(_spelled, text)) + '"'


def _spelled(letter: str) -> str:
    if letter in '"\\':
        return "\\" + letter
    return letter if letter.isprintable() else f"\\U{ord(letter):08x}"


def _block_lines(key: str, value: JsonValue, indent: int) -> Iterator[str]:
    """A key with its value below it: one line where it fits, a line per entry else."""
    line = " " * indent + f"{_key(key)}: {flow_text(value)}"
    if len(line) <= WIDEST or not isinstance(value, dict):
        yield line
        return
    yield " " * indent + f"{_key(key)}:"
    for name, inner in value.items():
        yield from _block_lines(name, inner, indent + INDENT)


def _same(one: JsonValue, other: JsonValue) -> bool:
    """Whether two values mean the same: 5 and 5.0 do, 1 and yes do not."""
    match one, other:
        case dict(), dict():
            return one.keys() == other.keys() and all(_same(one[k], other[k]) for k in one)
        case list() | tuple(), list() | tuple():
            return len(one) == len(other) and all(map(_same, one, other))
        case _:
            return one == other and isinstance(one, bool) == isinstance(other, bool)


def _applied(text: str, edits: Iterator[_Edit]) -> str:
    parts, at = [], 0
    for edit in sorted(edits, key=lambda edit: edit.start):
        parts += [text[at : edit.start], edit.text]
        at = edit.end
    return "".join([*parts, text[at:]])


class _Editor:
    """The edits of one text; the text itself ends with a line break."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.line_break = "\r\n" if "\r\n" in text else "\n"

    def edits(self, node: Node, wanted: JsonValue) -> Iterator[_Edit]:
        """What turns ``node`` into ``wanted``."""
        if _same(value_of(node), wanted):
            return
        match node, wanted:
            case Mapping(), dict() if self._can_keep(node, wanted):
                yield from self._mapping(node, wanted)
            case Sequence(), list() if wanted and node.entries and self._in_lines(node):
                yield from self._sequence(node, wanted)
            case _:
                yield _Edit(node.start, node.end, flow_text(wanted))

    def _can_keep(self, node: Mapping, wanted: dict[str, JsonValue]) -> bool:
        """Whether a key stays, and keys can be put in and taken out one by one."""
        laid_out = self.text[node.start] == "{" if node.flow else self._in_lines(node)
        return laid_out and any(entry.key in wanted for entry in node.entries)

    def _in_lines(self, node: Mapping | Sequence) -> bool:
        """Whether every entry of a block begins its own line."""
        lead = r"\s*" if isinstance(node, Mapping) else r"\s*- +"
        return node.flow or all(
            re.fullmatch(lead, self.text[self._line_start(entry.start) : entry.start])
            for entry in node.entries
        )

    def _mapping(self, node: Mapping, wanted: dict[str, JsonValue]) -> Iterator[_Edit]:
        for entry in node.entries:
            if entry.key in wanted:
                yield from self._value(entry, wanted[entry.key], in_flow=node.flow)
        keep = [entry.key in wanted for entry in node.entries]
        yield from self._without(node, keep)
        known = {entry.key for entry in node.entries}
        new = {key: value for key, value in wanted.items() if key not in known}
        if node.flow:
            spelled = [f"{_key(key)}: {flow_text(value)}" for key, value in new.items()]
            yield from self._more_in_flow(node.entries[_last(keep)].end, spelled)
        else:
            column = node.start - self._line_start(node.start)
            lines = [line for k, v in new.items() for line in _block_lines(k, v, column)]
            yield from self._more_lines(node.entries[-1].end, lines)

    def _value(self, entry: YamlEntry, wanted: JsonValue, *, in_flow: bool) -> Iterator[_Edit]:
        node = entry.node
        is_empty = value_of(node) in (None, {})
        if is_empty and not in_flow and isinstance(wanted, dict):
            column = entry.start - self._line_start(entry.start)
            _, *below = _block_lines(entry.key, wanted, column)
            if below:
                yield _Edit(entry.colon, entry.end, "")
                yield from self._more_lines(entry.end, below)
                return
        if isinstance(node, Scalar) and node.start == node.end:
            if not _same(node.value, wanted):
                gap = " " if self.text[entry.colon - 1] == ":" else ": "
                yield _Edit(entry.colon, entry.colon, gap + flow_text(wanted))
            return
        between = self.text[entry.colon : node.start]
        for edit in self.edits(node, wanted):
            whole = (edit.start, edit.end) == (node.start, node.end)
            own_lines = not in_flow and "\n" in between and "#" not in between
            yield _Edit(entry.colon, edit.end, " " + edit.text) if whole and own_lines else edit

    def _sequence(self, node: Sequence, wanted: list[JsonValue]) -> Iterator[_Edit]:
        """Items at both ends that stay are left alone; those between change pair by pair."""
        old = [value_of(item) for item in node.entries]
        shorter = min(len(old), len(wanted))
        head = _agreeing(lambda i: _same(old[i], wanted[i]), shorter)
        tail = _agreeing(lambda i: _same(old[-1 - i], wanted[-1 - i]), shorter - head)
        last = head + shorter - head - tail
        for item, value in zip(node.entries[head:last], wanted[head:last], strict=True):
            yield from self.edits(item, value)
        end = len(old) - tail
        yield from self._without(node, [not last <= i < end for i in range(len(old))])
        new = [flow_text(value) for value in wanted[last : len(wanted) - tail]]
        if not new:
            return
        if not node.flow:
            yield from self._more_items(node, last, new)
        elif last:
            yield from self._more_in_flow(node.entries[last - 1].end, new)
        else:
            at = node.entries[0].start
            yield _Edit(at, at, "".join(f"{spelled}, " for spelled in new))

    def _without(self, node: Mapping | Sequence, keep: list[bool]) -> Iterator[_Edit]:
        for i, (entry, stays) in enumerate(zip(node.entries, keep, strict=True)):
            if stays:
                continue
            if not node.flow:
                yield _Edit(self._line_start(entry.start), self._line_end(entry.end), "")
            elif i < _last(keep):
                yield _Edit(entry.start, node.entries[i + 1].start, "")
            else:
                yield _Edit(node.entries[i - 1].end, entry.end, "")

    def _more_in_flow(self, at: int, spelled: list[str]) -> Iterator[_Edit]:
        if spelled:
            yield _Edit(at, at, "".join(f", {one}" for one in spelled))

    def _more_lines(self, after: int, lines: list[str]) -> Iterator[_Edit]:
        if lines:
            at = self._line_end(after)
            yield _Edit(at, at, "".join(line + self.line_break for line in lines))

    def _more_items(self, node: Sequence, index: int, spelled: list[str]) -> Iterator[_Edit]:
        first = node.entries[0].start
        lead = self.text[self._line_start(first) : first]
        lines = [lead + one for one in spelled]
        if index == len(node.entries):
            yield from self._more_lines(node.entries[-1].end, lines)
        else:
            at = self._line_start(node.entries[index].start)
            yield _Edit(at, at, "".join(line + self.line_break for line in lines))

    def _line_start(self, index: int) -> int:
        return self.text.rfind("\n", 0, index) + 1

    def _line_end(self, index: int) -> int:
        return self.text.index("\n", index) + 1


def _last(keep: list[bool]) -> int:
    """Index of the last that stays."""
    return len(keep) - 1 - keep[::-1].index(True)


def _agreeing(agree: Callable[[int], bool], count: int) -> int:
    """Number of entries at the start that agree."""
    return next((i for i in range(count) if not agree(i)), count)
