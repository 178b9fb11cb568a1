"""One HTML file that opens from disk: the viewer with a refit's answer and meshes."""

import re
from base64 import b64encode
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from gzip import compress
from hashlib import sha256
from html import escape
from importlib.resources import files
from importlib.resources.abc import Traversable
from json import dumps

from pydantic import Field

from hullchange.answer.assessment import Assessment
from hullchange.answer.drawing import Profile
from hullchange.answer.wire import Wire
from hullchange.assess.held import held_everywhere
from hullchange.boat.boat import Boat
from hullchange.boat.profile import profile_of
from hullchange.document.matching import PlainDocument
from hullchange.errors import ModelError
from hullchange.explain.explain import explanations
from hullchange.lines_plan.export import PlanFile, plan_file
from hullchange.present.check_tables import levers_in_full
from hullchange.present.csv_table import csv_under
from hullchange.present.export import Origin, lines_table
from hullchange.present.picture import picture_in
from hullchange.present.scene import ScenePiece, piece_glb, scene_pieces
from hullchange.present.writing import PLAIN, Writing
from hullchange_api.wire.kinds_and_cautions import cautions, document_grammar, part_kinds
from hullchange_api.wire.review import Compared, ListedRevision, Review
from hullchange_api.wire.working_copy import (
    Caution,
    DocumentGrammar,
    PartKind,
    RefitCard,
    ScenePart,
    Working,
)

WEB = files("hullchange_api") / "web"
SEAL = "seal"
"""Block with the digest of the others, which `shared/files/seal.ts` of the viewer checks."""
ONE_FILE = "one-file.js"
"""The whole viewer in one script; a page from a server loads its parts as it needs them."""


class SharedReview(Wire):
    """The review of a revision at the time the page was made."""

    revisions: tuple[ListedRevision, ...] = Field(
        description="an earlier one, if any, then this one"
    )
    review: Review
    since: Compared | None = Field(description="comparison with the earlier one")


class SharedRefit(Wire):
    """What the page shows: the responses that a server would give."""

    refits: tuple[RefitCard, ...]
    cautions: tuple[Caution, ...]
    working: Working
    reviewed: SharedReview | None = Field(description="null if the page is not of a revision")


class FormsAndProfiles(Wire):
    """More responses that a server would give, packed since they are long."""

    kinds: tuple[PartKind, ...]
    grammar: DocumentGrammar
    profiles: Mapping[str, Profile] = Field(description="by condition")


@dataclass(frozen=True, eq=False)
class PageContent:
    """What a page shows.

    Attributes:
        name: file name of the document, or id of the refit.
        kept_in: its source, in words.
        plain: the document with the option that ``answer`` names.
        boat: the boat of the document.
        answer: its full assessment.
        reviewed: its review, if it is a revision.
        before: scene pieces of the earlier revision it is compared with.
    """

    name: str
    kept_in: str
    plain: PlainDocument
    boat: Boat
    answer: Assessment
    reviewed: SharedReview | None = None
    before: tuple[ScenePiece, ...] = ()


def shared_page(content: PageContent, web: Traversable = WEB) -> bytes:
    """The whole file.

    Args:
        content: what it shows.
        web: folder of the built viewer.

    Raises:
        ModelError: ``viewer-not-built``.
    """
    boat, answer = content.boat, held_everywhere(content.answer, content.boat)
    pieces = scene_pieces(boat)
    profiles = {row.id: profile_of(boat, answer.lcf_in(row.id)) for row in answer.conditions}
    shared = SharedRefit(
        refits=(RefitCard(id=content.name, name=answer.boat, kept_in=content.kept_in),),
        cautions=cautions(),
        working=_working(content, profiles, pieces),
        reviewed=content.reviewed,
    )
    drawn = {piece.name: piece for piece in (*pieces, *content.before)}
    meshes = "".join(_mesh(piece) for piece in drawn.values())
    more_answers = FormsAndProfiles(
        kinds=part_kinds(), grammar=document_grammar(), profiles=profiles
    )
    packed = {
        "forms-and-profiles": more_answers.model_dump_json(),
        "explanations": _explanations_json(answer, boat),
        "held": _held_json(answer),
        "files": _files_json(content),
    }
    more = "".join(_packed(name, text.encode()) for name, text in packed.items())
    answers = _data_block("application/json", "refit", shared.model_dump_json())
    picture = picture_in(boat, answer.floats, answer.reference_condition)
    first = _first_paint(answer.boat, picture)
    return page_around(web, answer.boat, f"{answers}{more}{meshes}", first).encode()


def scene_in_file(pieces: Iterable[ScenePiece]) -> tuple[ScenePart, ...]:
    """The parts of a scene whose meshes are in the file itself."""
    return tuple(
        ScenePart(id=p.id, role=p.role, change=p.change, mesh=p.name, opens_m=p.opens)
        for p in pieces
    )


def _working(
    content: PageContent, profiles: Mapping[str, Profile], pieces: tuple[ScenePiece, ...]
) -> Working:
    answer = content.answer
    return Working(
        refit=content.name,
        edit=0,
        kept_in=content.kept_in,
        can_undo=False,
        can_redo=False,
        saved=True,
        trouble="",
        document={key: value for key, value in content.plain.items() if key != "options"},
        options=(),
        option=answer.option,
        condition=answer.reference_condition,
        partial=False,
        assessment=answer,
        profile=profiles[answer.reference_condition],
        scene=scene_in_file(pieces),
    )


def _first_paint(name: str, picture: bytes) -> str:
    """What is seen until the script runs: the boat and her name."""
    encoded = b64encode(picture).decode()
    return (
        f'<main class="waiting"><h1>{escape(name)}</h1><img class="cover" '
        f'alt="The refit from her port bow" src="data:image/png;base64,{encoded}"></main>'
    )


def page_around(web: Traversable, boat: str, data: str, first: str = "") -> str:
    """The built viewer with its script, style and notices inside, around blocks of data.

    A digest of the blocks is stored beside them: the page warns if one has been changed.

    Args:
        web: folder of the built viewer.
        boat: her name.
        data: the blocks.
        first: HTML that is seen until the script runs.

    Raises:
        ModelError: ``viewer-not-built``.
    """
    index = web / "index.html"
    if not index.is_file():
        sentence = "The pages are not built: run make, or install the wheel."
        raise ModelError("viewer-not-built", sentence)
    html = index.read_text(encoding="utf-8")
    script = (web / ONE_FILE).read_text(encoding="utf-8").replace("</script", "<\\/script")
    style = _asset(web, html, r'href="\./(assets/[^"]+\.css)"')
    notices = (web / "licenses.md").read_text(encoding="utf-8")
    blocks = f"{data}{_data_block('text/plain', 'notices', notices)}"
    seal = _data_block("text/plain", SEAL, sha256(blocks.encode()).hexdigest())
    digest = b64encode(sha256(script.encode()).digest()).decode()
    rules = (
        f"default-src 'none'; script-src 'sha256-{digest}'; style-src 'unsafe-inline'; "
        "img-src data: blob:; base-uri 'none'; form-action 'none'"
    )
    title = boat.replace("&", "&amp;").replace("<", "&lt;")
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{rules}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark"><link rel="icon" href="data:,">\n'
        f"<title>{title}</title>\n<style>{style}</style></head>\n"
        f'<body><div id="app">{first}</div>\n{blocks}{seal}'
        f'<script type="module">{script}</script></body></html>\n'
    )


def _asset(web: Traversable, html: str, pattern: str) -> str:
    named = re.search(pattern, html)
    assert named is not None, f"the built page has no {pattern}"
    return (web / named[1]).read_text(encoding="utf-8")


def _explanations_json(answer: Assessment, boat: Boat) -> str:
    """How every figure is derived, by its path."""
    opened = explanations(answer, boat.document)
    pairs = (f"{dumps(one.path)}:{one.model_dump_json()}" for one in opened)
    return f"{{{','.join(pairs)}}}"


def _held_json(answer: Assessment) -> str:
    """The boats held at every degree of heel, by condition and stage."""
    conditions: dict[str, dict[str, object]] = {}
    for row in answer.floats:
        if row.held is not None:
            held = {side: one.model_dump(mode="json") for side, one in row.held.items()}
            conditions.setdefault(row.id, {})[row.stage] = held
    return dumps(conditions, allow_nan=False)


def _files_json(content: PageContent) -> str:
    """The files to download, by the name that a server gives them, metric and in feet."""
    files = _files(content, PLAIN) | {
        f"{name}{'&' if '?' in name else '?'}units=imperial": text
        for name, text in _files(content, Writing("imperial")).items()
    }
    return dumps(files)


def _files(content: PageContent, writing: Writing) -> dict[str, str]:
    origin, floats = _origin(content), content.answer.floats
    tables = {
        f"levers.csv?condition={name}": levers_in_full(row for row in floats if row.id == name)
        for name in dict.fromkeys(row.id for row in floats)
    }
    tables["lines.csv"] = lines_table(content.boat)
    heads = writing.heads(origin.heads)
    files = {name: csv_under(heads, writing.table(table)) for name, table in tables.items()}
    plan: tuple[PlanFile, ...] = ("lines-plan.svg", "offsets.csv")
    drawn = {name: plan_file(name, content.boat, origin, writing).decode() for name in plan}
    return files | drawn


def _origin(content: PageContent) -> Origin:
    answer, reviewed = content.answer, content.reviewed
    revision = None if reviewed is None else reviewed.revisions[-1]
    return Origin(
        boat=answer.boat,
        document=answer.document_sha256,
        option=answer.option or "",
        revision=content.kept_in if revision is None else str(revision.number),
        revision_sha256="" if revision is None else revision.sha256,
        made_at="" if revision is None else revision.made_at,
        state="unsigned" if revision is None else revision.standing.standing,
        tool=f"hullchange {answer.hullchange}",
    )


def _mesh(piece: ScenePiece) -> str:
    return _packed(piece.name, piece_glb(piece))


def _packed(name: str, content: bytes) -> str:
    packed = b64encode(compress(content, mtime=0)).decode()
    return _data_block("application/gzip", name, packed)


def _data_block(kind: str, name: str, text: str) -> str:
    inert = text.replace("<", "\\u003c")
    return f'<script type="{kind}" id="{name}">{inert}</script>\n'
