"""The application: routes, problems, and the viewer at the root."""

import warnings
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from importlib.resources import files
from pathlib import Path
from typing import Any

from fastapi import Depends, FastAPI
from fastapi.routing import APIRoute
from fastapi.staticfiles import StaticFiles
from pydantic.warnings import UnsupportedFieldAttributeWarning

import hullchange
from hullchange_api.cutting.packs import CutPacks
from hullchange_api.review.reviews import Reviews
from hullchange_api.routes import (
    archives,
    cutting,
    explaining,
    exports,
    hull_sources,
    kinds_and_cautions,
    meshes,
    photograph,
    proposals,
    refits,
    review,
    revisions,
    shares,
    sign_in,
    weight_margin,
    working,
)
from hullchange_api.store.refits import Refits
from hullchange_api.wire.problems import MEDIA_TYPE, add_problem_handlers
from hullchange_api.wire.working_copy import Problem
from hullchange_api.working_copy.access import Access, admitted
from hullchange_api.working_copy.read_queue import ReadQueue
from hullchange_api.working_copy.request_limits import add_request_limits
from hullchange_api.working_copy.working_copies import WorkingCopies

ROUTES = (
    *(refits, working, weight_margin, photograph, meshes, revisions, review, cutting, shares),
    *(archives, sign_in, exports, hull_sources, kinds_and_cautions, explaining),
    proposals,
)
REFUSED: dict[str, Any] = {
    "description": "Refused, in one clear sentence (RFC 9457)",
    "model": Problem,
    "content": {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
}

# FastAPI silences this while it reads a route, but another thread's filters may undo that
warnings.simplefilter("ignore", UnsupportedFieldAttributeWarning)


def create_app(
    stored: Refits | None = None,
    secret: str | None = None,
    names: tuple[str, ...] = (),
    address: str = "",
) -> FastAPI:
    """The application; without refits it can only describe itself.

    Args:
        stored: the refits.
        secret: in the owner's link; None if everybody is the owner (loopback).
        names: host names it may be called by, besides plain addresses and localhost.
        address: where others reach it; empty if they cannot.
    """
    copies = WorkingCopies(stored or Refits(Path("no-refits")))

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        yield
        app.state.cut_packs.close()
        copies.close()

    app = FastAPI(
        title="hullchange",
        version=hullchange.__version__,
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=lifespan,
        generate_unique_id_function=_named_after_function,
        responses={"4XX": REFUSED},
    )
    app.state.copies = copies
    app.state.reads = ReadQueue()
    app.state.reviews = Reviews(copies)
    app.state.cut_packs = CutPacks(app.state.reviews)
    app.state.access = Access(app.state.reviews.share_links, secret)
    add_problem_handlers(app)
    app.state.address = address
    add_request_limits(app, names, is_secret=secret is not None)
    for routes in ROUTES:
        app.include_router(routes.router, dependencies=[Depends(admitted)])
    app.include_router(sign_in.open_router)
    web = files("hullchange_api") / "web"
    if web.joinpath("index.html").is_file():
        app.mount("/", StaticFiles(directory=str(web), html=True))
    return app


def _named_after_function(route: APIRoute) -> str:
    return route.name
