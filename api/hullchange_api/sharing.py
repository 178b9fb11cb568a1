"""One HTML file that opens from disk: the viewer, a refit's answer and its meshes inside."""

import re
from base64 import b64encode
from collections.abc import Mapping
from gzip import compress
from hashlib import sha256
from importlib.resources import files
from importlib.resources.abc import Traversable

from hullchange.errors import ModelError
from hullchange.present.scene import ScenePiece, piece_glb, scene_pieces
from hullchange.study.boat import Boat
from hullchange.study.profile import profile_of
from hullchange.study.reading import Plain
from hullchange.study.results import Assessment, Profile
from hullchange.study.wire import Wire
from hullchange_api.routes.knowledge import list_cautions, list_kinds
from hullchange_api.schemas import Caution, PartKind, RefitCard, ScenePart, Working

WEB = files("hullchange_api") / "web"


class SharedRefit(Wire):
    """What the page shows: the answers a server would give."""

    refits: tuple[RefitCard, ...]
    kinds: tuple[PartKind, ...]
    cautions: tuple[Caution, ...]
    working: Working
    profiles: Mapping[str, Profile]


def shared_page(
    name: str, plain: Plain, boat: Boat, told: Assessment, web: Traversable = WEB
) -> bytes:
    """The whole file.

    Args:
        name: of the document's file.
        plain: the document with the option that ``told`` names.
        boat: the boat it says.
        told: her whole assessment.
        web: folder of the built viewer.

    Raises:
        ModelError: ``viewer-not-built``.
    """
    pieces = scene_pieces(boat)
    profiles = {row.id: profile_of(boat, row.lcf_m) for row in told.conditions}
    shared = SharedRefit(
        refits=(RefitCard(id=name, name=told.boat, kept_in=name),),
        kinds=list_kinds(),
        cautions=list_cautions(),
        working=_working(name, plain, told, profiles, pieces),
        profiles=profiles,
    )
    meshes = "".join(_mesh(piece) for piece in pieces)
    data = f"{_island('application/json', 'refit', shared.model_dump_json())}{meshes}"
    return page_around(web, told.boat, data).encode()


def _working(
    name: str,
    plain: Plain,
    told: Assessment,
    profiles: Mapping[str, Profile],
    pieces: tuple[ScenePiece, ...],
) -> Working:
    return Working(
        refit=name,
        edit=0,
        kept_in=name,
        can_undo=False,
        can_redo=False,
        saved=True,
        trouble="",
        document={key: value for key, value in plain.items() if key != "options"},
        options=(),
        option=told.option,
        condition=told.reference_condition,
        partial=False,
        assessment=told,
        profile=profiles[told.reference_condition],
        scene=tuple(
            ScenePart(id=p.id, role=p.role, change=p.change, mesh=p.name) for p in pieces
        ),
    )


def page_around(web: Traversable, boat: str, data: str) -> str:
    """The built viewer with its script, style and notices inside, around blocks of data.

    Raises:
        ModelError: ``viewer-not-built``.
    """
    index = web / "index.html"
    if not index.is_file():
        sentence = "The viewer is not built: run make, or install the wheel."
        raise ModelError("viewer-not-built", sentence)
    html = index.read_text(encoding="utf-8")
    script = _asset(web, html, r'src="\./(assets/[^"]+\.js)"').replace("</script", "<\\/script")
    style = _asset(web, html, r'href="\./(assets/[^"]+\.css)"')
    notices = (web / "licenses.md").read_text(encoding="utf-8")
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
        f'<body><div id="app"></div>\n{data}'
        f"{_island('text/plain', 'notices', notices)}"
        f'<script type="module">{script}</script></body></html>\n'
    )


def _asset(web: Traversable, html: str, pattern: str) -> str:
    named = re.search(pattern, html)
    assert named is not None, f"the built page has no {pattern}"
    return (web / named[1]).read_text(encoding="utf-8")


def _mesh(piece: ScenePiece) -> str:
    packed = b64encode(compress(piece_glb(piece), mtime=0)).decode()
    return _island("application/gzip", piece.name, packed)


def _island(kind: str, name: str, text: str) -> str:
    inert = text.replace("<", "\\u003c")
    return f'<script type="{kind}" id="{name}">{inert}</script>\n'
