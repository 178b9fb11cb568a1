"""An owner who enters a whole boat on the pages: begins her, and goes through the Boat page.

She knows her boat as a document would say it. Each form is found by the path of what it is for,
and nothing is known of any boat.
"""

import re
from dataclasses import dataclass

from fields import BoatPage, differing
from owner_hand import Hand, times
from paper import KNOWN, VIEWS, drawing_of, pressed, say_where_the_crosses_are, traced

from hullchange.document.reading import document_of

SECTIONS = (
    ("boat", ("boat", "water", "allowances")),
    ("lines", ("hull.lines", "hull.length_waterline_m", "hull.from", "hull.taped")),
    ("lines", ("hull.read_again",)),
    ("deck", ("hull.deck",)),
    ("keel", ("hull.appendages",)),
    ("deck", ("hull.plating",)),
    ("existing", ("existing",)),
    ("tanks", ("tanks", "voids", "hull.compartments")),
    ("aboard", ("survey.aboard", "weights")),
    ("freeboards", ("survey.marks", "survey")),
    ("changes", ("changes",)),
    ("rig", ("rig",)),
    ("openings", ("openings",)),
    ("conditions", ("conditions", "reference_condition")),
    ("targets", ("targets",)),
    ("options", ("options",)),
    ("stock", ("stock", "cutting")),
    ("trials", ("trials",)),
)
"""The sections in the order she fills them in: what others name comes first."""
FIRST = ("parts", "like")
"""Keys of a thing that its other keys may name."""
READINGS = {
    **{"x_m": 1, "sheer_z_m": 1, "freeboard_m.port": 1000, "freeboard_m.starboard": 1000},
    "plus_minus_m": 1000,
}
"""The readings of a mark in the order of its form, and how often a metre their unit goes."""


def begun(page, wanted, dimensions, of=None):
    """An owner (of a kind) who has begun a boat by her name and main dimensions."""
    hand = Hand(page)
    form = page.get_by_role("form", name="Begin a boat")
    hand.type(form.get_by_label("New boat, name"), wanted["boat"]["name"])
    for key, value in dimensions.items():
        entry = form.locator(f'[name="{key}"]')
        if isinstance(value, str):
            hand.choose(entry, value)
        else:
            hand.type(entry, str(value))
    hand.press(form.get_by_role("button", name="Begin"))
    page.locator(".answer-figure").first.wait_for()
    return (of or Owner)(page, hand.made, wanted=wanted)


@dataclass
class Owner(Hand):
    """An owner at the Boat page of a boat that she knows."""

    wanted: dict = None

    def __post_init__(self):
        super().__post_init__()
        refit = self.page.evaluate(
            "new URLSearchParams(location.hash.split('?')[1]).get('boat')"
        )
        self.boat = BoatPage(self.page, refit)
        self.document = self.boat.document()
        self._wanted = _read(self.wanted)

    def enter_all(self):
        """Go through all sections."""
        for section, paths in SECTIONS:
            self.enter(section, paths)

    def enter(self, section, paths):
        """Enter what belongs to some paths in a section."""
        own = {
            "hull.lines": self.enter_lines,
            "hull.appendages": self.put_appendages,
            "survey.marks": self.put_marks,
            "survey": lambda: self.put_group("survey", ("marks", "aboard")),
            "openings": self.put_openings,
        }
        self.made["pressed"] += 1
        self.boat.go(section)
        self._seen.clear()
        for path in paths:
            if self.differs(path):
                own.get(path, lambda path=path: self.put(path))()

    def left(self):
        """Paths of all that means something else than what is wanted."""
        return [".".join(one) for one in differing(_read(self.document), self._wanted)]

    def differs(self, path):
        """Whether what stands at a path means something else than what is wanted."""
        if _at(self.document, path) == _at(self.wanted, path):
            return False
        return _at(_read(self.document), path) != _at(self._wanted, path)

    def is_there(self, path):
        """Whether the section has a field at a path."""
        return self.section.locator(f'[data-path="{path}"]').count() > 0

    def put(self, path):
        """Make what stands at a path what is wanted, by whatever form is there for it."""
        wanted = _at(self.wanted, path)
        usual = _at(self._wanted, path)
        if wanted is None and not isinstance(usual, dict | list):
            wanted = usual
        if not self.is_there(path):
            self.put_group(path)  # its section has nothing else
            return
        seen = self.look(path)
        if seen.named:
            self.put_named(path)
        elif wanted is None:
            self.take_out(path)
        elif seen.absent:
            self.put_in(path)
        elif isinstance(wanted, dict) and seen.below:
            self.put_group(path)
        elif seen.fits(wanted):
            self.fill(self.section, path, wanted, sends=True)
            assert not self.differs(path), f"{path} is {_at(self.document, path)}"
        else:
            self.give_instead(path, wanted)

    def put_group(self, path, but=()):
        """The same for each entry of a group, and for what excludes another first."""
        wanted = _at(self.wanted, path)
        both = dict.fromkeys([*wanted, *(_at(self.document, path) or {})])
        keys = sorted((key for key in both if key not in but), key=lambda key: key not in FIRST)
        hidden = [key for key in keys if not self.is_there(f"{path}.{key}")]
        hidden = [key for key in hidden if key in wanted and key != "kind"]
        if any(self.differs(f"{path}.{key}") for key in hidden):
            self.give_instead(path, {key: wanted[key] for key in hidden})
        for key in keys:
            if self.differs(f"{path}.{key}"):
                self.put(f"{path}.{key}")

    def give_instead(self, path, wanted):
        """Fill in the form behind a button "... instead" that has room for it."""
        buttons = self.section.locator("button:has-text(' instead')")
        for n in range(buttons.count()):
            buttons.nth(n).click()
            form = self.section.locator("form.draft")
            form.wait_for()
            is_here = form.locator(f'[data-path="{path}"]').count() > 0
            if is_here and self.look(path, form).fits(wanted):
                self.made["pressed"] += 1
                self.send(form, path, wanted)
                return
            form.get_by_role("button", name="cancel").click()
        raise AssertionError(f"no form for {wanted} at {path}")

    def put_named(self, path):
        """Things under names: each that is not wanted deleted, the others entered or edited."""
        names = _at(self.wanted, path) or {}
        for name in _at(self.document, path) or {}:
            if name not in names:
                head = self.section.locator(f'[data-entry="{path}.{name}"] > .named-head')
                with self.sending():
                    self.press(head.get_by_role("button", name="Delete"))
        for name in names:
            entry = f"{path}.{name}"
            if _at(self.document, entry) is None:
                self.add_named(path, name)
            if self.differs(entry):
                self.open(entry)
                if isinstance(names[name], dict):
                    self.put_group(entry)
                else:
                    self.put(entry)

    def open(self, entry):
        """Open a named thing, unless it is open."""
        if not self.boat.is_open(entry):
            self.press(
                self.section.locator(f'[data-entry="{entry}"] > .named-head button').first
            )

    def add_named(self, path, name, wanted=None):
        """Fill in the form of a new thing with a name, and send it."""
        node = self.section.locator(f'[data-path="{path}"] > .named-list')
        self.press(node.locator("> button"))
        form = node.locator("> form.draft")
        self.give_name(form, name)
        entry = f"{path}.{name}"
        self.send(form, entry, _at(self.wanted, entry) if wanted is None else wanted)

    def give_name(self, form, name):
        """Type the name of a new thing, or choose what it is about."""
        entry = form.locator(".named input")
        if entry.count():
            self.type(entry, name.replace("-", " "))
        else:
            self.choose(form.locator("> label.choice select"), name)

    def send(self, form, path, wanted):
        """Fill in a form, and send it as a whole; it then closes, and nothing of it is lost."""
        self.fill(form, path, wanted)
        fields = {one for one in self.look(path, form).below if self.look(one, form).own}
        with self.sending():
            self.press(form.locator("button[type=submit]"))
        form.wait_for(state="detached")
        for key in wanted if isinstance(wanted, dict) else ():
            place = f"{path}.{key}"
            is_kept = _at(self.document, place) == wanted[key] or not self.differs(place)
            assert is_kept or place not in fields, f"{place} was lost"

    def put_in(self, path):
        """What is not there yet: by its form, or begun with usual dimensions and edited."""
        seen = self.look(path)
        begin = seen.button("put in")
        if begin is None:
            self.press(seen.button("add"))
            self.send(seen.node.locator("form.draft"), path, _at(self.wanted, path))
            return
        with self.sending():
            self.press(begin)
        if self.differs(path):
            self.put(path)

    def take_out(self, path):
        """Take out what may be left out."""
        seen = self.look(path)
        button = seen.button("leave out")
        with self.sending():
            if button:
                self.press(button)
            elif seen.of("select"):
                self.choose(seen.element(seen.of("select")[0]), "")
            else:
                self.type(seen.element(seen.own[0]), "")

    # what has a form of its own

    def trace_lines(self, coarse=3):
        """Trace every third point or so over her drawing, and use the lines."""
        lines = self.wanted["hull"]["lines"]
        self.press(self.section.get_by_role("button", name="a drawing or photo"))
        for view, axis in VIEWS.items():
            self.choose(self.section.get_by_role("combobox", name="view"), view)
            self.made["files opened"] += 1
            png = {"name": f"{view}.png", "mimeType": "image/png"}
            png["buffer"] = drawing_of(lines, view)
            self.section.locator(".source input[type=file]").set_input_files(png)
            self.section.get_by_alt_text("The drawing to trace").wait_for()
            for name, line in lines.items():
                points = line["points_m"]
                if any(point[axis] for point in points):
                    some = [*points[:-1:coarse], points[-1]]
                    traced(self.page, name, [(p[0], p[axis]) for p in some])
                    self.made.update({"typed": 1, "pressed": 1, "traced": len(some)})
            self.press(self.section.get_by_role("button", name="marks", exact=True))
            pressed(self.page, KNOWN)
            say_where_the_crosses_are(self.page)
            self.made.update({"traced": len(KNOWN), "typed": 2 * len(KNOWN)})
        self.press(self.section.get_by_role("button", name="Read the drawing"))
        with self.sending():
            self.press(self.section.get_by_role("button", name="Use these lines"))

    def enter_lines(self):
        """Trace them over her drawing; then paste what was read ashore as one table."""
        self.trace_lines()
        lines = self.wanted["hull"]["lines"]
        rows = [("line", "kind", "x_m", "y_m", "z_m")]
        rows += [
            (name, one["kind"], *p) for name, one in lines.items() for p in one["points_m"]
        ]
        self.press(self.section.get_by_role("button", name="a table or CSV file"))
        table = "\n".join("\t".join(str(cell) for cell in row) for row in rows)
        self.paste(self.section.get_by_label("or paste it from a spreadsheet"), table)
        self.press(self.section.get_by_role("button", name="Read the table"))
        with self.sending():
            self.press(self.section.get_by_role("button", name="Use these lines"))

    def put_marks(self):
        """The freeboards as read, each typed over what stands there."""
        marks = self.wanted["survey"]["marks"]
        for name in marks:
            path = f"survey.marks.{name}"
            if _at(self.document, path) is None:
                self.add_mark(path)
            for key, factor in READINGS.items():
                if self.differs(f"{path}.{key}"):
                    seen = self.look(f"{path}.{key}")
                    reading = times(_at(self.wanted, f"{path}.{key}"), factor)
                    with self.sending():
                        self.type(seen.element(seen.own[0]), reading)
        for name in _at(self.document, "survey.marks"):
            if name not in marks:
                mark = self.section.get_by_role("button", name=f"Delete mark {name}")
                with self.sending():
                    self.press(mark)

    def add_mark(self, path):
        """Fill in the form of a new mark."""
        self.press(self.section.get_by_role("button", name="add a mark"))
        form = self.section.get_by_role("form", name="A new mark")
        self.give_name(form, path.rpartition(".")[2])
        for key in list(READINGS)[:-1]:
            entry = form.locator(f'[name="{re.search("sheer|port|starboard|x", key)[0]}"]')
            self.type(entry, times(_at(self.wanted, f"{path}.{key}"), READINGS[key]))
        with self.sending():
            self.press(form.get_by_role("button", name="Add", exact=True))

    def put_appendages(self):
        """Keel and rudder; of the first a point is not typed but dragged."""
        path = "hull.appendages"
        for name, one in self.wanted["hull"]["appendages"].items():
            outline = one["outline_m"]
            if _at(self.document, f"{path}.{name}") is None and len(outline) > 2:
                self.add_named(path, name, one | {"outline_m": [*outline[:1], *outline[2:]]})
                self.drag_out(f"{path}.{name}")
                break
        self.put_named(path)

    def drag_out(self, path):
        """Drag the second point of an outline out of the middle of the first edge."""
        x, z = _at(self.wanted, f"{path}.outline_m")[1]
        drawing = self.section.locator(
            ".side-drawing", has=self.page.locator(".handle-grip")
        ).first
        drawing.scroll_into_view_if_needed()
        ends = [_middle(one) for one in drawing.locator(".handle-grip:not(.new)").all()]
        (x0, z0), (x1, _) = (_at(self.document, f"{path}.outline_m")[i] for i in (0, -1))
        per = (ends[-1][0] - ends[0][0]) / (x1 - x0)
        self.made["dragged"] += 1
        with self.sending():
            self.page.mouse.move(*_middle(drawing.locator(".handle-grip.new").first))
            self.page.mouse.down()
            spot = round(ends[0][0] + per * (x - x0)), round(ends[0][1] - per * (z - z0))
            self.page.mouse.move(*spot)
        self.page.mouse.up()
        self.nudge(f"{path}.outline_m", (x, z))

    def nudge(self, path, to):
        """Move the second point of an outline by the arrow keys to where it belongs."""
        handle = self.section.locator(".side-drawing .handle-grip:not(.new)").nth(1)
        for i, (more, less) in enumerate(
            (("ArrowRight", "ArrowLeft"), ("ArrowUp", "ArrowDown"))
        ):
            while abs(off := to[i] - _at(self.document, path)[1][i]) > 1e-9:
                self.made["pressed"] += 1
                with self.sending():
                    handle.press(more if off > 0 else less)

    def put_openings(self):
        """Openings; the edge of the first is pressed on the boat, then put right by a paste."""
        name = next(iter(self.wanted["openings"]))
        self.made["pressed on the boat"] += 1
        self.section.locator(".picker canvas").click()
        self.press(self.section.get_by_role("button", name="A new opening with these points"))
        form = self.section.get_by_role("form", name="New opening")
        self.give_name(form, name)
        self.send(form, f"openings.{name}", self.wanted["openings"][name])
        self.put_named("openings")


@dataclass
class OwnerWithFile(Owner):
    """An owner whose lines lie in a file: millimetres, heights first, no line in its order."""

    def enter_lines(self):
        """Open the file, and use the lines in it."""
        lines = self.wanted["hull"]["lines"]
        rows = [("height_mm", "half breadth (mm)", "x_mm", "line", "kind")]
        for name, one in reversed(lines.items()):
            points = [[times(n, 1000) for n in reversed(point)] for point in one["points_m"]]
            rows += [(*point, name, one["kind"]) for point in points]
        self.press(self.section.get_by_role("button", name="a table or CSV file"))
        self.made["files opened"] += 1
        content = "\n".join(";".join(row) for row in rows).encode()
        given = {"name": "lines.csv", "mimeType": "text/csv", "buffer": content}
        self.section.locator(".source input[type=file]").set_input_files(given)
        with self.sending():
            self.press(self.section.get_by_role("button", name="Use these lines"))


def _middle(element):
    box = element.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def _at(document, path):
    """What stands at a path of a document; None where nothing does."""
    for step in path.split("."):
        document = document.get(step) if isinstance(document, dict) else None
    return document


def _read(plain):
    """A document with all that it leaves to usual values."""
    return document_of(plain).model_dump(mode="json", by_alias=True, exclude_none=True)
