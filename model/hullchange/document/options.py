"""Options: what the document says with one chosen, and where an edit made under it lands.

An option adds changes or entries of changes to the base design, then sets values in the
result; None takes away what is there.  This is the one place that says so: pages and commands
send the path they see, and never look into an option themselves.
"""

from collections.abc import Mapping

from pydantic import JsonValue

from hullchange.document.assumed import with_own_value
from hullchange.document.grammar import suggestion
from hullchange.document.matching import PlainDocument, Steps
from hullchange.document.paths import steps_of, with_value, written_at
from hullchange.errors import ModelError

MERGED_GROUPS = ("removes", "parts", "adds", "moves")

PathEdit = tuple[str, Steps, JsonValue]


_AS_IT_STANDS = (("options",), ("photographs",))


def with_option(document: Mapping[str, JsonValue], name: str | None) -> PlainDocument:
    """The document with an option taken: its changes added or merged, then its values set.

    Without a name it is the base design, the document as it is.

    A value of None under ``set`` takes away what is there.

    Raises:
        ModelError: unknown-option; unknown-path, placed in the option.
    """
    if name is None:
        return dict(document)
    option = _option(document, name)
    changes = dict(_group(document, "changes"))
    for change, added in _group(option, "adds").items():
        changes[change] = _merged(changes.get(change), added)
    result: PlainDocument = {**document, "changes": changes} if changes else dict(document)
    for change in _group(option, "adds"):
        result = with_own_value(document, result, f"changes.{change}")
    for path, value in _group(option, "set").items():
        try:
            result = with_own_value(result, with_value(result, path, value), path)
        except ModelError as error:
            raise ModelError(error.code, str(error), f"options.{name}.set") from error
    return result


def with_option_value(
    document: Mapping[str, JsonValue], name: str | None, path: str, value: JsonValue
) -> PlainDocument:
    """The document after a value was set under an option.

    The edit lands where the value comes from: in a value the option sets, in a change or entry
    it adds, else in a new value of the option; the base design stays as it is.  Without an
    option, or where the path leads into ``options`` or ``photographs``, which show the boat and
    no version of her refit, it is set as it stands.

    Args:
        document: as written.
        name: the option that is shown, None for the base design.
        path: of the value, as seen under the option.
        value: what to put there; None takes away what is there.

    Raises:
        ModelError: unknown-option, unknown-path.
    """
    if name is None or steps_of(document, path)[:1] in _AS_IT_STANDS:
        return with_own_value(document, with_value(document, path, value), path)
    seen = with_option(document, name)
    wanted = with_value(seen, path, value)
    steps = steps_of(seen, path)
    if value is None and isinstance(written_at(seen, steps[:-1]), list):
        whole = ".".join(steps[:-1])  # the entries behind it move up: the list is set whole
        return with_option_value(document, name, whole, written_at(wanted, steps[:-1]))
    option = _landed(document, name, (path, steps, value))
    result = _with(document, name, option)
    if value is None and written_at(with_option(result, name), steps) is not None:
        option["set"] = {**_group(option, "set"), path: None}
    return result


def _landed(document: Mapping[str, JsonValue], name: str, edit: PathEdit) -> PlainDocument:
    """The option after an edit, as far as no value of the base design is to be taken away."""
    _, steps, value = edit
    option = _option(document, name)
    written = _group(option, "set")
    places = {key: steps_of(document, key) for key in written}
    over = [key for key, other in places.items() if steps[: len(other)] == other]
    replaced = {key for key, other in places.items() if other[: len(steps)] == steps}
    if over and not (value is None and over[-1] in replaced):
        home = over[-1]
        after = _edited_up_to(document, name, home, edit)
        written = {**written, home: written_at(after, places[home])}
        option["set"] = {k: v for k, v in written.items() if k == home or k not in replaced}
        return option
    option["set"] = {k: v for k, v in written.items() if k not in replaced}
    return _beside_values(document, name, option, edit)


def _edited_up_to(
    document: Mapping[str, JsonValue], name: str, last: str | None, edit: PathEdit
) -> PlainDocument:
    """The document after an edit, without the values set after ``last``."""
    path, _, value = edit
    option = _option(document, name)
    written = _group(option, "set")
    keys = list(written)
    kept = keys[: keys.index(last) + 1] if last is not None else []
    early = {**option, "set": {key: written[key] for key in kept}}
    return with_value(with_option(_with(document, name, early), name), path, value)


def _beside_values(
    document: Mapping[str, JsonValue], name: str, option: PlainDocument, edit: PathEdit
) -> PlainDocument:
    """The option after an edit of what none of its values sets: in what it adds, or a value."""
    path, steps, value = edit
    base, adds = _group(document, "changes"), _group(option, "adds")
    entry = _entry(base, adds, steps, is_new=value is not None)
    if entry:
        after = _edited_up_to(document, name, None, edit)
        adds = _put(adds, entry[1:], written_at(after, entry))
    elif steps[:1] == ("changes",):
        adds = (
            _put(adds, steps[1:4], None) if steps[1:] else {}
        )  # set whole, it is the last word
    adds = {key: change for key, change in adds.items() if change or key not in base}
    values = {} if entry or value is None else {path: value}
    left = {key: inner for key, inner in option.items() if key != "adds"}
    more: PlainDocument = {"adds": adds} if adds else {}
    return {**left, "set": {**_group(option, "set"), **values}, **more}


def _entry(base: PlainDocument, adds: PlainDocument, steps: Steps, *, is_new: bool) -> Steps:
    """The change, or the entry of one, that an option adds and a path leads into; else ()."""
    if steps[:1] != ("changes",) or not steps[1:]:
        return ()
    change, group, name = (*steps[1:4], "", "", "")[:3]
    is_group = group in MERGED_GROUPS
    if change not in base:
        return steps[: 4 if is_group else 3]
    given, there = _group(adds, change), _group(_group(base, change), group)
    if not is_group:
        return steps[:3] if group in given else ()
    is_added = name in _group(given, group)
    is_added |= is_new and steps[4:] == () and name != "" and name not in there
    return steps[:4] if is_added else ()


def _put(into: PlainDocument, steps: Steps, value: JsonValue) -> PlainDocument:
    """The mapping with a value at steps, or without where it is None; groups are made."""
    step, *rest = steps
    if rest and (value is not None or step in into):
        value = _put(_group(into, step), tuple(rest), value)
    left = {key: inner for key, inner in into.items() if key != step}
    return left if value is None else {**into, step: value}


def _with(document: Mapping[str, JsonValue], name: str, option: PlainDocument) -> PlainDocument:
    return {**document, "options": {**_group(document, "options"), name: option}}


def _option(document: Mapping[str, JsonValue], name: str) -> PlainDocument:
    """The option as written.

    Raises:
        ModelError: unknown-option.
    """
    known = _group(document, "options")
    option = known.get(name)
    if not isinstance(option, dict):
        raise ModelError(
            "unknown-option", f"There is no option {name!r}{suggestion(name, tuple(known))}"
        )
    return dict(option)


def _merged(change: JsonValue, added: JsonValue) -> JsonValue:
    """A change with another on top: entries of the same name are replaced."""
    if not isinstance(change, dict) or not isinstance(added, dict):
        return added
    groups: PlainDocument = {
        key: {**_group(change, key), **_group(added, key)}
        for key in MERGED_GROUPS
        if key in change or key in added
    }
    return {**change, **added, **groups}


def _group(of: Mapping[str, JsonValue], key: str) -> PlainDocument:
    value = of.get(key)
    return value if isinstance(value, dict) else {}
