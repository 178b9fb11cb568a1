"""The fields on the Boat page, found and filled in without knowing what they are."""

import re
from dataclasses import dataclass, field

LINES = ("centreline", "chine-1")
MINUS = "\N{MINUS SIGN}"
CONTROLS = """() => {
    const seen = new Map();
    const inside = document.querySelector('.boat-page > section');
    const all = inside.querySelectorAll('input, select, textarea');
    return [...all].flatMap((e) => {
        const at = e.closest('[data-path]');
        const isOther = e.type === 'range' || e.closest('.paste, form, .new-path');
        if (!at || isOther || !e.checkVisibility()) return [];
        const path = at.dataset.path;
        const n = seen.get(path) ?? 0;
        seen.set(path, n + 1);
        const columns = e.closest('tr, .row')?.querySelectorAll('.typed').length ?? 0;
        const kind = e.type === 'checkbox' ? 'tick' : e.localName === 'select' ? 'choice'
            : e.closest('.typed') ? 'number' : 'text';
        const options = e.localName === 'select' ? [...e.options].map((o) => o.value) : [];
        const whole = e.inputMode === 'numeric';
        return [{ path, n, kind, value: e.value, options, columns, whole }];
    });
}"""
CONTROL = """({ path, n }) => {
    const at = document.querySelector(`.boat-page > section [data-path="${CSS.escape(path)}"]`);
    return [...(at?.querySelectorAll('input, select, textarea') ?? [])].filter((e) =>
        e.type !== 'range' && e.checkVisibility() && !e.closest('.paste, form, .new-path')
        && e.closest('[data-path]') === at)[n] ?? null;
}"""

ENTRIES = """(above) => [...document.querySelectorAll('.boat-page > section [data-entry]')]
    .filter((e) => (e.parentElement.closest('[data-entry]')?.dataset.entry ?? '') === above)
    .map((e) => e.dataset.entry)"""


@dataclass(frozen=True)
class Control:
    """A field as it stands on the page."""

    path: str
    n: int
    kind: str
    value: str
    options: list
    columns: int
    whole: bool


@dataclass
class BoatPage:
    """The Boat page of a boat, and what was edited on it so far."""

    page: object
    refit: str
    edited: set = field(default_factory=set)
    done: set = field(default_factory=set)
    refused: dict = field(default_factory=dict)

    def __post_init__(self):
        self._answers = []
        self.page.on("response", lambda one: is_edit(one) and self._answers.append(one))

    def document(self):
        """The boat's document, as the server has it."""
        address = f"/api/refits/{self.refit}/revisions/working?full=false"
        return self.page.evaluate(
            "a => fetch(a).then((r) => r.json()).then((w) => w.document)", address
        )

    def go(self, section):
        """Show a section, without a reload."""
        self.page.evaluate("s => { location.hash = `#/boat?section=${s}`; }", section)
        self.page.locator(f'.boat-page > section[data-section="{section}"]').wait_for()

    def controls(self):
        """Every field of the section that is seen by now."""
        return [Control(**one) for one in self.page.evaluate(CONTROLS)]

    def handle(self, control):
        """The element of a field, as it is by now."""
        place = {"path": control.path, "n": control.n}
        return self.page.evaluate_handle(CONTROL, place).as_element()

    def answered(self, act):
        """Do something that is sent, and answer with what the server says of it."""
        with self.page.expect_response(is_edit):
            act()
        self.page.locator('.answer[aria-busy="false"]').wait_for()
        return self._answers[-1]

    def undo(self, times):
        """Take back the last edits by the keyboard."""
        self.page.evaluate("document.activeElement.blur()")
        for _ in range(times):
            assert self.answered(lambda: self.page.keyboard.press("Control+z")).ok

    def edit(self, control):
        """Give a field another value that is taken; whether there was one."""
        for candidate in candidates(control):
            answer = self._try(control, candidate)
            if answer is not None and answer.ok:
                return True
            if answer is not None:
                self.refused[control.path] = answer.json().get("detail", "")
        return False

    def _try(self, control, candidate):
        """What the server says of a value; None where the field itself refuses it."""
        element = self.handle(control)
        if control.kind == "tick":
            return self.answered(element.click)
        if control.kind == "choice":
            return self.answered(lambda: element.select_option(candidate))
        element.fill(candidate)
        if control.kind == "text":
            return self.answered(lambda: element.press("Tab"))
        return self.answered(lambda: element.press("Enter"))

    def use(self, words, answers, which=0):
        """Open the form behind a button, fill it in by its labels, and send it."""
        self.page.get_by_role("button", name=words, exact=True).nth(which).click()
        form = self.page.locator("form.draft")
        for label, value in answers.items():
            control = form.get_by_label(label).last
            if control.evaluate("e => e.localName") == "select":
                control.select_option(value)
            else:
                control.fill(value)
                control.press("Tab")
        return self.answered(form.locator("button[type=submit]").click)

    def entries(self, above=""):
        """Paths of the named things listed below a place: the section, or an opened thing."""
        return self.page.evaluate(ENTRIES, above)

    def turn(self, entry):
        """Open a named thing, or close it."""
        self.page.locator(f'[data-entry="{entry}"] > .named-head > [aria-expanded]').click()

    def is_open(self, entry):
        """Whether a named thing is open."""
        head = self.page.locator(f'[data-entry="{entry}"] > .named-head > [aria-expanded]')
        return head.get_attribute("aria-expanded") == "true"


def is_edit(response):
    """Whether a response is to an edit of the working copy."""
    request = response.request
    places = "/revisions/working", "/hull-sources/lines"
    is_there = any(place in request.url for place in places) and "/proposals" not in request.url
    return request.method in ("PATCH", "POST") and is_there


def candidates(control):
    """Values that may well stand in a field instead, the likeliest first."""
    match control.kind:
        case "tick":
            return [""]
        case "choice" if control.path.endswith("_line") and control.value in LINES:
            return _other_texts(control.value)  # both edges of a plate move, one after another
        case "choice":
            others = [one for one in control.options if one != control.value]
            return sorted(others, key=lambda one: one == "")
        case "text":
            return _other_texts(control.value)
    number = float(control.value.replace(MINUS, "-") or 0)
    digits = 0 if control.whole else max(2, len(control.value.partition(".")[2]))
    steps = (number + by / 10**digits for by in (1, -1, 10, -10, 100, -100))
    return [f"{step:.{digits}f}" for step in steps]


def _other_texts(text):
    """Another note or line; another length of the same part; another number."""
    longer = [f"{text}x"]
    if text in LINES:
        return ["chine-1" if text == "centreline" else "chine-2"]
    number = [str(float(text) + 1.0)] if re.fullmatch(r"[0-9.]+", text) else []
    path = [text.replace("side_height_m", "roof_camber_m")] if "side_height_m" in text else []
    return [*number, *path, *longer]


def differing(before, after, steps=()):
    """Steps to everything that differs between two documents."""
    if before == after:
        return
    if isinstance(before, dict | None) and isinstance(after, dict | None):
        before, after = before or {}, after or {}
        for key in dict.fromkeys([*before, *after]):
            yield from differing(before.get(key), after.get(key), (*steps, key))
    elif isinstance(before, list | None) and isinstance(after, list | None):
        yield from _differing_in_lists(before or [], after or [], steps)
    else:
        yield steps


def _differing_in_lists(before, after, steps):
    if len(before) != len(after):
        yield (*steps, str(min(len(before), len(after))))
        return
    for i, (one, other) in enumerate(zip(before, after, strict=True)):
        yield from differing(one, other, (*steps, str(i)))
