"""What somebody sends who means ill, or has a broken file: a sentence, no error of ours, nothing written.

The names of devices by the rules for file names of the system that has them, from memory; the rest by YAML 1.2, UTF-8
(RFC 3629), forms of several parts (RFC 7578), JSON (RFC 8259) and HTML.
"""

from __future__ import annotations

import html
import re
from itertools import pairwise

import pytest

from onedatum.web.guard import MOST_BYTES, POLICY
from tests.web.conftest import Desk
from tests.web.markup import Markup, read

CASE = b"onedatum: 1\n"
BOMB = "a: &a [x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n" for before, name in pairwise("abcdefghi")
)
REFUSED: dict[str, tuple[bytes, str]] = {
    "bomb": (BOMB.encode(), "must be a case, starting with onedatum: 1"),
    "no case": (b"- 1\n", "must be a case, starting with onedatum: 1"),
    "empty": (b"", "must be a case, starting with onedatum: 1"),
    "UTF-16": ("onedatum: 1\n".encode("utf-16"), "must be text in UTF-8"),
    "Latin-1": ("onedatum: 1\nservice: größer\n".encode("latin-1"), "byte 0xF6"),
    "zeros": (b"\0" * 1000, "zero bytes"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20, "must be text in UTF-8"),
    "two documents": (CASE + b"---\n" + CASE, "must be one document"),
    "deep rows": (CASE + b"a: " + b"[" * 50_000, "levels deep"),
    "deep branches": (CASE + b"a: " + b"{a: " * 20_000, "levels deep"),
    "one byte too many": (CASE + b"#" * (100_001 - len(CASE)), "at most 100,000 bytes"),
    "keys without end": (b"".join(b"k%d:\n" % number for number in range(9_000)), "starting with onedatum: 1"),
}
TAKEN: dict[str, tuple[bytes, str]] = {
    "an alias": (CASE + b"x: &x {a: 1}\n<<: *x\n", "Values are not shared by name"),
    "a tag": (b"onedatum: 1\ntag: !!python/object/apply:os.system ['true']\n", "Tags are not read"),
    "a key twice": (CASE + b"tag: a\ntag: b\n", "tag"),
    "control characters": (CASE + b"tag: a\x1b[31mb\n", "U+001B"),
    "a null": (CASE + b"tag: a\x00b\n", "U+0000"),
    "as long as may be": (CASE + b"#" * (100_000 - len(CASE)), ""),
}
"""Cases with faults are taken in: the page shows what is wrong with them."""


def sent(desk: Desk, name: str, content: bytes) -> tuple[int, str]:
    """A file brought along: the status, and what is said in words."""
    answer = desk.client.post("/upload", files={"file": (name, content)})
    assert answer.headers["content-security-policy"] == POLICY
    return answer.status_code, read(answer.text).text if answer.text else ""


@pytest.mark.parametrize(("content", "said"), REFUSED.values(), ids=REFUSED)
def test_a_file_that_is_no_case_is_refused(desk: Desk, content: bytes, said: str) -> None:
    before = desk.files()
    status, text = sent(desk, "two.yaml", content)
    assert status == 422
    assert said in text
    assert desk.files() == before


@pytest.mark.parametrize(("content", "said"), TAKEN.values(), ids=TAKEN)
def test_a_case_with_faults_is_taken_as_it_is_and_every_fault_told(desk: Desk, content: bytes, said: str) -> None:
    before = desk.files()
    assert sent(desk, "two.yaml", content)[0] == 303
    assert desk.files() == before | {"two.yaml": content}
    page = desk.client.get("/cases/two/file")
    assert page.status_code == 200
    assert said in read(page.text).text.replace("\u200b", "")
    assert desk.client.get("/cases/two").status_code == 200


def test_more_than_a_request_may_hold_is_refused(desk: Desk) -> None:
    assert desk.client.post("/upload", files={"file": ("two.yaml", b"#" * MOST_BYTES)}).status_code == 413

    def chunks() -> object:
        for _ in range(MOST_BYTES // 1000 + 1):
            yield b" " * 1000

    for method, path in (("POST", "/api/cases/one/try"), ("PUT", "/api/cases/one/fields"), ("POST", "/cases/one/edit")):
        kind = "application/json" if "api" in path else "application/x-www-form-urlencoded"
        answer = desk.client.request(method, path, content=chunks(), headers={"content-type": kind})  # type: ignore[arg-type]
        assert (answer.status_code, answer.headers["content-security-policy"]) == (413, POLICY)


@pytest.mark.parametrize("name", ["two.yaml", "two.yml", "TWO.YAML", "two"])
def test_a_case_keeps_the_name_of_its_file(desk: Desk, name: str) -> None:
    answer = desk.client.post("/upload", files={"file": (name, CASE)})
    stem = name.partition(".")[0]
    assert answer.headers["location"] == f"/cases/{stem}"
    assert desk.files()[f"{stem}.yaml"] == CASE


def test_nothing_is_written_over(desk: Desk) -> None:
    before = desk.files()
    for name in ("one.yaml", "one.yml", "one"):
        status, text = sent(desk, name, CASE)
        assert (status, "it exists already and is not overwritten" in text.lower()) == (422, True)
    assert desk.client.post("/cases", data={"name": "one"}).status_code == 422
    assert desk.files() == before


@pytest.mark.parametrize(
    "name",
    ["../two.yaml", "..%2ftwo.yaml/../two.yaml", "/etc/two.yaml", "../../two", ".yaml", "..yaml",
     ".two.yaml", "con.yaml",
     "NUL", "com1.yaml", "aux.x.yaml", "x" * 300 + ".yaml", "two\\\\..\\\\..\\\\x/y.yaml", "<script>.yaml",
     "{{7*7}}|.yaml",
     "a:b.yaml", "\u202etwo.yaml", "two .yaml", "*.yaml"],
)  # fmt: skip
def test_a_name_that_leads_elsewhere_is_refused(desk: Desk, name: str) -> None:
    before, around = desk.files(), sorted(desk.folder.parent.rglob("*"))
    status, text = sent(desk, name, CASE)
    assert status == 422
    assert "must be a plain file name" in text
    assert desk.files() == before
    assert [path for path in sorted(desk.folder.parent.rglob("*")) if ".onedatum" not in path.parts] == around


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"x", "multipart/form-data"),
        (b"x", "multipart/form-data; boundary=x"),
        (b"--x\r\n\r\n\r\n--x--", "multipart/form-data; boundary=x"),
        (b'--x\r\nContent-Disposition: form-data; name="file"\r\n\r\nx\r\n--x--', "multipart/form-data; boundary=x"),
        (b"--x\r\n" * 20_000, "multipart/form-data; boundary=x"),
        (b"file=x&name=%ff%00&_version=%00", "application/x-www-form-urlencoded"),
        (b"&".join(b"k%d=x" % number for number in range(6_000)), "application/x-www-form-urlencoded"),
        (b"", "application/json"),
        (b"{}", "text/plain"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("path", ["/upload", "/cases", "/cases/one/edit", "/cases/one/undo"])
def test_a_form_that_is_broken_is_answered(desk: Desk, path: str, content: bytes, kind: str) -> None:
    before = desk.files()
    answer = desk.client.post(path, content=content, headers={"content-type": kind})
    assert answer.status_code in (303, 400, 404, 409, 422)
    assert desk.files() == before


JSON = (
    b"", b"{", b"[]", b"null", b"[" * 100_000, b"9" * 5000, b"\xff\xfe", b'{"changes":{"a":1}}',
    b'{"changes":{"a":NaN}}', b'{"changes":{"tag":"\\ud800"},"version":""}',
    b'{"changes":{"\\u0000":"x","":"x","a.b[99999999999]":"x"},"version":"0"}',
    b'{"changes":{"tag":"x"},"room":{"width_px":1e400},"version":7}',
    b'{"changes":{"vessel":"x","onedatum":null},"version":"0"}',
    b'{"changes":{"tag":"' + b"x" * 5001 + b'"},"version":"0"}', b'{"changes":{"tag":"a\\nb: c"},"version":"0"}',
)  # fmt: skip


@pytest.mark.parametrize("content", JSON, ids=lambda content: content[:30].decode("ascii", "replace"))
def test_data_that_cannot_be_read_is_answered(desk: Desk, content: bytes) -> None:
    before, head = desk.files(), {"content-type": "application/json"}
    for method, path in (("POST", "try"), ("PUT", "fields")):
        answer = desk.client.request(method, f"/api/cases/one/{path}", content=content, headers=head)
        assert answer.status_code in (200, 400, 422)
        assert answer.json().keys() & {"sentence", "refused"}
    assert desk.files() == before


def broken_out(page: Markup) -> list[str]:
    """What text leaves in a page when it gets out of its place; labels and ids are tested where the pages are."""
    return [fault for fault in page.faults if "has no label" not in fault and "stands twice" not in fault]


HOSTILE = "{{7*7}}{%x%}${7*7}<script>alert(1)</script>\"><img src=x onerror=alert(2)>'&amp;"


def test_whatever_a_case_says_is_text_on_every_page(desk: Desk) -> None:
    quoted = HOSTILE.replace("'", "''")
    text = (desk.folder / "one.yaml").read_text(encoding="utf-8")
    text = re.sub("(?m)^(tag|service):.*", rf"\1: '{quoted}'", text).replace("note: ", f"note: '{quoted}' # ")
    (desk.folder / "one.yaml").write_text(text, encoding="utf-8")
    (desk.folder / "{{7-7}}'&x;.yaml").write_text(text, encoding="utf-8")
    shown = 0
    for name in ("one", "%7B%7B7-7%7D%7D%27&x;"):
        further = ("", *(f"/{each}" for each in "selection questions order sheets file signal papers compare".split()))
        for path in ("/", *(f"/cases/{name}{each}" for each in further), f"/cases/{name}/compare?with=one"):
            answer = desk.client.get(path)
            assert answer.status_code == 200, path
            found = read(answer.text)
            assert broken_out(found) == [], path
            assert not re.search(r"<script>alert|<img src=x|(?<!\d)49\{%x", answer.text), path
            shown += HOSTILE in found.text.replace("\u200b", "")
    assert shown >= 12


@pytest.mark.parametrize(
    "path", ["/cases/{}", "/cases/one/working/{}", "/api/cases/{}/page", "/nothing/{}",
             "/cases/one?level={}&work={}&every={}",
             "/cases/one/signal?dip={}&meter={}", "/cases/one/compare?with={}", "/cases/one/table?step={}",
             "/cases/one?width_px={}", "/cases/one/papers?task={}", "/cases/one/papers/{}/{}"],
)  # fmt: skip
def test_what_an_address_says_is_text_too(desk: Desk, path: str) -> None:
    answer = desk.client.get(path.replace("{}", "%22%3E%3Cscript%3Ealert(1)%3C%2Fscript%3E%7B%7B7*7%7D%7D"))
    assert answer.status_code < 500
    assert answer.headers["content-security-policy"] == POLICY
    if answer.headers["content-type"].startswith("text/html"):
        assert "<script>alert" not in answer.text
        assert broken_out(read(answer.text)) == []


def routes(desk: Desk) -> list[tuple[str, str]]:
    """Every method and path that is described, and the pages."""
    found = desk.client.get("/api/openapi.json").json()["paths"]
    data = [(method.upper(), path) for path, methods in found.items() for method in methods]
    pages = "selection questions order sheets quantity table papers compare file signal file.yaml table.csv".split()
    forms = [("POST", f"/cases/{{name}}/{each}") for each in ("edit", "undo", "redo", "papers", "quantity")]
    return [*data, *forms, ("GET", "/cases/{name}"), *(("GET", f"/cases/{{name}}/{each}") for each in pages)]


@pytest.mark.parametrize(
    "name", ["..%2F..%2Fetc%2Fpasswd", "%2e%2e%2fone", "%00", "one%00", "%ff", "%ed%a0%80",
     "%252e%252e%252fone", "a%5cb",
             "con", "x" * 4000, "a%0d%0aSet-Cookie:x", "%20", "%E2%80%AE", ".onedatum", "one.yaml%2f..%2fone"],
)  # fmt: skip
def test_a_name_that_leads_elsewhere_is_refused_by_every_route(desk: Desk, name: str) -> None:
    before = desk.files()
    for method, path in routes(desk):
        if "{" not in path:
            continue
        answer = desk.client.request(method, re.sub(r"\{\w+\}", name, path))
        assert 400 <= answer.status_code < 500, (method, path)
        assert answer.headers["content-security-policy"] == POLICY
        assert "root:" not in answer.text and "set-cookie" not in answer.headers
    assert desk.files() == before


def test_an_error_of_ours_is_said_without_a_traceback_and_with_the_policy(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(self: object) -> None:
        raise RuntimeError("<b>secret</b>")

    monkeypatch.setattr("onedatum.jobs.folder.Folder.cases", broken)
    for path in ("/", "/api/cases"):
        answer = desk.client.get(path)
        assert (answer.status_code, answer.headers["content-security-policy"]) == (500, POLICY)
        assert "An error of ours: RuntimeError." in html.unescape(answer.text)
        assert "secret" not in answer.text and "Traceback" not in answer.text


def test_another_page_may_lead_here_and_take_nothing(desk: Desk) -> None:
    """Fetch metadata: what another page draws or reads comes with its site; a link opened by hand is a navigation."""
    foreign = {"sec-fetch-site": "cross-site"}
    for more in ({"sec-fetch-mode": "no-cors", "sec-fetch-dest": "image"}, {"sec-fetch-mode": "cors"}, {},
                 {"sec-fetch-mode": "navigate", "sec-fetch-dest": "iframe"}):  # fmt: skip
        assert desk.client.get("/", headers=foreign | more).status_code == 403
    link = {"sec-fetch-mode": "navigate", "sec-fetch-dest": "document"}
    for site in ("cross-site", "same-site", "none"):
        assert desk.client.get("/", headers={"sec-fetch-site": site} | link).status_code == 200
    assert desk.client.get("/static/page.css", headers={"sec-fetch-site": "same-origin"}).status_code == 200
