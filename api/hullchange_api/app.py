"""The application: routes, problems, and the viewer at the root."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from importlib.resources import files
from pathlib import Path

from fastapi import FastAPI
from fastapi.routing import APIRoute
from fastapi.staticfiles import StaticFiles

import hullchange
from hullchange_api.desk import Desk
from hullchange_api.guard import guarded
from hullchange_api.problems import MEDIA_TYPE, speak_problems
from hullchange_api.routes import allowance, knowledge, meshes, refits, working
from hullchange_api.schemas import Problem
from hullchange_api.store.shelf import Shelf


def create_app(shelf: Shelf | None = None) -> FastAPI:
    """The application over a shelf of refits; without one it can only describe itself."""
    desk = Desk(shelf or Shelf(Path("no-refits")))

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:  # noqa: ARG001
        yield
        desk.close()

    app = FastAPI(
        title="hullchange",
        version=hullchange.__version__,
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=lifespan,
        generate_unique_id_function=_named_after_function,
        responses={
            "4XX": {
                "description": "Refused, in one clear sentence (RFC 9457)",
                "model": Problem,
                "content": {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
            }
        },
    )
    app.state.desk = desk
    speak_problems(app)
    guarded(app)
    for room in (refits, working, allowance, meshes, knowledge):
        app.include_router(room.router)
    web = files("hullchange_api") / "web"
    if web.joinpath("index.html").is_file():
        app.mount("/", StaticFiles(directory=str(web), html=True))
    return app


def _named_after_function(route: APIRoute) -> str:
    return route.name
