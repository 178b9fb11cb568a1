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
from hullchange_api.cutting.packs import CuttingDesk
from hullchange_api.review.reviews import ReviewDesk
from hullchange_api.routes import (
    archives,
    cutting,
    explaining,
    exports,
    kinds_and_cautions,
    meshes,
    refits,
    review,
    revisions,
    shares,
    sign_in,
    weight_margin,
    working,
)
from hullchange_api.store.refits import Shelf
from hullchange_api.wire.problems import MEDIA_TYPE, speak_problems
from hullchange_api.wire.working_copy import Problem
from hullchange_api.working_copy.access import Access, admitted
from hullchange_api.working_copy.readers import Reads
from hullchange_api.working_copy.request_limits import guarded
from hullchange_api.working_copy.working_copies import Desk

OWNERS = (
    *(refits, working, weight_margin, meshes, revisions, review, cutting, shares),
    *(archives, sign_in, exports, kinds_and_cautions, explaining),
)
REFUSED: dict[str, Any] = {
    "description": "Refused, in one clear sentence (RFC 9457)",
    "model": Problem,
    "content": {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
}

# FastAPI hushes this while it reads a route, and another thread's filters may undo that
warnings.simplefilter("ignore", UnsupportedFieldAttributeWarning)


def create_app(
    shelf: Shelf | None = None,
    secret: str | None = None,
    names: tuple[str, ...] = (),
    address: str = "",
) -> FastAPI:
    """The application over a shelf of refits; without one it can only describe itself.

    Args:
        shelf: the refits.
        secret: what the owner's link holds; None where everybody is the owner (loopback).
        names: host names it is called by, besides plain addresses and localhost.
        address: under which others reach it; empty where they do not.
    """
    desk = Desk(shelf or Shelf(Path("no-refits")))

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        yield
        app.state.cutting.close()
        desk.close()

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
    app.state.desk = desk
    app.state.reads = Reads()
    app.state.review = ReviewDesk(desk)
    app.state.cutting = CuttingDesk(app.state.review)
    app.state.access = Access(app.state.review.shares, secret)
    speak_problems(app)
    app.state.address = address
    guarded(app, names, is_secret=secret is not None)
    for room in OWNERS:
        app.include_router(room.router, dependencies=[Depends(admitted)])
    app.include_router(sign_in.door)
    web = files("hullchange_api") / "web"
    if web.joinpath("index.html").is_file():
        app.mount("/", StaticFiles(directory=str(web), html=True))
    return app


def _named_after_function(route: APIRoute) -> str:
    return route.name
