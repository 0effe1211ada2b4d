"""What every request passes first: who may ask, from where, how much; and the policy every answer carries.

A page on this machine can be reached by any other page that a browser has open. So a request must name this server as
its host (no other name may be pointed at it), and a request that changes something must come from a page of this
server. The answer forbids the browser every script, style, picture and connection that is not ours.
"""

from __future__ import annotations

import hmac
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES = 400_000
"""Of one request: the form of a whole case fits many times; a case file is refused long before by its own limit."""
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
COOKIE = "onedatum-token"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Frame-Options": "DENY",
}


@dataclass(frozen=True)
class Door:
    """Whom the server answers: the hosts it goes by, as `name:port`, and the token asked for beyond this machine."""

    hosts: Collection[str]
    secure: bool = False
    """Whether it is served by TLS."""
    token: str = ""

    @property
    def origins(self) -> frozenset[str]:
        """The origins of its own pages."""
        return frozenset(f"{'https' if self.secure else 'http'}://{host}" for host in self.hosts)


class TooLarge(Exception):
    """The body of a request went over the limit."""


class Guard:
    """ASGI middleware: refuses what is not ours, limits what is read, and puts the policy on every answer."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self.app, self.door = app, door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        refusal = self._refusal(scope)
        if refusal is not None:
            await refusal(scope, receive, _with_policy(send))
            return
        started = False

        async def told(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await send(message)

        try:
            await self.app(scope, _limited(receive), _with_policy(told))
        except TooLarge:
            if started:
                raise
            await _too_large()(scope, receive, _with_policy(send))

    def _refusal(self, scope: Scope) -> Response | None:
        """Why a request is not let in; None where it is."""
        headers = Headers(scope=scope)
        host = headers.get("host", "").lower()
        if host not in self.door.hosts:
            return PlainTextResponse(f"This server answers to {_listed(self.door.hosts)} only.\n", 421)
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit() or int(length[:20]) > MOST_BYTES:
            return _too_large()
        if scope["method"] not in SAFE_METHODS and not self._is_ours(headers):
            return PlainTextResponse("A change must come from a page of this server.\n", 403)
        return self._without_token(scope, headers) if self.door.token else None

    def _is_ours(self, headers: Headers) -> bool:
        """Whether a change comes from our own page, or from a program that is no browser."""
        origin, site = headers.get("origin"), headers.get("sec-fetch-site")
        if origin is not None:
            return origin.lower() in self.door.origins
        return site in (None, "same-origin")

    def _without_token(self, scope: Scope, headers: Headers) -> Response | None:
        """What is answered to a request without the token; the first link with it leaves a cookie behind."""
        if any(_same(self.door.token, each) for each in _tokens(headers)):
            return None
        query = scope.get("query_string", b"").decode("ascii", "replace")
        given = parse_qs(query).get("token", [""])[0]
        if scope["method"] == "GET" and _same(self.door.token, given):
            answer = RedirectResponse(scope["path"], 303)
            secure = "; Secure" if self.door.secure else ""
            answer.headers["set-cookie"] = f"{COOKIE}={given}; Path=/; HttpOnly; SameSite=Strict{secure}"
            return answer
        return PlainTextResponse("Open the link with the token that the server printed at its start.\n", 401)


def _tokens(headers: Headers) -> Iterator[str]:
    """The tokens a request carries."""
    bearer = headers.get("authorization", "")
    if bearer.startswith("Bearer "):
        yield bearer.removeprefix("Bearer ").strip()
    try:
        cookie = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return
    if cookie is not None:
        yield cookie.value


def _same(token: str, given: str) -> bool:
    """Compared in a time that tells nothing of how much of it was right."""
    return hmac.compare_digest(token.encode(), given.encode("utf-8", "replace"))


def _listed(hosts: Collection[str]) -> str:
    return " or ".join(sorted(hosts))


def _too_large() -> Response:
    return PlainTextResponse(f"A request may hold at most {MOST_BYTES:,} bytes.\n", 413)


def _limited(receive: Receive) -> Receive:
    """The same stream, which ends with an error once more was sent than is read."""
    read = 0

    async def counted() -> Message:
        nonlocal read
        message = await receive()
        read += len(message.get("body", b""))
        if read > MOST_BYTES:
            raise TooLarge
        return message

    return counted


def _with_policy(send: Send) -> Send:
    """The same stream of answers, each with the policy."""

    async def told(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return told
