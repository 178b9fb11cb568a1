"""A page to show to anybody: the boat drawn, how she will float, and what is new.

One HTML file without a script. Nothing of the ledger, of costs, of the review or of notes is in
it: it is written from the few values named here alone, never by leaving things out.
"""

from base64 import b64encode
from collections.abc import Iterable
from html import escape

import numpy as np

from hullchange.answer.assessment import Assessment, ConditionResult
from hullchange.answer.drawing import Profile
from hullchange.boat.boat import Boat
from hullchange.boat.profile import profile_of
from hullchange.present.picture import picture_in
from hullchange.present.words import heel_in_words, trim_in_words

ASSUMED = ", and in part assumed from usual proportions"
LIST = 0.5  # [°] from here on it is told
WIDE = 1200.0  # [px] of the profile
STYLE = """
body{margin:2rem auto;max-width:76rem;padding:0 1rem;font:1rem/1.5 system-ui,sans-serif;
background:#fbfaf5;color:#1b2530}
h1{margin:0}.answer{font-size:clamp(1.1rem,2.4vw,1.5rem);margin:.4rem 0 1rem}
.answer span{display:inline-block}
svg,img{width:100%;height:auto;display:block}
.profile path{fill:none;stroke:currentColor;stroke-width:1.5;stroke-linejoin:round}
.profile .hull,.profile .appendage,.profile .existing{fill:#f1eee2}
.profile .part{fill:#cec4b6}.profile .replaced{stroke-dasharray:6 4}
.profile .now{stroke:#0b6a8a;stroke-width:3}
.profile .before{stroke:#5b6670;stroke-width:2;stroke-dasharray:12 8}small{color:#55606b}
@media (prefers-color-scheme:dark){body{background:#14191e;color:#ebe8de}
.profile .hull,.profile .appendage,.profile .existing{fill:#232a31}
.profile .part{fill:#6c6459}
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
    summary = _summary(now, before) if now else "She does not float in this condition."
    profile = profile_of(boat, answer.lcf_in(answer.reference_condition))
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{name}</title>\n<style>{STYLE}</style></head>\n<body><h1>{name}</h1>\n"
        f'<p class="answer">{summary}</p>\n{_picture(boat, answer)}\n'
        f"<p>{_new_parts(boat)}</p>\n"
        f"{_side(profile, now, before)}\n"
        "<p><small>Solid line: the water she will float in; dashed: as found. Calculated, "
        f"not measured{ASSUMED if answer.assumed else ''}: an aid to judgement, not an "
        "approval. Strength is not checked.</small></p></body></html>\n"
    ).encode()


def _summary(now: ConditionResult, before: ConditionResult | None) -> str:
    """How she floats, and what that changes, in one line."""
    if now.upside_down or abs(now.heel_deg) > 90.0:
        return "She does not stay upright."
    parts = [trim_in_words(now.trim_mm)]
    lists = [f"lists {heel_in_words(now.heel_deg)}"] if abs(now.heel_deg) >= LIST else []
    if before is not None and before is not now:
        was = trim_in_words(before.trim_mm)
        parts[0] += "" if was == parts[0] else f" (was {was})"
        more = round(now.displacement_kg - before.displacement_kg, -1)
        by = f"about {abs(more):,.0f} kg {'heavier' if more > 0.0 else 'lighter'}"
        parts.append(by if more else "as heavy as found")
    if now.freeboards_at_marks:
        least = min(min(one.port_mm, one.starboard_mm) for one in now.freeboards_at_marks)
        parts.append(f"least freeboard at the marks {least:,.0f} mm")
    gm = f"GM {now.gm_m:.2f} ± {now.plus_minus.gm_m:.2f} m"
    return " · ".join(f"<span>{escape(part)}</span>" for part in [*parts, *lists, gm])


def _new_parts(boat: Boat) -> str:
    """What is new, in a sentence, by kind: no name that somebody gave."""
    counts: dict[str, int] = {}
    for part in boat.parts.values():
        kind = part.part.kind.replace("_", " ")
        counts[kind] = counts.get(kind, 0) + 1
    words = [kind if n == 1 else f"{n} × {kind}" for kind, n in counts.items()]
    return escape(f"New: {', '.join(words)}." if words else "No new steel.")


def _picture(boat: Boat, answer: Assessment) -> str:
    """The refit from her port bow."""
    picture = picture_in(boat, answer.floats, answer.reference_condition)
    encoded = b64encode(picture).decode()
    return f'<img alt="The refit from her port bow" src="data:image/png;base64,{encoded}">'


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
