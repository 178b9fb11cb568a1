"""An owner's hand at the forms of the pages: types, chooses, pastes and presses, all counted.

What a form looks like is found on the page: a value is put wherever the form has room for it.
"""

import re
from collections import Counter
from contextlib import contextmanager
from dataclasses import dataclass, field
from decimal import Decimal

from fields import is_edit
from playwright.sync_api import TimeoutError as NothingHappened
from playwright.sync_api import expect

LOOK = """(root) => {
    const form = root.closest('form');
    const isHere = (e) => e.closest('form') === form;
    const inside = [...root.querySelectorAll('[data-path]')].filter(isHere);
    const pathOf = (e) => e.closest('[data-path]');
    // on the page itself the next thing that is looked at lies elsewhere
    return [root, ...(form ? inside : [])].map((node) => {
        const isIts = (e) => pathOf(e) === node && isHere(e);
        const every = [...node.querySelectorAll('input, select, textarea, button')];
        const own = every.flatMap((e, i) =>
            isIts(e) && e.type !== 'range' && e.checkVisibility() ? [{
                i, value: e.value, checked: e.checked === true, words: e.innerText.trim(),
                kind: e.type === 'checkbox' ? 'tick' : e.closest('.new-path') ? 'new path'
                    : e.closest('td') ? 'cell' : e.closest('.typed') ? 'number' : e.localName,
                options: e.localName === 'select' ? [...e.options].map((o) => o.value) : [],
                unit: e.closest('.typed')?.querySelector('[aria-hidden]')?.innerText ?? '',
            }] : []);
        return {
            path: node.dataset.path, own,
            below: inside.filter((e) => pathOf(e.parentElement) === node)
                .map((e) => e.dataset.path),
            heads: [...node.querySelectorAll('th[scope=col]')].filter(isIts).slice(1)
                .map((e) => e.innerText.trim()),
            absent: [...node.querySelectorAll('.absent')].some(isIts),
            named: [...node.children].some((e) => e.matches('.named-list')),
        };
    });
}"""
"""A field and all fields in it: of each what belongs to itself, and not to a field in it."""
UNITS = re.compile(r"_(kgm|deg|mm|m|kg|s|l)$")


@dataclass(frozen=True)
class Seen:
    """What stands in a field: its own inputs and buttons, and the fields in it."""

    node: object
    own: list
    below: list
    heads: list
    absent: bool
    named: bool

    def of(self, *kinds):
        """Its own inputs or buttons of some kinds."""
        return [one for one in self.own if one["kind"] in kinds]

    def button(self, beginning):
        """Its button whose words begin so; None where there is none."""
        found = [one for one in self.of("button") if one["words"].startswith(beginning)]
        return self.element(found[0]) if found else None

    def element(self, one):
        """An input or a button of it on the page."""
        return self.node.locator("input, select, textarea, button").nth(one["i"])

    @property
    def is_table(self):
        """Whether it takes rows from a spreadsheet."""
        return self.button("paste a table") is not None

    def is_of_a_kind(self, path, wanted):
        """Whether the kind of a thing says which fields it has."""
        return (
            isinstance(wanted, dict) and "kind" in wanted and f"{path}.kind" not in self.below
        )

    def room_for(self, wanted):
        """How much of a value it has room for."""
        if not isinstance(wanted, dict):
            return self.fits(wanted)
        return len(set(wanted) & {path.rpartition(".")[2] for path in self.below})

    def fits(self, wanted):
        """Whether it has room for a value as it stands."""
        if isinstance(wanted, dict):
            keys = {path.rpartition(".")[2] for path in self.below}
            return set(wanted) - {"kind"} <= keys or bool(self.of("new path"))
        if isinstance(wanted, list):
            has_entries = self.is_table or self.of("tick") or self.button("add one")
            return bool(has_entries) or len(self.of("number")) == len(wanted)
        if isinstance(wanted, str):
            is_there = any(wanted in one["options"] for one in self.of("select"))
            return is_there or bool(self.of("input", "textarea"))
        if isinstance(wanted, bool):
            return bool(self.of("tick", "select"))
        return len(self.of("number")) == 1


@dataclass
class Hand:
    """An owner's hand at a page, and how many entries it made of each kind."""

    page: object
    made: Counter = field(default_factory=Counter)
    document: dict = field(default_factory=dict)

    def __post_init__(self):
        self.section = self.page.locator(".boat-page > section")
        self._seen, self._seen_in = {}, None

    def press(self, button):
        """Press a button."""
        self.made["pressed"] += 1
        self._seen.clear()
        button.click()

    def choose(self, select, option):
        """Choose from a list."""
        self.made["chosen"] += 1
        select.select_option(option)

    def type(self, entry, text):
        """Type into a field; it is taken when another is gone to."""
        self.made["typed"] += 1
        entry.fill(text)

    def paste(self, area, text):
        """Paste rows from a spreadsheet."""
        self.made["pasted"] += 1
        area.fill(text)

    @contextmanager
    def sending(self, isSent=True):  # noqa: N803
        """What is done inside is sent, and is taken."""
        if not isSent:
            yield
            return
        try:
            with self.page.expect_response(is_edit) as answer:
                yield
                self.page.evaluate("document.activeElement.blur()")
        except NothingHappened as error:
            alerts = self.page.locator("[role=alert]").all_inner_texts()
            raise AssertionError(f"nothing was sent: {alerts}") from error
        taken = answer.value
        assert taken.ok, taken.json().get("detail", taken.text())
        self.document = taken.json()["document"]
        self._seen.clear()

    def look(self, path, among=None):
        """What stands in the field at a path."""
        among = among or self.section
        if among is not self._seen_in:
            self._seen_in = among
            self._seen.clear()
        node = among.locator(f'[data-path="{path}"]').first
        if path not in self._seen:
            for one in node.evaluate(LOOK):
                self._seen.setdefault(one.pop("path"), one)
        return Seen(node=node, **self._seen[path])

    def fill(self, form, path, wanted, *, sends=False):
        """Give a field its value; on the page itself, outside a form, each entry is sent."""
        seen = self.look(path, form)
        if seen.absent:
            self.press(seen.button("put in"))
            seen = self.look(path, form)
        if not seen.fits(wanted) or seen.is_of_a_kind(path, wanted):
            self.turn(form, path, wanted)
            seen = self.look(path, form)
        if isinstance(wanted, dict) and seen.below:
            self.fill_group(form, path, wanted)
        elif isinstance(wanted, list):
            self.fill_list(form, path, wanted, sends)
        elif isinstance(wanted, dict):
            self.fill_paths(seen, wanted, sends)
        else:
            with self.sending(sends):
                self.fill_one(seen, path, wanted)

    def turn(self, form, path, wanted):
        """Turn the choices of a form until it has room for what is wanted."""
        is_kind = self.look(path, form).is_of_a_kind(path, wanted)
        if is_kind:
            self.turn_to_kind(form, path, wanted["kind"].replace("_", " "))
        n = int(is_kind)
        while not (seen := self.look(path, form)).fits(wanted):
            assert n < len(seen.of("select")), f"no room for {wanted} at {path}"
            self.turn_one(form, path, wanted, n)
            n += 1

    def turn_one(self, form, path, wanted, n):
        """Turn one choice of a form to what has most room for what is wanted."""
        room = {}
        for option in self.look(path, form).of("select")[n]["options"]:
            seen = self.look(path, form)
            seen.element(seen.of("select")[n]).select_option(option)
            self._seen.clear()
            room[option] = self.look(path, form).room_for(wanted)
            if self.look(path, form).fits(wanted):
                break
        seen = self.look(path, form)
        self.choose(seen.element(seen.of("select")[n]), max(room, key=room.get))
        self._seen.clear()

    def turn_to_kind(self, form, path, kind):
        """Choose what kind of thing it is, and wait for what is proposed of it."""
        seen = self.look(path, form)
        select = next(one for one in seen.of("select") if kind in one["options"])
        if select["value"] != kind:
            self.choose(seen.element(select), kind)
        expect(form).not_to_have_attribute("aria-busy", "true")
        self._seen.clear()

    def fill_group(self, form, path, wanted):
        """The fields of a group; what was proposed and is not wanted is left out."""
        seen = self.look(path, form)
        for key, value in wanted.items():
            if f"{path}.{key}" in seen.below:
                child = self.look(f"{path}.{key}", form)
                if child.own or child.below:  # a list of names is entered later
                    self.fill(form, f"{path}.{key}", value)
        for child in seen.below if seen.is_of_a_kind(path, wanted) else ():
            leave = self.look(child, form).button("leave out")
            if leave and child.rpartition(".")[2] not in wanted:
                self.press(leave)

    def fill_list(self, form, path, wanted, sends):
        """A table, ticks, a row of numbers, or a list of which each entry has a form."""
        seen = self.look(path, form)
        if seen.is_table:
            self.paste_table(seen, path, wanted, sends)
        elif seen.of("tick"):
            self.tick(seen, wanted, sends)
        elif len(seen.of("number")) == len(wanted):
            self.fill_row(seen, path, wanted, sends)
        else:
            for i, one in enumerate(wanted):
                if f"{path}.{i}" not in self.look(path, form).below:
                    self.press(seen.button("add one"))
                self.fill(form, f"{path}.{i}", one)

    def fill_one(self, seen, path, wanted):
        """One value: a number, a word, a text, yes or no."""
        if isinstance(wanted, bool) and seen.of("tick"):
            if seen.of("tick")[0]["checked"] != wanted:
                self.press(seen.element(seen.of("tick")[0]))
        elif isinstance(wanted, int | float) and not isinstance(wanted, bool):
            one = seen.of("number")[0]
            self.type(seen.element(one), as_typed(wanted, path, one["unit"]))
        else:
            word = {True: "yes", False: "no"}.get(wanted, wanted)
            selects = [one for one in seen.of("select") if word in one["options"]]
            if selects:
                self.choose(seen.element(selects[0]), word)
            else:
                self.type(seen.element(seen.of("input", "textarea")[0]), word)

    def fill_row(self, seen, path, wanted, sends):
        """The numbers of a row, those that are another."""
        for one, number in zip(seen.of("number"), wanted, strict=True):
            text = as_typed(number, path, one["unit"])
            if one["value"].replace("\N{MINUS SIGN}", "-") != text:
                with self.sending(sends):
                    self.type(seen.element(one), text)

    def fill_paths(self, seen, wanted, sends):
        """Values under dotted paths, typed one after another."""
        for path, value in wanted.items():
            entries = seen.node.locator(".new-path input")
            self.type(entries.nth(0), path)
            self.type(entries.nth(1), str(value))
            with self.sending(sends):
                self.press(seen.node.locator(".new-path button"))

    def tick(self, seen, wanted, sends):
        """Tick what is wanted of what may be."""
        for one in seen.of("tick"):
            if one["checked"] != (one["value"] in wanted):
                with self.sending(sends):
                    self.press(seen.element(one))

    def paste_table(self, seen, path, wanted, sends):
        """Paste all rows of a table, each number in the unit of its column."""
        units = [head.rpartition(", ")[2] for head in seen.heads]
        rows = [_row_of(one, seen.heads) for one in wanted]
        cells = [
            [as_typed(n, path, u) for n, u in zip(row, units, strict=True)] for row in rows
        ]
        self.press(seen.button("paste a table"))
        self.paste(seen.node.locator("textarea").first, "\n".join("\t".join(c) for c in cells))
        with self.sending(sends):
            self.press(seen.node.get_by_role("button", name="Use these rows"))


def _row_of(entry, heads):
    """An entry of a table as a row, its values under the headings that name them."""
    if not isinstance(entry, dict):
        return entry if isinstance(entry, list) else [entry]
    words = {UNITS.sub("", key).replace("_", " "): key for key in entry}
    return [next(entry[words[w]] for w in words if head.startswith(w)) for head in heads]


def as_typed(number, path, unit):
    """A number as it is typed in a unit; the document has metres where its key says so."""
    return times(number, 1000 if unit == "mm" and re.search(r"_m(\.|$)", path) else 1)


def times(number, factor):
    """A number so many times, with the digits it has."""
    return f"{Decimal(str(number)) * factor:f}"
