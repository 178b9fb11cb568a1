"""Meshes by hash, and the whole scene of a revision, as glTF."""

from typing import Annotated

from fastapi import APIRouter, Header, Response

from hullchange.present.scene import whole_scene
from hullchange_api.routes.dependencies import (
    GLB,
    GLB_RESPONSE,
    IMMUTABLE,
    CopiesDep,
    CopyDep,
    Option,
)

router = APIRouter(tags=["scene"])


@router.get("/api/meshes/{name}.glb", response_class=Response, responses=GLB_RESPONSE)
def read_mesh(
    name: str, copies: CopiesDep, if_none_match: Annotated[str | None, Header()] = None
) -> Response:
    """One part's mesh; its name is the hash of its content, so it never changes."""
    headers = {"ETag": f'"{name}"', "Cache-Control": IMMUTABLE}
    if if_none_match == headers["ETag"]:
        return Response(status_code=304, headers=headers)
    return Response(copies.mesh(name), media_type=GLB, headers=headers)


@router.get(
    "/api/refits/{refit}/revisions/working/scene.glb",
    response_class=Response,
    responses=GLB_RESPONSE,
)
def read_scene(copy: CopyDep, copies: CopiesDep, option: Option = None) -> Response:
    """The whole refit: in metres, one named node per part with its plates as children."""
    state = copy.state
    return Response(
        whole_scene(copies.boat(copy, state, option)),
        media_type=GLB,
        headers={"ETag": f'"{state.edit}"', "Cache-Control": "no-cache"},
    )
