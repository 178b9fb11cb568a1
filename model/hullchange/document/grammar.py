"""The grammar of a place in the document: which keys it has, and what was meant.

Dotted paths and the wording of faults ask here, so that neither repeats the grammar.
"""

import difflib
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel, Discriminator, JsonValue, Tag
from pydantic.fields import FieldInfo

from hullchange.cache import cached
from hullchange.document.document import Document
from hullchange.document.quantities import AXES, DocumentPoint, index_of
from hullchange.errors import ModelError
from hullchange.parts.fields import Corner

FEW = 16
PLACES = (DocumentPoint, get_args(Corner)[0])
_NO_FIELD = FieldInfo()


@dataclass(frozen=True)
class DocumentPlace:
    """A place of the document.

    Attributes:
        annotation: type of what belongs there, without optional and choice.
        value: what the plain document has there, None if nothing.
        info: the field it is, for its meaning and its default.
        chosen: whether a choice between classes was made to come here.
    """

    annotation: Any
    value: JsonValue = None
    info: FieldInfo = field(default=_NO_FIELD)
    chosen: bool = False

    @property
    def is_section(self) -> bool:
        """Whether its keys are fixed by the grammar."""
        return isinstance(self.annotation, type) and issubclass(self.annotation, BaseModel)

    @property
    def is_named(self) -> bool:
        """Whether its keys are names the owner gives."""
        return get_origin(self.annotation) is Mapping

    @property
    def is_list(self) -> bool:
        """Whether its entries are counted, or are x, y, z."""
        return get_origin(self.annotation) is tuple

    @property
    def is_place(self) -> bool:
        """Whether its entries are x, y and z."""
        return self.annotation in PLACES

    @property
    def length(self) -> int:
        """Number of entries of a list of fixed length; 0 if its length is free."""
        inner = get_args(self.annotation) if self.is_list else ()
        return 0 if Ellipsis in inner else len(inner)

    def leads_on(self, step: str) -> bool:
        """Whether the grammar knows a step from here."""
        if self.is_section:
            return step in fields_of(self.annotation)
        return self.is_named or (self.is_list and index_of(step) >= 0)

    @property
    def keys(self) -> tuple[str, ...]:
        """The steps that lead on from here."""
        if self.is_section:
            return tuple(fields_of(self.annotation))
        if isinstance(self.value, dict):
            return tuple(self.value)
        if self.is_list and isinstance(self.value, list):
            return AXES if self.is_place else tuple(map(str, range(len(self.value))))
        return ()

    def default(self) -> JsonValue:
        """The plain value that holds where the document gives none; None if there is none."""
        value = None if self.info.is_required() else self.info.get_default()
        return _plain(value)

    def or_default(self) -> "DocumentPlace":
        """The same place with its default where nothing stands there."""
        if self.value is not None:
            return self
        return replace(self, value=self.default())

    def next(self, step: str) -> "DocumentPlace":
        """The place one step on.

        Raises:
            ModelError: unknown-path, where the grammar has no such step.
        """
        below = self._below(step)
        if self.is_section and step in (fields := fields_of(self.annotation)):
            annotation, info = fields[step]
            return _peeled(annotation, below, info)
        inner = get_args(self.annotation)
        if self.is_named:
            return _peeled(inner[1], below, _NO_FIELD)
        index = index_of(step)
        if self.is_list and index >= 0 and (Ellipsis in inner or index < len(inner)):
            return _peeled(inner[0 if Ellipsis in inner else index], below, _NO_FIELD)
        if self.annotation is Any and below is not None:
            return DocumentPlace(Any, below)  # of no known kind: what stands there can be named
        raise unknown_step(step, self.keys)

    def _below(self, step: str) -> JsonValue:
        if isinstance(self.value, dict):
            return self.value.get(step)
        index = index_of(step)
        if isinstance(self.value, list) and 0 <= index < len(self.value):
            return self.value[index]
        return None


def root(document: Mapping[str, JsonValue]) -> DocumentPlace:
    """The whole document."""
    return DocumentPlace(Document, dict(document))


def unknown_step(step: str, known: Sequence[str]) -> ModelError:
    """The refusal of a step that is not known, naming the nearest one that is."""
    return ModelError("unknown-path", f"Unknown key {step!r}{suggestion(step, known)}")


def suggestion(word: str, known: Sequence[str]) -> str:
    """The end of a sentence: the nearest known word, or all of them if they are few."""
    if len(known) > 1 and all(map(str.isdecimal, (word, *known))):
        return f": choose {known[0]} to {known[-1]}."
    near = nearest(word, known)
    if near:
        return f"; did you mean {near!r}?"
    if not known:
        return ": there is none to choose from."
    if len(known) == 1:
        return f": it must be {known[0]}."
    return f": choose from {', '.join(known[:FEW])}{' and more' if len(known) > FEW else ''}."


def nearest(word: str, known: Sequence[str]) -> str:
    """The known word that is spelled most like this one; "" if none is near."""
    return next(iter(difflib.get_close_matches(word, known, n=1, cutoff=0.55)), "")


@cached(256)
def fields_of(model: type[BaseModel]) -> dict[str, tuple[Any, FieldInfo]]:
    """Type and field of each key of a section, by the key of the file."""
    hints = get_type_hints(model, include_extras=True)
    return {
        info.alias or name: (hints[name], info) for name, info in model.model_fields.items()
    }


def _peeled(annotation: Any, value: JsonValue, info: FieldInfo) -> DocumentPlace:  # noqa: ANN401
    """The place with optional and choice resolved by what stands there."""
    metadata: tuple[Any, ...] = ()
    while get_origin(annotation) is Annotated:
        annotation, *more = get_args(annotation)
        metadata += tuple(more)
    if get_origin(annotation) not in (Union, UnionType):
        return DocumentPlace(annotation, value, info)
    members = [member for member in get_args(annotation) if member is not NoneType]
    if len(members) == 1:
        return _peeled(members[0], value, info)
    choice = next((mark for mark in metadata if isinstance(mark, Discriminator)), None)
    inner = _by_kind(members, value) if choice is None else _by_tag(members, choice, value)
    return DocumentPlace(inner, value, info, chosen=True)


def _by_tag(members: list[Any], choice: Discriminator, value: JsonValue) -> Any:  # noqa: ANN401
    """The type that the document's own choice makes of what stands there."""
    assert callable(choice.discriminator)
    tag = choice.discriminator(value)
    by_tag: dict[Hashable, Any] = {
        mark.tag: inner
        for inner, *marks in map(get_args, members)
        for mark in marks
        if isinstance(mark, Tag)
    }
    return by_tag[tag]


def _by_kind(members: list[Any], value: JsonValue) -> Any:  # noqa: ANN401
    """The class of the kind that stands there; Any if there is no such kind."""
    kind = value.get("kind") if isinstance(value, dict) else None
    return next((m for m in members if m.model_fields["kind"].default == kind), Any)


def _plain(value: object) -> JsonValue:
    match value:
        case BaseModel():
            return value.model_dump(mode="json", by_alias=True, exclude_none=True)
        case Mapping():
            return {str(key): _plain(inner) for key, inner in value.items()}
        case tuple() | list():
            return [_plain(inner) for inner in value]
        case str() | int() | float() | bool():
            return value
        case _:
            return None
