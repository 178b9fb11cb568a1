"""YAML as it is written: the values of a text, and where in the text each of them stands.

Only what a refit document needs is read: mappings, lists, texts, numbers, yes and no.  Tags,
anchors and aliases are refused, so that a small file cannot unfold into a large one, and plain
words stay words (a date or ``on`` is a text).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import JsonValue
from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    DocumentEndEvent,
    Event,
    MappingStartEvent,
    ScalarEvent,
    SequenceStartEvent,
    StreamEndEvent,
)
from ruamel.yaml.reader import ReaderError

from hullchange.document.quantities import index_of
from hullchange.errors import DocumentError, Fault, ModelError

MOST_CHARACTERS = 2_000_000
MOST_VALUES = 20_000
DEEPEST = 24
_TOO_LONG = f"The file is longer than {MOST_CHARACTERS:,} characters: is it a boat's?"

_WORDS: dict[str, JsonValue] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_WHOLE = re.compile(r"[-+]?[0-9]{1,18}")
_DECIMAL = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
_COLON = re.compile(r"[ \t]*:")
_NOT_FINITE = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")


@dataclass(frozen=True, slots=True)
class Scalar:
    """A single value and the characters [start, end) that spell it."""

    value: JsonValue
    start: int
    end: int
    plain: bool


@dataclass(frozen=True, slots=True)
class YamlEntry:
    """A key with its value; ``colon`` is where the colon ends."""

    key: str
    start: int
    colon: int
    node: "Node"

    @property
    def end(self) -> int:
        """Where the value ends, or the colon if nothing follows it."""
        return max(self.colon, self.node.end)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the order they are written."""

    entries: tuple[YamlEntry, ...]
    start: int
    end: int
    flow: bool


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list of values."""

    entries: tuple["Node", ...]
    start: int
    end: int
    flow: bool


Node = Scalar | Mapping | Sequence


def value_of(node: Node) -> JsonValue:
    """The plain value that is written there."""
    match node:
        case Mapping():
            return {entry.key: value_of(entry.node) for entry in node.entries}
        case Sequence():
            return [value_of(item) for item in node.entries]
        case Scalar():
            return node.value


def word_value(text: str) -> JsonValue:
    """The value of an unquoted word, by the core schema of YAML 1.2.

    >>> word_value("0.060"), word_value("5"), word_value("true"), word_value("on")
    (0.06, 5, True, 'on')
    """
    if text in _WORDS:
        return _WORDS[text]
    if _WHOLE.fullmatch(text):
        return int(text)
    if _DECIMAL.fullmatch(text):
        return float(text)
    if _NOT_FINITE.fullmatch(text):
        return float(text.replace(".", "", 1))
    return text


def line_at(text: str, index: int) -> int:
    """Number of the line a character stands in, the first being 1."""
    return text.count("\n", 0, index) + 1


@dataclass(frozen=True)
class YamlText:
    """A text that was read as YAML, with its values.

    Attributes:
        text: as written.
        root: its outermost mapping.
    """

    text: str
    root: Mapping

    def document(self) -> dict[str, JsonValue]:
        """The plain values, keys in the order they are written."""
        return {entry.key: value_of(entry.node) for entry in self.root.entries}

    def line_of(self, place: str) -> int:
        """Line of the value at a dotted path, or of the nearest thing above it."""
        node: Node = self.root
        line = 1
        for step in re.split(r"[.\[]", place):
            index = index_of(step.rstrip("]"))
            if isinstance(node, Mapping):
                found = next((entry for entry in node.entries if entry.key == step), None)
                if found is None:
                    return line
                node, line = found.node, line_at(self.text, found.start)
            elif isinstance(node, Sequence) and 0 <= index < len(node.entries):
                node = node.entries[index]
                line = line_at(self.text, node.start)
        return line


def parsed(text: str) -> YamlText:
    """The text as YAML whose outermost level is a mapping.

    Raises:
        DocumentError: file-too-large, not-yaml, tab-indent, not-text, duplicate-key, yaml-tag,
            yaml-alias, too-deep, empty-document, not-a-document, several-documents; all the
            duplicate keys are listed in one go, the others stop the reading.
    """
    reading = _Reading(text)
    root = reading.whole()
    if isinstance(root, Scalar) and root.value is None:
        raise _refused("empty-document", "The file is empty: `hullchange new FILE` starts one.")
    if not isinstance(root, Mapping):
        raise _refused(
            "not-a-document",
            "This is not a refit document: its top level must be keys such as boat: and hull:.",
        )
    if reading.faults:
        raise DocumentError(tuple(reading.faults))
    return YamlText(text, root)


def parsed_value(text: str) -> JsonValue:
    """The value of one line of YAML, as typed after ``PATH=``.

    >>> parsed_value("0.62"), parsed_value("[5.6, 0, -0.3]"), parsed_value("{x: 1}")
    (0.62, [5.6, 0, -0.3], {'x': 1})

    Raises:
        DocumentError: as for ``parsed``.
    """
    reading = _Reading(text)
    root = reading.whole()
    if reading.faults:
        raise DocumentError(tuple(reading.faults))
    return value_of(root)


def _refused(code: str, sentence: str, line: int = 0) -> DocumentError:
    return DocumentError((Fault(code, "", sentence, line),))


class _Reading:
    """One pass over the events of a text."""

    def __init__(self, text: str) -> None:
        if len(text) > MOST_CHARACTERS:
            raise _refused("file-too-large", _TOO_LONG)
        self.text = text
        self.faults: list[Fault] = []
        self.values = 0
        self.events: Iterator[Event] = self._readable_events()

    def _readable_events(self) -> Iterator[Event]:
        try:
            yield from YAML(typ="safe", pure=True).parse(self.text)
        except MarkedYAMLError as error:
            raise _left_open(self.text, error) or _refusal(error) from error
        except ReaderError as error:
            line = line_at(self.text, error.position)
            raise _refused(
                "not-text",
                "The file is not plain text: save it as UTF-8.",
                line,
            ) from error

    def whole(self) -> Node:
        next(self.events)
        if isinstance(next(self.events), StreamEndEvent):
            return Scalar(None, 0, 0, plain=True)
        root = self.node(next(self.events), ())
        end = next(self.events)
        assert isinstance(end, DocumentEndEvent)
        if not isinstance(next(self.events), StreamEndEvent):
            line = line_at(self.text, end.end_mark.index)
            raise _refused(
                "several-documents",
                "The file holds more than one document: delete the line ---.",
                line,
            )
        return root

    def node(self, event: Event, path: tuple[str, ...]) -> Node:
        self._check(event, path)
        start, end = event.start_mark.index, event.end_mark.index
        match event:
            case MappingStartEvent():
                return self._mapping(event, path)
            case SequenceStartEvent():
                return self._sequence(event, path)
            case ScalarEvent(style=None):
                return Scalar(word_value(event.value), start, end, plain=True)
            case ScalarEvent():
                end = start + len(self.text[start:end].rstrip())
                return Scalar(event.value, start, end, plain=False)
            case _:
                raise AssertionError(event)

    def _check(self, event: Event, path: tuple[str, ...]) -> None:
        line = event.start_mark.line + 1
        self.values += 1
        if self.values > MOST_VALUES:
            raise _refused(
                "file-too-large",
                f"The file holds more than {MOST_VALUES:,} values: is it a boat's?",
                line,
            )
        if len(path) > DEEPEST:
            raise _refused(
                "too-deep",
                f"The file is nested more than {DEEPEST} levels deep: check its brackets.",
                line,
            )
        if isinstance(event, AliasEvent) or getattr(event, "anchor", None) is not None:
            raise _refused(
                "yaml-alias",
                "There is an alias here (& or *): write the value out, or quote the text.",
                line,
            )
        if getattr(event, "tag", None) is not None:
            raise _refused(
                "yaml-tag",
                "There is a tag here (!): delete it, or put the text in quotes.",
                line,
            )

    def _sequence(self, event: SequenceStartEvent, path: tuple[str, ...]) -> Sequence:
        items: list[Node] = []
        inside = next(self.events)
        while not isinstance(inside, CollectionEndEvent):
            items.append(self.node(inside, (*path, str(len(items)))))
            inside = next(self.events)
        start, end = event.start_mark.index, inside.end_mark.index
        flow = bool(event.flow_style)
        return Sequence(tuple(items), start, end if flow else items[-1].end, flow)

    def _mapping(self, event: MappingStartEvent, path: tuple[str, ...]) -> Mapping:
        flow = bool(event.flow_style)
        entries: list[YamlEntry] = []
        starts: dict[str, int] = {}
        inside = next(self.events)
        while not isinstance(inside, CollectionEndEvent):
            entry = self._entry(inside, path)
            carried = _carried_on(self.text, entries[-1], entry) if flow and entries else None
            if carried:
                entries[-1] = carried
            else:
                self._note_a_second(entry, starts.setdefault(entry.key, entry.start), path)
                entries.append(entry)
            inside = next(self.events)
        start, end = event.start_mark.index, inside.end_mark.index
        return Mapping(tuple(entries), start, end if flow else entries[-1].end, flow)

    def _entry(self, event: Event, path: tuple[str, ...]) -> YamlEntry:
        if not isinstance(event, ScalarEvent):
            raise _refused(
                "not-yaml",
                "The key here is a list or a group, and must be a plain name.",
                event.start_mark.line + 1,
            )
        self._check(event, path)
        start, key_end = event.start_mark.index, event.end_mark.index
        found = _COLON.match(self.text, key_end)
        colon = found.end() if found else key_end
        node = self.node(next(self.events), (*path, event.value))
        if node.start == node.end:
            node = Scalar(None, colon, colon, plain=True)
        return YamlEntry(event.value, start, colon, node)

    def _note_a_second(self, entry: YamlEntry, first: int, path: tuple[str, ...]) -> None:
        if first == entry.start:
            return
        line = line_at(self.text, entry.start)
        sentence = (
            f"The key {entry.key} appears twice, on lines {line_at(self.text, first)} and "
            f"{line}: rename one of them."
        )
        place = ".".join((*path, entry.key))
        self.faults.append(Fault("duplicate-key", place, sentence, line))


def _carried_on(text: str, before: YamlEntry, entry: YamlEntry) -> YamlEntry | None:
    """An unquoted text goes on after a comma: {note: readings lost, so KM is unknown}."""
    scalar = before.node
    has_colon = entry.colon > entry.start and text[entry.colon - 1] == ":"
    if has_colon or not isinstance(scalar, Scalar) or not scalar.plain:
        return None
    if not isinstance(scalar.value, str):
        return None
    words = " ".join(text[scalar.start : entry.colon].split())
    node = Scalar(words, scalar.start, entry.colon, plain=True)
    return YamlEntry(before.key, before.start, before.colon, node)


_NEVER_CLOSED = "A bracket, brace or quote is never closed, or is closed by the wrong sign."
_COLON_ASTRAY = (
    "A colon is out of place here: check the indentation, and quote text with a colon in it."
)
_REMEDIES = (
    ("'\\t'", "tab-indent", "This line is indented with a tab: use spaces."),
    ("mapping values are not allowed", "not-yaml", _COLON_ASTRAY),
    ("but got ':'", "not-yaml", _COLON_ASTRAY),
    ("expected ',' or", "not-yaml", _NEVER_CLOSED),
    ("end of stream", "not-yaml", _NEVER_CLOSED),
    (
        "cannot start any token",
        "not-yaml",
        "The text here starts with a special character: put it in quotes.",
    ),
    (
        "<block end>",
        "not-yaml",
        "This does not line up with the lines above: check indentation and brackets.",
    ),
)


def _left_open(text: str, error: MarkedYAMLError) -> ModelError | None:
    """The refusal of a bracket or quote left open, naming the line it was opened in."""
    opened, noticed = error.context_mark, error.problem_mark
    kinds = {"flow": "bracket", "quoted": "quote"}
    what = next((word for key, word in kinds.items() if key in str(error.context)), "")
    if not what or opened is None or noticed is None or noticed.line == opened.line:
        return None
    sentence = f"The {what} {text[opened.index]} opened here is never closed: close it."
    if what == "bracket" and text[noticed.index :].strip():
        sentence = (
            f"The bracket {text[opened.index]} opened here is still open in line "
            f"{noticed.line + 1}: close it, add the missing comma, or put text that contains "
            "a colon in quotes."
        )
    return _refused("not-yaml", sentence, opened.line + 1)


def _refusal(error: MarkedYAMLError) -> ModelError:
    mark, problem = error.problem_mark or error.context_mark, str(error.problem)
    unknown = ("", "not-yaml", f"This cannot be read as YAML: {problem}.")
    _, code, sentence = next((one for one in _REMEDIES if one[0] in problem), unknown)
    return _refused(code, sentence, mark.line + 1 if mark else 0)
