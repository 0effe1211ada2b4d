"""What every request passes first: who may ask, from where, how much; and the policy every answer carries.

A page on this machine can be reached by any other page that a browser has open. So a request must name this server as
its host (no other name may be pointed at it), and a request that changes something must come from a page of this
server. The answer forbids the browser every script, style, picture and connection that is not ours.
"""

from __future__ import annotations

import hmac
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from urllib.parse import parse_qs, quote

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
        guarded = _with_policy(send)
        refusal = self._refusal(scope)
        if refusal is not None:
            await refusal(scope, receive, guarded)
            return
        counted = _Counted(receive)
        answering = _Answering(guarded, counted)
        try:
            await self.app(scope, counted, answering)
        except TooLarge:
            if answering.begun:
                raise
        if counted.over and not answering.begun:
            await _too_large()(scope, receive, guarded)

    def _refusal(self, scope: Scope) -> Response | None:
        """Why a request is not let in; None where it is."""
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or hosts[0].lower() not in self.door.hosts:
            return PlainTextResponse(f"This server answers to {_listed(self.door.hosts)} only.\n", 421)
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit() or int(length[:20]) > MOST_BYTES:
            return _too_large()
        if scope["method"] not in SAFE_METHODS and not self._is_ours(headers):
            return PlainTextResponse("A change must come from a page of this server.\n", 403)
        if scope["method"] in SAFE_METHODS and not _is_led_here(headers):
            return PlainTextResponse("A page of another server may lead here, and take nothing from here.\n", 403)
        return self._without_token(scope, headers) if self.door.token else None

    def _is_ours(self, headers: Headers) -> bool:
        """Whether a change comes from our own page, or from a program that is no browser."""
        origins, sites = headers.getlist("origin"), headers.getlist("sec-fetch-site")
        if any(each.lower() not in self.door.origins for each in origins):
            return False
        return bool(origins) or all(each == "same-origin" for each in sites)

    def _without_token(self, scope: Scope, headers: Headers) -> Response | None:
        """What is answered to a request without the token; the first link with it leaves a cookie behind."""
        if any(_same(self.door.token, each) for each in _tokens(headers)):
            return None
        query = scope.get("query_string", b"").decode("ascii", "replace")
        given = parse_qs(query).get("token", [""])[0]
        if scope["method"] == "GET" and _same(self.door.token, given):
            answer = RedirectResponse("/" + quote(scope["path"].lstrip("/\\"), safe="/"), 303)
            secure = "; Secure" if self.door.secure else ""
            answer.headers["set-cookie"] = f"{COOKIE}={given}; Path=/; HttpOnly; SameSite=Strict{secure}"
            return answer
        return PlainTextResponse("Open the link with the token that the server printed at its start.\n", 401)


def _tokens(headers: Headers) -> Iterator[str]:
    """The tokens a request carries."""
    bearer = headers.get("authorization", "")
    if bearer.startswith("Bearer "):
        yield bearer.removeprefix("Bearer ").strip()
    for each in headers.get("cookie", "").split(";"):  # one by one: a cookie of another server may be no cookie at all
        name, _, value = each.strip().partition("=")
        if name == COOKIE:
            yield value


def _same(token: str, given: str) -> bool:
    """Compared in a time that tells nothing of how much of it was right."""
    return hmac.compare_digest(token.encode(), given.encode("utf-8", "replace"))


def _listed(hosts: Collection[str]) -> str:
    return " or ".join(sorted(hosts))


def _too_large() -> Response:
    return PlainTextResponse(f"A request may hold at most {MOST_BYTES:,} bytes.\n", 413)


class _Counted:
    """The stream of a request, which ends with an error once more was sent than is read."""

    def __init__(self, receive: Receive) -> None:
        self._receive, self._read, self.over = receive, 0, False

    async def __call__(self) -> Message:
        message = await self._receive()
        self._read += len(message.get("body", b""))
        if self._read > MOST_BYTES:
            self.over = True
            raise TooLarge
        return message


class _Answering:
    """The stream of an answer; whatever is made of a request that was cut off is not sent."""

    def __init__(self, send: Send, counted: _Counted) -> None:
        self._send, self._counted, self.begun = send, counted, False

    async def __call__(self, message: Message) -> None:
        if self._counted.over and not self.begun:
            return
        self.begun = True
        await self._send(message)


def _is_led_here(headers: Headers) -> bool:
    """Whether a request is from our own page, from a program, or opens a page of ours in the window by a link."""
    site, mode = headers.get("sec-fetch-site"), headers.get("sec-fetch-mode")
    return site in (None, "same-origin", "none") or (mode == "navigate" and headers.get("sec-fetch-dest") == "document")


def _with_policy(send: Send) -> Send:
    """The same stream of answers, each with the policy."""

    async def told(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return told
