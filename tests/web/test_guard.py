"""What the door lets in: Fetch's Origin and Host (RFC 9110, the Fetch standard), sizes, the token, the policy."""

from __future__ import annotations

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.routing import Route
from starlette.testclient import TestClient

from onedatum.web.guard import COOKIE, MOST_BYTES, POLICY, Door, Guard

HOST = "127.0.0.1:8423"


async def echo(request: Request) -> PlainTextResponse:
    """How much was sent."""
    return PlainTextResponse(str(len(await request.body())))


def client(token: str = "") -> TestClient:
    app = Starlette(routes=[Route("/", echo, methods=["GET", "POST", "PUT", "DELETE"])])
    app.add_middleware(Guard, door=Door(frozenset({HOST}), token=token))
    return TestClient(app, base_url=f"http://{HOST}", follow_redirects=False)


def test_its_own_host_is_answered_with_the_policy() -> None:
    answer = client().get("/")
    assert answer.status_code == 200
    assert answer.headers["content-security-policy"] == POLICY
    assert "unsafe" not in POLICY and "script-src 'self';" in POLICY
    assert "access-control-allow-origin" not in answer.headers


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8423", "127.0.0.1", "127.0.0.1:80", "", "127.0.0.1:8423.x"]
)
def test_another_name_that_is_pointed_at_it_is_refused(host: str) -> None:
    """A name of somebody else may be made to lead to this machine: only our own is answered."""
    answer = client().get("/", headers={"host": host})
    assert answer.status_code == 421
    assert answer.headers["content-security-policy"] == POLICY


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE"])
@pytest.mark.parametrize("origin", ["http://evil.example", "null", f"https://{HOST}", "http://127.0.0.1:9999", ""])
def test_a_change_from_another_page_is_refused(method: str, origin: str) -> None:
    assert client().request(method, "/", headers={"origin": origin}).status_code == 403


@pytest.mark.parametrize("headers", [{"origin": f"http://{HOST}"}, {}, {"sec-fetch-site": "same-origin"}])
def test_a_change_from_our_page_or_a_program_is_let_in(headers: dict[str, str]) -> None:
    assert client().post("/", headers=headers, content=b"x").text == "1"


@pytest.mark.parametrize("site", ["cross-site", "same-site", "none"])
def test_a_change_without_origin_from_a_browser_elsewhere_is_refused(site: str) -> None:
    assert client().post("/", headers={"sec-fetch-site": site}).status_code == 403


def test_a_body_up_to_the_limit_is_read_and_one_byte_more_is_not() -> None:
    assert client().post("/", content=b"x" * MOST_BYTES).text == str(MOST_BYTES)
    assert client().post("/", content=b"x" * (MOST_BYTES + 1)).status_code == 413


def test_a_body_that_does_not_say_its_length_is_counted() -> None:
    def chunks() -> object:
        for _ in range(MOST_BYTES // 1000 + 1):
            yield b"x" * 1000

    assert client().post("/", content=chunks()).status_code == 413  # type: ignore[arg-type]


@pytest.mark.parametrize("length", ["-1", "abc", "1e3", "9" * 40])
def test_a_length_that_is_none_is_refused(length: str) -> None:
    assert client().post("/", headers={"content-length": length}).status_code == 413


def test_without_the_token_nothing_is_shown_and_its_link_leaves_a_cookie() -> None:
    asked = client(token="right-token")
    assert asked.get("/").status_code == 401
    assert asked.get("/?token=wrong").status_code == 401
    assert asked.get("/", headers={"authorization": "Bearer wrong"}).status_code == 401
    assert asked.get("/", headers={"authorization": "Bearer right-token"}).status_code == 200
    answer = asked.get("/?token=right-token")
    assert answer.status_code == 303
    assert "token" not in answer.headers["location"]
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith(f"{COOKIE}=right-token") and "HttpOnly" in cookie and "SameSite=Strict" in cookie
    assert asked.get("/").status_code == 200
