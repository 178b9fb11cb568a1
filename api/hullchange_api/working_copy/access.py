"""Access control: the owner may do everything, a reviewer what the link opens, others nothing.

A route is for the owner only unless marked ``for_reviewers``: then a reviewer may use it on the
refit and the revisions of the link.
"""

import time
from collections import defaultdict, deque
from collections.abc import Callable
from contextlib import suppress
from hmac import compare_digest
from threading import Lock
from typing import Annotated, TypeVar

from fastapi import Depends, Request, Response

from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.revisions import now
from hullchange_api.store.share_links import ShareLinks, numbers_of
from hullchange_api.wire.review import Visitor

OWNER_COOKIE, SHARE_COOKIE = "hullchange-owner", "hullchange-share"
TRIES_PER_MINUTE, WRITES_PER_MINUTE = 10, 60
MOST_CLIENTS = 10_000
Endpoint = TypeVar("Endpoint", bound=Callable[..., object])


class RateLimit:
    """A limit on how often each client may do something in a minute."""

    def __init__(self, per_minute: int) -> None:
        """Start with nothing counted."""
        self._most = per_minute
        self._lock = Lock()
        self._times: dict[str, deque[float]] = defaultdict(deque)

    def require(self, who: str) -> None:
        """Refuse if the limit is reached.

        Raises:
            ModelError: ``too-many-tries``.
        """
        with self._lock:
            times = self._times[who]
            while times and times[0] < time.monotonic() - 60.0:
                times.popleft()
            if len(times) >= self._most:
                raise ModelError(
                    "too-many-tries", "Too many requests in one minute: wait, then try again."
                )

    def count(self, who: str) -> None:
        """Count one more time."""
        with self._lock:
            if len(self._times) > MOST_CLIENTS:
                self._times.clear()
            self._times[who].append(time.monotonic())


class Access:
    """Identifies the sender of a request by the cookies that a link has set."""

    def __init__(self, links: ShareLinks, secret: str | None) -> None:
        """Without a secret (on loopback) everybody without a share link is the owner."""
        self._links = links
        self._secret = secret
        self._tries = RateLimit(TRIES_PER_MINUTE)
        self.writes = RateLimit(WRITES_PER_MINUTE)

    def visitor(self, request: Request) -> Visitor:
        """The sender of a request.

        Raises:
            ModelError: ``link-closed``, ``secret-link-needed``.
        """
        token = request.cookies.get(SHARE_COOKIE)
        share = self._links.found(token) if token else None
        if share is not None:
            _require_open(share)
            request.state.share = share.id
            with suppress(ModelError):  # a full disk must not keep a reader out
                self._links.use(share)
            return Visitor(
                role="reviewer",
                refit=share.refit,
                revisions=numbers_of(share),
                name=share.reviewer,
                expires_at=share.expires_at,
            )
        if not self._is_owner(request.cookies.get(OWNER_COOKIE, "")):
            sentence = "Open this server by the link it printed when it started."
            raise ModelError("secret-link-needed", sentence)
        return Visitor(role="owner", refit=None, revisions=(), name="", expires_at=None)

    def enter(self, request: Request, response: Response, token: str) -> None:
        """Set the cookie for the secret of a link.

        Raises:
            ModelError: ``too-many-tries``, ``unknown-link``, ``link-closed``.
        """
        client = request.client.host if request.client else ""
        self._tries.require(client)
        share = self._links.found(token)
        if share is not None:
            _require_open(share)
            _set_cookie(response, SHARE_COOKIE, token)
        elif self._secret is not None and self._is_owner(token):
            _set_cookie(response, OWNER_COOKIE, token)
            response.delete_cookie(SHARE_COOKIE)
        else:
            self._tries.count(client)
            raise ModelError("unknown-link", "This link opens nothing: ask for a new one.")

    def _is_owner(self, token: str) -> bool:
        return self._secret is None or compare_digest(token.encode(), self._secret.encode())


def for_reviewers(endpoint: Endpoint) -> Endpoint:
    """Mark a route that a reviewer may use on what the link opens."""
    endpoint.for_reviewers = True  # type: ignore[attr-defined]
    return endpoint


def admitted(request: Request) -> Visitor:
    """The sender of a request, if the route is open to them.

    Raises:
        ModelError: ``not-shared``; those of ``Access.visitor``.
    """
    access: Access = request.app.state.access
    visitor = access.visitor(request)
    if visitor.role == "reviewer":
        place = request.path_params
        is_for_reviewers = getattr(request.scope["endpoint"], "for_reviewers", False)
        is_its_refit = place.get("refit", visitor.refit) == visitor.refit
        opened = {"", *(str(number) for number in visitor.revisions)}
        asked = {str(place.get(name, "")) for name in ("revision", "before")}
        if not is_for_reviewers or not is_its_refit or not asked <= opened:
            raise ModelError("not-shared", "Your link does not open this.")
        if request.method != "GET":
            access.writes.require(request.state.share)
            access.writes.count(request.state.share)
    return visitor


def why_closed(request: Request) -> str:
    """Why an open stream's client is no longer admitted, or empty."""
    access: Access = request.app.state.access
    try:
        access.visitor(request)
    except ModelError as error:
        return error.sentence
    return ""


VisitorDep = Annotated[Visitor, Depends(admitted)]


def author_of(visitor: Visitor, given: str | None) -> str:
    """The name under which a visitor writes.

    Raises:
        ModelError: ``name-needed``.
    """
    if visitor.role == "reviewer" and visitor.name:
        return visitor.name
    return person_name("" if visitor.role == "reviewer" else given or "")


def person_name(name: str) -> str:
    """The name of a person, which has a letter at least: it stands under signatures.

    Raises:
        ModelError: ``name-needed``.
    """
    if not any(sign.isalpha() for sign in name):
        raise ModelError(
            "name-needed", "Enter your name first: it is shown beside what you write."
        )
    return name


def channel_of(visitor: Visitor) -> str:
    """The channel that a visitor's records come through, in words."""
    return "the owner's pages" if visitor.role == "owner" else "a share link"


def _require_open(share: tables.Share) -> None:
    if share.revoked_at is not None or share.expires_at <= now():
        word = "was revoked" if share.revoked_at else "has expired"
        raise ModelError("link-closed", f"This link {word}: ask for a new one.")


def _set_cookie(response: Response, name: str, token: str) -> None:
    response.set_cookie(name, token, httponly=True, samesite="strict", path="/")
