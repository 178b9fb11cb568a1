"""A page to show to anybody: the boat drawn, how she will float, and what is new.

One HTML file without a script. Nothing of the ledger, of costs, of the review or of notes is in
it: it is written from the few values named here alone, never by leaving things out.
"""

from collections.abc import Iterable, Iterator
from html import escape

import numpy as np

from hullchange.afloat.person import water_of
from hullchange.answer.assessment import Assessment, ConditionResult
from hullchange.answer.drawing import Profile
from hullchange.boat.boat import Boat
from hullchange.boat.profile import profile_of
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.geometry.surface import Surface
from hullchange.photograph.camera import Camera
from hullchange.present.photograph import Face, faces_of, waterline_seen

UP = np.array([0.0, 0.0, 1.0])
WIDE = 1200.0  # [px] of both drawings
STEEL, HULL, BELOW = (206, 196, 182), (240, 235, 222), (116, 64, 56)
STYLE = """
body{margin:2rem auto;max-width:76rem;padding:0 1rem;font:1rem/1.5 system-ui,sans-serif;
background:#fbfaf5;color:#1b2530}
h1{margin:0}.answer{font-size:1.5rem;margin:.4rem 0 1rem}
svg{width:100%;height:auto;display:block}
.profile path{fill:none;stroke:currentColor;stroke-width:1.5;stroke-linejoin:round}
.profile .hull,.profile .appendage{fill:#f1eee2}.profile .part{fill:#cec4b6}
.profile .existing{stroke-dasharray:6 4}.profile .now{stroke:#0b6a8a;stroke-width:3}
.profile .before{stroke:#5b6670;stroke-width:2;stroke-dasharray:12 8}small{color:#55606b}
@media (prefers-color-scheme:dark){body{background:#14191e;color:#ebe8de}
.profile .hull,.profile .appendage{fill:#232a31}.profile .part{fill:#6c6459}
.profile .now{stroke:#6ec3dd}.profile .before{stroke:#9aa5ae}small{color:#9aa5ae}}
"""


def show_page(boat: Boat, answer: Assessment) -> bytes:
    """The page, of the reference condition.

    Args:
        boat: everything built.
        answer: its assessment.
    """
    name = escape(answer.boat)
    rows = {row.stage: row for row in answer.floats if row.id == answer.reference_condition}
    now, before = rows.get("refit") or rows.get("as_found"), rows.get("as_found")
    told = _answer(now, before) if now else "She does not float in this condition."
    profile = profile_of(boat, answer.lcf_in(answer.reference_condition))
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{name}</title>\n<style>{STYLE}</style></head>\n<body><h1>{name}</h1>\n"
        f'<p class="answer">{told}</p>\n{_picture(boat, now)}\n<p>{_news(boat)}</p>\n'
        f"{_side(profile, now, before)}\n"
        "<p><small>Solid line: the water she will float in; dashed: as found. Calculated, "
        "not measured: an aid to judgement, not an approval.</small></p></body></html>\n"
    ).encode()


def _answer(now: ConditionResult, before: ConditionResult | None) -> str:
    """How she floats, and what that changes, in one line."""
    if now.upside_down or abs(now.heel_deg) > 90.0:
        return "She does not stay upright."
    parts = [_trim(now.trim_mm)]
    if before is not None and before is not now:
        parts[0] += f" (was {_trim(before.trim_mm)})"
        more = round(now.displacement_kg - before.displacement_kg, -1)
        parts.append(f"about {abs(more):,.0f} kg {'heavier' if more >= 0.0 else 'lighter'}")
    if now.freeboards_at_marks:
        least = min(mark.mean_mm for mark in now.freeboards_at_marks)
        parts.append(f"least measured freeboard {least:,.0f} mm")
    return escape(" · ".join([*parts, f"GM {now.gm_m:.2f} m"]))


def _trim(mm: float) -> str:
    return f"{abs(mm):,.0f} mm by the {'stern' if mm >= 0.0 else 'bow'}"


def _news(boat: Boat) -> str:
    """What is new, in a sentence, by kind: no name that somebody gave."""
    counts: dict[str, int] = {}
    for part in boat.parts.values():
        kind = part.part.kind.replace("_", " ")
        counts[kind] = counts.get(kind, 0) + 1
    words = [kind if n == 1 else f"{n} × {kind}" for kind, n in counts.items()]
    return escape(f"New: {', '.join(words)}." if words else "No new steel.")


def _picture(boat: Boat, now: ConditionResult | None) -> str:
    """The refit from her starboard bow, from far to near."""
    camera, water = _camera(boat), None if now is None else water_of(now)
    found: list[tuple[float, Face]] = []
    for name, surface in _bodies(boat, water):
        # steel counts as a part, so that the deck it stands on does not hide it
        found += faces_of("part" if name == "steel" else "hides", name, surface, camera)
    faces = [face for _, face in sorted(found, key=lambda one: -one[0])]
    pixels = np.concatenate([face.pixels for face in faces])
    (x0, y0), (x1, y1) = pixels.min(axis=0) - 10.0, pixels.max(axis=0) + 10.0
    shapes = "".join(_polygon(face) for face in faces)
    lines = () if water is None else waterline_seen(boat.hull, water, camera)
    drawn = "".join(f"M{_xy(a)}L{_xy(b)}" for a, b in lines)
    return (
        f'<svg viewBox="{x0:.0f} {y0:.0f} {x1 - x0:.0f} {y1 - y0:.0f}" role="img" '
        f'aria-label="The refit from her starboard bow">{shapes}'
        f'<path d="{drawn}" fill="none" stroke="#fff" stroke-width="2"/></svg>'
    )


def _bodies(boat: Boat, water: WaterPlane | None) -> Iterator[tuple[str, Surface]]:
    """Hull above and below the water, keels, and the plates that are on her then."""
    hull = boat.hull.surface
    above, below = _parted(hull.vertices[hull.faces], water or WaterPlane(UP, 0.0))
    yield "hull", _loose(above)
    yield "below", _loose(below)
    yield from (("below", part.surface) for part in boat.hull.appendages.values())
    gone = {change.replaces for change in boat.document.changes.values()}
    stays = [part for part in boat.existing.values() if part.path not in gone]
    for part in (*stays, *boat.parts.values()):
        yield from (("steel", p.surface()) for p in part.part.plates if p.kind == "plate")


def _parted(triangles: FloatArray, water: WaterPlane) -> tuple[FloatArray, FloatArray]:
    """Triangles (n, 3, 3) [m] above a water and below it; those that cross it are cut there."""
    height = water.height_above(triangles.reshape(-1, 3)).reshape(-1, 3)
    under = height < 0.0
    count = under.sum(axis=1)
    crossed = (count == 1) | (count == 2)
    alone_is_under = count[crossed] == 1
    first = np.where(alone_is_under[:, None], under[crossed], ~under[crossed]).argmax(axis=1)
    row = np.arange(len(first))
    a, b, c = (triangles[crossed][row, (first + k) % 3] for k in range(3))
    za, zb, zc = (height[crossed][row, (first + k) % 3][:, None] for k in range(3))
    p, q = a + (b - a) * za / (za - zb), a + (c - a) * za / (za - zc)
    alone = np.stack([a, p, q], axis=1)
    rest = [np.stack([p, b, c], axis=1), np.stack([p, c, q], axis=1)]
    up, down = triangles[count == 0], triangles[count == 3]
    twice = np.tile(alone_is_under, 2)
    rests = np.concatenate(rest)
    return (
        np.concatenate([up, alone[~alone_is_under], rests[twice]]),
        np.concatenate([down, alone[alone_is_under], rests[~twice]]),
    )


def _loose(triangles: FloatArray) -> Surface:
    """Triangles (n, 3, 3) [m] as a surface, its corners not joined."""
    faces = np.arange(3 * len(triangles), dtype=np.int32).reshape(-1, 3)
    return Surface.unchecked(triangles.reshape(-1, 3), faces)


PAINT = {"hull": HULL, "below": BELOW, "steel": STEEL}


def _polygon(face: Face) -> str:
    paint = "#" + "".join(f"{round(c * face.light):02x}" for c in PAINT[face.id])
    points = " ".join(_xy(point) for point in face.pixels)
    return f'<polygon points="{points}" fill="{paint}" stroke="{paint}"/>'


def _xy(point: FloatArray) -> str:
    return f"{point[0]:.1f},{point[1]:.1f}"


def _camera(boat: Boat) -> Camera:
    hull = boat.hull
    length, middle = hull.length, (hull.fore_x + hull.transom_x) / 2.0
    at = np.array([middle - 1.1 * length, 1.7 * length, 0.45 * length])
    ahead = np.array([middle, 0.0, 0.5]) - at
    ahead /= np.linalg.norm(ahead)
    right = np.cross(ahead, np.array([0.0, 0.0, 1.0]))
    right /= np.linalg.norm(right)
    turn = np.array([right, np.cross(ahead, right), ahead])
    return Camera(at, turn, 2.0 * WIDE, np.array([WIDE, WIDE]) / 2.0)


def _side(profile: Profile, now: ConditionResult | None, before: ConditionResult | None) -> str:
    """The profile with the water she will float in and that as found."""
    points = np.array([p for outline in profile.outlines for p in outline.points_m])
    (x0, z0), (x1, z1) = points.min(axis=0) - 0.5, points.max(axis=0) + 0.5
    scale = WIDE / float(x1 - x0)
    drawn = ((o.role, _path(o.points_m, scale, closed=o.closed)) for o in profile.outlines)
    shapes = "".join(f'<path class="{role}" d="{path}"/>' for role, path in drawn)
    length = profile.length_waterline_m
    for name, row in (("before", before), ("now", now)):
        if row is not None and not row.upside_down:
            bow, stern = row.sinkage_bow_mm / 1000.0, row.sinkage_stern_mm / 1000.0
            ends = [(x, bow + (stern - bow) * x / length) for x in (x0, x1)]
            shapes += f'<path class="{name}" d="{_path(ends, scale, closed=False)}"/>'
    box = f"{x0 * scale:.0f} {-z1 * scale:.0f} {WIDE:.0f} {(z1 - z0) * scale:.0f}"
    return (
        f'<svg class="profile" viewBox="{box}" role="img" '
        f'aria-label="The boat from the side, bow to the left">{shapes}</svg>'
    )


def _path(points: Iterable[tuple[float, float]], scale: float, *, closed: bool) -> str:
    drawn = "L".join(f"{x * scale:.1f},{-z * scale:.1f}" for x, z in points)
    return f"M{drawn}{'Z' if closed else ''}"
