"""Meshes by hash, the whole scene as glTF, and a still picture."""

from hashlib import sha256
from typing import Annotated

from fastapi import APIRouter, Header, Response

from hullchange.present.scene import whole_scene
from hullchange_api.review.exports import exports_of
from hullchange_api.routes.dependencies import (
    GLB,
    GLB_RESPONSE,
    IMMUTABLE,
    PNG,
    PNG_RESPONSE,
    Condition,
    CopiesDep,
    CopyDep,
    Option,
    ReviewsDep,
    WorkingOrNumber,
)
from hullchange_api.working_copy.access import for_reviewers

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


@router.get(
    "/api/refits/{refit}/revisions/{revision}/picture.png",
    response_class=Response,
    responses=PNG_RESPONSE,
)
@for_reviewers
def read_picture(
    copy: CopyDep,
    revision: WorkingOrNumber,
    reviews: ReviewsDep,
    condition: Condition = None,
    option: Option = None,
    if_none_match: Annotated[str | None, Header()] = None,
) -> Response:
    """A still picture of a revision, or of the working copy, afloat in a condition."""
    number = None if revision == "working" else revision
    picture = exports_of(reviews, copy, number, option).picture(condition)
    tag = f'"{sha256(picture).hexdigest()[:32]}"'
    headers = {"ETag": tag, "Cache-Control": "private, no-cache"}
    if if_none_match == tag:
        return Response(status_code=304, headers=headers)
    return Response(picture, media_type=PNG, headers=headers)
