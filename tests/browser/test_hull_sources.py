"""Where a hull comes from, each page used as an owner uses it, on boats unlike the demo.

Every test leaves the boat as it found her: what is taken over is undone by the keyboard.
"""

import math
import re
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from fields import BoatPage
from onpage import page_over
from paper import KNOWN, VIEWS, drawing_of, pressed, say_where_the_crosses_are, traced
from playwright.sync_api import expect
from scans import scan_of

from hullchange.document.reading import read_document
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput

EXAMPLES = Path(__file__).parents[2] / "examples"
LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)
EIGHTH = Fraction(3175, 1_000_000)  # [m] of an inch


def hull_with(lines, triangles=6000):
    """The hull of lines as a document has them."""
    given = tuple(
        LineInput(name, line["kind"], tuple(map(tuple, line["points_m"])))
        for name, line in lines.items()
    )
    return hull_of(HullInput(given), triangles)


def volume(lines):
    """Below the design waterline [m^3]."""
    return integrals_below(hull_with(lines).surface, LEVEL).volume


BRACKWREN = read_document(EXAMPLES / "brackwren.yaml").plain
FERNSKERRY = read_document(EXAMPLES / "fernskerry.yaml").plain
SLOOP, KETCH = BRACKWREN["hull"]["lines"], FERNSKERRY["hull"]["lines"]


class SourcePage(BoatPage):
    """The part of the Boat page where a hull comes from."""

    def open(self, words):
        """Show a source, as it was left."""
        button = self.page.get_by_role("button", name=words, exact=True)
        if button.get_attribute("aria-pressed") == "false":
            button.click()

    def read(self, words):
        """Press a button that asks for a preview; what is refused, or nothing."""
        with self.page.expect_response("**/hull-sources/**") as caught:
            self.page.get_by_role("button", name=words).click()
        if caught.value.ok:
            expect(self.preview).to_be_visible()
            return ""
        return self.refusal()

    def refusal(self):
        """The one sentence that says why something was not taken."""
        alert = self.page.locator(".source [role=alert]")
        expect(alert).to_have_count(1)
        assert len(alert.inner_text()) < 300
        return alert.inner_text()

    @property
    def source(self):
        """The page of the source that is open."""
        return self.page.locator(".source")

    @property
    def preview(self):
        """What was read, before it is taken over."""
        return self.page.get_by_role("region", name="What was read")

    def file(self, name, content):
        """Choose a file for the source that is open."""
        given = {"name": name, "mimeType": "application/octet-stream", "buffer": content}
        self.page.locator(".source input[type=file]").set_input_files(given)

    def used(self):
        """The working copy with the lines of the preview, which then are undone."""
        before = self.document()
        use = self.preview.get_by_role("button", name="Use these lines")
        with self.page.expect_response("**/hull-sources/lines*") as caught:
            use.click()
        assert caught.value.ok, caught.value.text()
        taken = caught.value.json()
        expect(self.preview.get_by_role("status")).to_contain_text(
            "These are now the hull's lines"
        )
        self.undo(1)
        assert self.document() == before
        return taken


@pytest.fixture(scope="module")
def boat(tmp_path_factory, chromium):
    """The lines of a bare Brackwren."""
    bare = {key: BRACKWREN[key] for key in ("format", "boat", "survey")}
    bare["survey"] = {key: bare["survey"][key] for key in ("water", "marks")}
    bare["survey"]["vcg"] = {"z_m": 0.1, "plus_minus_m": 0.05, "from": "guessed"}
    hull = {
        key: BRACKWREN["hull"][key] for key in ("kind", "length_waterline_m", "lines", "deck")
    }
    folder = tmp_path_factory.mktemp("yard")
    with page_over(bare | {"hull": hull}, folder, chromium, refusals=True) as page:
        page.context.grant_permissions(["clipboard-read", "clipboard-write"])
        page.locator(".answer-figure").first.wait_for()
        found = SourcePage(page, "other")
        found.go("lines")
        yield found


@pytest.fixture(autouse=True)
def unchanged(boat):
    """Whatever was tried, the boat is as she was."""
    before = boat.document()
    yield
    assert boat.document() == before


def table_of(lines, number, heading="line;x;y;z", order=("line", 0, 1, 2)):
    """Rows of the points of lines, each number as a function writes it."""
    rows = [heading] if heading else []
    for name, line in lines.items():
        for point in line["points_m"]:
            cells = [name if one == "line" else number(point[one]) for one in order]
            rows.append(";".join(cells))
    return "\n".join(rows)


def eighths(value):
    """Whole eighths of an inch in a length [m]."""
    return round(Fraction(value) / EIGHTH)


def as_offset(value):
    """Feet, inches and eighths."""
    count = abs(eighths(value))
    sign = "-" if value < 0 else ""
    return f"{sign}{count // 96}-{count // 8 % 12}-{count % 8}"


def in_metres(value):
    """The same length to the last digit."""
    return f"{float(eighths(value) * EIGHTH):.6f}"


def test_offsets_in_feet_and_metres_give_one_answer_to_the_digit(boat):
    boat.open("a table or CSV file")
    typed = boat.page.get_by_label("or paste it from a spreadsheet, or type it")
    unit = boat.source.get_by_label("unit")
    answers = []
    for unit_word, number in (("ft-in-8", as_offset), ("m", in_metres)):
        typed.fill(table_of(KETCH, number))
        unit.select_option(unit_word)
        assert boat.read("Read the table") == ""
        answers.append(boat.used())
    feet, metres = answers
    assert feet["document"] == metres["document"]
    assert feet["assessment"] == metres["assessment"]
    assert feet["document"]["hull"]["lines"]["chine-4"]["points_m"][3][0] == pytest.approx(
        KETCH["chine-4"]["points_m"][3][0], abs=0.0016
    )
    assert volume(feet["document"]["hull"]["lines"]) == pytest.approx(volume(KETCH), rel=0.005)


def test_a_file_in_another_order_or_unit_is_asked_about_and_loses_nothing(boat):
    boat.open("a table or CSV file")
    page = boat.page
    typed = page.get_by_label("or paste it from a spreadsheet, or type it")
    boat.source.get_by_label("unit").select_option("")
    millimetres = table_of(
        SLOOP, lambda v: f"{1000 * v:.0f}", heading="", order=(2, 0, "line", 1)
    )
    boat.file("lines.csv", millimetres.encode())
    assert "Which column is which?" in boat.refusal()
    expect(typed).to_have_value(millimetres)
    page.get_by_label("columns, if there is no heading").fill("z x line y")
    assert "What is the unit" in boat.read("Read the table")
    boat.source.get_by_label("unit").select_option("mm")
    assert boat.read("Read the table") == ""
    taken = boat.used()["document"]["hull"]
    assert taken["from"]["note"] == "lines.csv"
    assert taken["lines"] == {
        name: line | {"points_m": [list(map(float, p)) for p in line["points_m"]]}
        for name, line in SLOOP.items()
    }
    boat.source.get_by_label("unit").select_option("ft")
    assert boat.read("Read the table") == ""
    expect(boat.preview).to_contain_text("is the unit right (ft)?")
    # another section, and back: everything typed is still there
    boat.go("freeboards")
    boat.go("lines")
    boat.open("a table or CSV file")
    expect(typed).to_have_value(millimetres)
    expect(boat.source.get_by_label("unit")).to_have_value("ft")
    for label in ("unit", "columns, if there is no heading"):
        control = boat.source.get_by_label(label)
        _ = control.select_option("") if label == "unit" else control.fill("")


def test_a_line_with_a_missing_end_is_asked_for(boat):
    boat.open("a table or CSV file")
    sheer = SLOOP["sheer"] | {"points_m": SLOOP["sheer"]["points_m"][:-4]}
    table = table_of(SLOOP | {"sheer": sheer}, str, heading="line;x_m;y_m;z_m")
    boat.page.get_by_label("or paste it from a spreadsheet, or type it").fill(table)
    assert boat.read("Read the table") == ""
    wanted = boat.preview.locator("h4", has_text="Still missing").locator("+ ul > li")
    expect(wanted).to_have_text(
        ["Line sheer ends at x 6.10 m, 2.30 m short of the others: is its after end missing?"]
    )


MARKS = {"A": (0.4, 3.1, -1.7), "B": (8.2, 2.9, -1.7), "C": (3.9, 3.4, 1.3)}


def test_distances_by_tape_from_three_marks_give_the_lines(boat):
    boat.open("tape from marks")
    page = boat.page
    for row, (name, place) in enumerate(MARKS.items(), 1):
        cells = dict(zip(("mark", "x", "y", "z"), (name, *place), strict=True))
        for column, value in cells.items():
            page.get_by_label(f"Marks, {column}, {row}", exact=True).fill(str(value))
    rows = [
        "\t".join([name, *(f"{math.dist(point, place):.3f}" for place in MARKS.values())])
        for name, line in SLOOP.items()
        for point in line["points_m"]
    ]
    page.evaluate("text => navigator.clipboard.writeText(text)", "\n".join(rows))
    page.get_by_label("Distances, line, 1", exact=True).focus()
    page.keyboard.press("Control+v")
    last = page.get_by_label(f"Distances, C, {len(rows)}", exact=True)
    expect(last).to_have_value(rows[-1].split("\t")[-1])
    assert boat.read("Calculate the points") == ""
    lines = boat.used()["document"]["hull"]["lines"]
    assert {name: line["kind"] for name, line in lines.items()} == {
        name: line["kind"] for name, line in SLOOP.items()
    }
    for name, line in lines.items():
        off = np.array(line["points_m"]) - np.array(SLOOP[name]["points_m"])
        assert np.abs(off).max() < 0.02, name
    assert volume(lines) == pytest.approx(volume(SLOOP), rel=0.01)
    # a mark moved into line with the others: refused, and every cell is still there
    for axis, value in zip("xyz", np.mean([MARKS["A"], MARKS["B"]], axis=0), strict=True):
        page.get_by_label(f"Marks, {axis}, 3", exact=True).fill(f"{value:.2f}")
    assert "The marks lie in a line" in boat.read("Calculate the points")
    expect(last).to_have_value(rows[-1].split("\t")[-1])
    # a mark that is deleted takes its distances with it
    page.get_by_role("button", name="Delete row 2 of Marks").click()
    first = page.get_by_label("Distances, C, 1", exact=True)
    expect(first).to_have_value(rows[0].split("\t")[-1])
    assert "At least three marks are needed" in boat.read("Calculate the points")


def test_a_drawing_is_traced_over(boat):
    boat.open("a drawing or photo")
    page = boat.page
    for view, names in (
        ("profile", ("rabbet", "chine", "sheer")),
        ("plan", ("chine", "sheer")),
    ):
        page.get_by_role("combobox", name="view").select_option(view)
        boat.file(f"{view}.png", drawing_of(SLOOP, view))
        expect(page.get_by_alt_text("The drawing to trace")).to_be_visible()
        page.get_by_label("larger").fill("3")
        for name in names:
            traced(page, name, [(p[0], p[VIEWS[view]]) for p in SLOOP[name]["points_m"]])
        if view == "profile":
            assert "Profile: The picture has no scale" in boat.read("Read the drawing")
        page.get_by_role("button", name="marks", exact=True).click()
        pressed(page, KNOWN)
        page.get_by_role("button", name="Read the drawing").click()
        assert "Type where mark 1" in boat.refusal()
        say_where_the_crosses_are(page)
    # a file that is no picture: what was traced stays
    boat.file("notes.png", b"no picture")
    assert "The browser cannot show this picture" in boat.refusal()
    boat.open("tape from marks")
    boat.open("a drawing or photo")
    assert boat.read("Read the drawing") == ""
    lines = boat.used()["document"]["hull"]["lines"]
    assert list(lines) == list(SLOOP)
    assert volume(lines) == pytest.approx(volume(SLOOP), rel=0.02)


def ply_of(points):
    """A PLY file of a cloud (n, 3) [m]."""
    head = (
        f"ply\nformat binary_little_endian 1.0\nelement vertex {len(points)}\n"
        "property float x\nproperty float y\nproperty float z\nend_header\n"
    )
    return head.encode() + points.astype("<f4").tobytes()


def stl_of(vertices, faces):
    """An STL file of triangles [m]."""
    kind = np.dtype([("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
    rows = np.zeros(len(faces), kind)
    rows["v"] = vertices[faces]
    return bytes(80) + np.uint32(len(faces)).tobytes() + rows.tobytes()


def cloud_shown(boat, name, content):
    """The points that are drawn of a scan that is opened."""
    with boat.page.expect_response("**/hull-sources/cloud*") as caught:
        boat.file(name, content)
    expect(boat.page.locator("canvas.cloud")).to_be_visible()
    expect(boat.page.get_by_role("button", name="waterline (0)")).to_be_visible()
    return np.array(caught.value.json()["points_m"])


def pick_waterline(boat, shown, marks):
    """Press marks on the side of the scan where they are."""
    page, canvas = boat.page, boat.page.locator("canvas.cloud")
    low, high = shown.min(axis=0), shown.max(axis=0)
    zoom = float(page.get_by_label("larger").input_value())
    per = zoom * min(620.0 / (high[0] - low[0]), 280.0 / (high[2] - low[2]))
    middle = float(np.median(shown[:, 1]))
    for x, y, z in marks:
        is_near = y < middle
        page.get_by_role(
            "button", name="from one side" if is_near else "from the other side"
        ).click()
        scale = canvas.bounding_box()["width"] / (640.0 * zoom)
        right = (x - low[0]) if is_near else (high[0] - x)
        spot = (10.0 + right * per) * scale, (10.0 + (high[2] - z) * per) * scale
        canvas.click(position={"x": spot[0], "y": spot[1]})


def picked(boat, name, axis):
    """One coordinate [m] of all that is picked."""
    boxes = boat.source.get_by_label(re.compile(rf"^{name} \d+, {axis}$")).all()
    return np.array([float(one.input_value().replace("\N{MINUS SIGN}", "-")) for one in boxes])


@pytest.mark.slow
def test_a_scan_is_opened_and_marked(boat):
    boat.open("a scan")
    page = boat.page
    hull = hull_with(KETCH)
    scan = scan_of(hull, 3, at_stem=True)
    shown = cloud_shown(boat, "ashore.ply", ply_of(scan.points))
    assert "Pick three marks" in boat.read("Read the scan")
    page.get_by_label("larger").fill("6")
    pick_waterline(boat, shown, scan.waterline)
    across, up = (picked(boat, "waterline", axis) for axis in "yz")
    assert up == pytest.approx(scan.waterline[:, 2], abs=0.006)
    sections = (hull.section(share * hull.length) for share in (0.15, 0.8))
    breadths = [2.0 * np.interp(0.0, section[:, 1], section[:, 0]) for section in sections]
    assert across[[0, 2]] - across[[1, 3]] == pytest.approx(breadths, abs=0.1)
    for axis, value in zip("xyz", scan.waterline[-1], strict=True):
        box = page.get_by_label(f"waterline 5, {axis}")  # known better than pressed
        box.fill(f"{value:.3f}")
        box.press("Tab")
    page.get_by_role("button", name="foremost point").click()
    pick_waterline(boat, shown, scan.bow[None])
    assert boat.read("Read the scan") == ""
    lines = boat.used()["document"]["hull"]["lines"]
    assert volume(lines) == pytest.approx(volume(KETCH), rel=0.02)
    mine, true = (integrals_below(hull_with(one).surface, LEVEL) for one in (lines, KETCH))
    assert mine.buoyancy_centre[0] == pytest.approx(true.buoyancy_centre[0], abs=0.03)
    # half a hull, then something else: one sentence each, and the marks are still there
    faces = hull.surface.faces[
        (hull.surface.vertices[hull.surface.faces, 1] > 0.02).all(axis=1)
    ]
    half = stl_of(hull.surface.vertices, faces)
    for name, content, says in (
        ("half.stl", half, "The two sides of the scan differ"),
        ("ball.ply", ply_of(2.0 * ball()), "which is not a hull"),
    ):
        shown = cloud_shown(boat, name, content)
        level = shown[np.argsort(np.abs(shown[:, 2]))][:400]
        ahead = np.argsort(level[:, 0])
        pick_waterline(boat, shown, level[ahead[[20, 180, 380]]])
        assert says in boat.read("Read the scan")
        expect(page.get_by_role("button", name="waterline (3)")).to_be_visible()
    boat.file("notes.ply", b"no scan")
    assert "The PLY file is damaged" in boat.refusal()
    expect(page.get_by_role("button", name="waterline (3)")).to_be_visible()


def ball():
    """Points on a ball."""
    points = np.random.default_rng(0).normal(size=(20_000, 3))
    return points / np.linalg.norm(points, axis=1)[:, None]


def step_of(surface, folder):
    """A STEP file of a surface, as triangles that hang together nowhere."""
    import cadquery as cq

    corners = [[cq.Vector(*(1000.0 * p)) for p in surface.vertices[f]] for f in surface.faces]
    faces = [cq.Face.makeFromWires(cq.Wire.makePolygon(three, close=True)) for three in corners]
    path = folder / "hull.step"
    cq.exporters.export(cq.Workplane(obj=cq.Compound.makeCompound(faces)), str(path))
    return path.read_bytes()


@pytest.mark.slow
@pytest.mark.cad
def test_a_cad_file_is_read(boat, tmp_path):
    boat.open("a CAD file")
    page = boat.page
    water = page.get_by_label("height of the waterline in the file, m")
    boat.file("hull.step", b"ISO-10303-21; no more")
    page.get_by_role("button", name="Read the file").click()
    assert "Type the height of the waterline" in boat.refusal()
    water.fill("0")
    assert "The CAD file cannot be read" in boat.read("Read the file")
    boat.open("main dimensions")
    boat.open("a CAD file")
    expect(water).to_have_value("0")
    surface = hull_with(SLOOP, 300).surface
    boat.file("hull.step", step_of(surface, tmp_path))
    boat.source.get_by_label("bow").select_option("false")
    assert boat.read("Read the file") == ""
    taken = boat.used()["document"]["hull"]
    assert taken["from"]["source"] == "step"
    true = integrals_below(surface, LEVEL).volume
    assert volume(taken["lines"]) == pytest.approx(true, rel=0.02)


NINE = {
    "length over all": "9,4 m",
    "length of the waterline": "8.1",
    "greatest beam": "2.99",
    "displacement without keel and rudder": "5010",
    "freeboard at the stem": "1.25",
    "least freeboard": "0.96",
    "freeboard at the stern": "0.98",
    "breadth of the transom at the deck": "1.92",
}


def test_main_dimensions_guess_lines_of_that_displacement(boat):
    boat.open("main dimensions")
    for label, value in NINE.items():
        boat.source.get_by_label(label).fill(value)
    displacement = boat.source.get_by_label("displacement without keel")
    displacement.fill("50100")
    assert "does not fit a single-chine hull" in boat.read("Guess her lines")
    expect(displacement).to_have_value("50100")
    displacement.fill("5010")
    assert boat.read("Guess her lines") == ""
    lines = boat.used()["document"]["hull"]["lines"]
    assert volume(lines) == pytest.approx(5010 / 1025, rel=0.01)


SOURCES = (
    *("a table or CSV file", "tape from marks", "a drawing or photo"),
    *("a scan", "a CAD file", "main dimensions"),
)


def test_every_source_is_for_everybody(boat):
    found = {}
    for words in SOURCES:
        boat.open(words)
        result = Axe().run(boat.page, ".source")
        if result.violations_count:
            found[words] = result.generate_report()
    assert found == {}
