"""A hull's profile and plan on paper, and a hand that traces them on the page."""

from io import BytesIO

from PIL import Image, ImageDraw

VIEWS = {"profile": 2, "plan": 1}
"""What is drawn upwards in each view, as the number of the axis."""
KNOWN = [(-1.0, -0.9), (-1.0, 1.5), (4.0, -0.9), (4.0, 1.5), (8.8, -0.9), (8.8, 1.5)]
"""Where the six crosses stand [m]."""
PER_M, LEFT, TOP = 150.0, 1.1, 1.6  # px per metre, margins [m]
SIZE = (1560, 460)


def on_paper(a, b):
    """Pixel of a place of profile or plan [m]."""
    return (a + LEFT) * PER_M, (TOP - b) * PER_M


def drawing_of(lines, view):
    """A PNG of lines in a view, with six crosses."""
    sheet = Image.new("L", SIZE, 255)
    pen = ImageDraw.Draw(sheet)
    for line in lines.values():
        pen.line([on_paper(p[0], p[VIEWS[view]]) for p in line["points_m"]], fill=0, width=2)
    for x, y in (on_paper(*place) for place in KNOWN):
        pen.line([x - 8, y, x + 8, y], fill=90)
        pen.line([x, y - 8, x, y + 8], fill=90)
    file = BytesIO()
    sheet.save(file, "PNG")
    return file.getvalue()


def pressed(page, places):
    """Press places [m] on the drawing, one after the other."""
    sheet = page.get_by_alt_text("The drawing to trace")
    per = sheet.bounding_box()["width"] / SIZE[0]
    for place in places:
        x, y = on_paper(*place)
        sheet.click(position={"x": x * per, "y": y * per})


def traced(page, name, places):
    """A line more, pressed point by point."""
    page.get_by_label("another line, named").fill(name)
    page.get_by_role("button", name="Trace it").click()
    pressed(page, places)


def say_where_the_crosses_are(page):
    """Type the places of the marks that were pressed."""
    for mark, place in enumerate(KNOWN, 1):
        for box, value in zip(page.get_by_label(f"mark {mark},").all(), place, strict=True):
            box.fill(str(value))
