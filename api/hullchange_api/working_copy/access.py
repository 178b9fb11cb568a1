"""Who may do what: the owner everything, a reviewer what a link opens, nobody else anything.

Every route is the owner's alone unless it is marked ``for_reviewers``; then a reviewer may use
it on the refit and the revisions of the link.
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
from hullchange_api.store.shares import Shares, numbers_of
from hullchange_api.wire.review import Visitor

OWNER_COOKIE, SHARE_COOKIE = "hullchange-owner", "hullchange-share"
TRIES_PER_MINUTE, WRITES_PER_MINUTE = 10, 60
MOST_CLIENTS = 10_000
Endpoint = TypeVar("Endpoint", bound=Callable[..., object])


class Pace:
    """How often somebody did something in the last minute."""

    def __init__(self, per_minute: int) -> None:
        """Nobody did anything yet."""
        self._most = per_minute
        self._lock = Lock()
        self._times: dict[str, deque[float]] = defaultdict(deque)

    def require(self, who: str) -> None:
        """Nothing, where there is room for another time.

        Raises:
            ModelError: ``too-many-tries``.
        """
        with self._lock:
            times = self._times[who]
            while times and times[0] < time.monotonic() - 60.0:
                times.popleft()
            if len(times) >= self._most:
                raise ModelError(
                    "too-many-tries", "Too many in one minute: wait, and try again."
                )

    def count(self, who: str) -> None:
        """One more time."""
        with self._lock:
            if len(self._times) > MOST_CLIENTS:
                self._times.clear()
            self._times[who].append(time.monotonic())


class Access:
    """Who asks, from the cookies that a link left."""

    def __init__(self, shares: Shares, secret: str | None) -> None:
        """Without a secret (on loopback) everybody without a link is the owner."""
        self._shares = shares
        self._secret = secret
        self._tries = Pace(TRIES_PER_MINUTE)
        self.writes = Pace(WRITES_PER_MINUTE)

    def visitor(self, request: Request) -> Visitor:
        """Who asks.

        Raises:
            ModelError: ``link-closed``, ``secret-link-needed``.
        """
        token = request.cookies.get(SHARE_COOKIE)
        share = self._shares.found(token) if token else None
        if share is not None:
            _require_open(share)
            request.state.share = share.id
            with suppress(ModelError):  # a full disk must not keep a reader out
                self._shares.use(share)
            return Visitor(
                role="reviewer",
                refit=share.refit,
                revisions=numbers_of(share),
                name=share.reviewer,
                expires_at=share.expires_at,
            )
        if not self._is_owner(request.cookies.get(OWNER_COOKIE, "")):
            sentence = "Open this server by the link that was printed when it was started."
            raise ModelError("secret-link-needed", sentence)
        return Visitor(role="owner", refit=None, revisions=(), name="", expires_at=None)

    def enter(self, request: Request, response: Response, token: str) -> None:
        """Leave the cookie that a link's secret earns.

        Raises:
            ModelError: ``too-many-tries``, ``unknown-link``, ``link-closed``.
        """
        client = request.client.host if request.client else ""
        self._tries.require(client)
        share = self._shares.found(token)
        if share is not None:
            _require_open(share)
            _leave(response, SHARE_COOKIE, token)
        elif self._secret is not None and self._is_owner(token):
            _leave(response, OWNER_COOKIE, token)
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
    """Who asks, where the route is open to them.

    Raises:
        ModelError: ``not-shared``; those of ``Access.visitor``.
    """
    access: Access = request.app.state.access
    visitor = access.visitor(request)
    if visitor.role == "reviewer":
        place = request.path_params
        is_open = getattr(request.scope["endpoint"], "for_reviewers", False)
        refit_is = place.get("refit", visitor.refit) == visitor.refit
        opened = {"", *(str(number) for number in visitor.revisions)}
        asked = {str(place.get(name, "")) for name in ("revision", "before")}
        if not is_open or not refit_is or not asked <= opened:
            raise ModelError("not-shared", "Your link does not open this.")
        if request.method != "GET":
            access.writes.require(request.state.share)
            access.writes.count(request.state.share)
    return visitor


def why_shut(request: Request) -> str:
    """Why who asked is let in no more, such as one whose stream stays open; empty where so."""
    access: Access = request.app.state.access
    try:
        access.visitor(request)
    except ModelError as error:
        return error.sentence
    return ""


OneVisitor = Annotated[Visitor, Depends(admitted)]


def author_of(visitor: Visitor, given: str | None) -> str:
    """The name under which a visitor writes.

    Raises:
        ModelError: ``name-needed``.
    """
    name = visitor.name if visitor.role == "reviewer" else given or ""
    if not name:
        raise ModelError("name-needed", "Say your name first: it stands beside what you write.")
    return name


def through(visitor: Visitor) -> str:
    """How something came, in words."""
    return "the owner's pages" if visitor.role == "owner" else "a share link"


def _require_open(share: tables.Share) -> None:
    if share.revoked_at is not None or share.expires_at <= now():
        word = "was revoked" if share.revoked_at else "has expired"
        raise ModelError("link-closed", f"This link {word}: ask for a new one.")


def _leave(response: Response, name: str, token: str) -> None:
    response.set_cookie(name, token, httponly=True, samesite="strict", path="/")
