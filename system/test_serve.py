"""`onedatum serve`: what it refuses to be, whom it answers on the wire, and how it ends.

Requests are written byte by byte where a client would mend them. HTTP/1.1 by RFC 9112 (one Host, absolute form of the
target, chunked bodies); a self-signed certificate is made by the program openssl; addresses that belong to nobody are
those of RFC 5737.
"""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Thread

import pytest

from onedatum.web.bench import usual_workers
from onedatum.web.guard import POLICY
from tests.cli.run import ROOT, onedatum

EXAMPLE = ROOT / "examples" / "spirit_receiver.yaml"
BAD_INPUT = 2
LEAST_TICKS = 3
"""In a tenth of a second."""
ENDS_WITHIN_S = 20.0
"""However busy the machine; alone it takes some tenths of a second."""


@dataclass
class Served:
    """A running server: its process, its link, its port."""

    process: subprocess.Popen[str]
    link: str
    port: int

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.port}"

    def workers(self) -> list[int]:
        """The processes of this server that calculate."""
        rows = (line.split(None, 3) for line in listed("pid=,ppid=,stat=,args="))
        own = (row for row in rows if int(row[1]) == self.process.pid and not row[2].startswith("Z"))
        return [int(row[0]) for row in own if "spawn_main" in row[3]]

    def others(self) -> list[str]:
        """What is left of the group of processes that it began."""
        rows = (line.split(None, 2) for line in listed("pgid=,stat=,args="))
        return [row[2] for row in rows if int(row[0]) == self.process.pid and not row[1].startswith("Z")]

    def ended(self) -> tuple[int, str]:
        """Its exit code and what it said against anything, once it and all of its processes are gone."""
        code = self.process.wait(ENDS_WITHIN_S)
        begun = time.monotonic()
        while self.others():
            assert time.monotonic() - begun < ENDS_WITHIN_S, self.others()
            time.sleep(0.05)
        assert self.process.stderr is not None
        return code, self.process.stderr.read()


def listed(columns: str) -> list[str]:
    """The processes of this machine, their lines never cut (ps of procps)."""
    words = ["ps", "-A", "-ww", "-o", columns]
    return subprocess.run(words, capture_output=True, text=True, check=True).stdout.splitlines()


def served(folder: Path, *more: str) -> Served:
    """A server of a folder on a free port, in a group of its own."""
    words = [sys.executable, "-m", "onedatum", "serve", str(folder), "--port", "0", "--no-browser", *more]
    whole = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    process = subprocess.Popen(
        words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=whole, cwd=ROOT, start_new_session=True
    )
    assert process.stdout is not None
    link = process.stdout.readline().rpartition(" at ")[2].strip()
    found = re.search(r":(\d+)/", link)
    assert found is not None, process.communicate()
    return Served(process, link, int(found[1]))


def put_away(server: Served) -> None:
    """Whatever the test has left of it."""
    if server.process.poll() is None:
        os.killpg(server.process.pid, signal.SIGKILL)
    server.process.communicate()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server of one case on this machine alone."""
    folder = tmp_path_factory.mktemp("cases")
    (folder / "one.yaml").write_bytes(EXAMPLE.read_bytes())
    made = served(folder)
    yield made
    put_away(made)


# ---------------------------------------------------------------- refused before anything listens


def refused(*words: str) -> str:
    """What is said where it is not served."""
    outcome = onedatum("serve", *words, "--no-browser")
    assert (outcome.code, outcome.out) == (BAD_INPUT, "")
    return " ".join(outcome.err.split())


def test_a_folder_that_is_none_is_named(tmp_path: Path) -> None:
    assert f"FOLDER must be a folder of cases; got {tmp_path}/gone." in refused(f"{tmp_path}/gone")
    assert "FOLDER must be a folder of cases" in refused(str(EXAMPLE))


@pytest.mark.parametrize("address", ["192.0.2.1", "0.0.0.0", "::", "some.example"])
@pytest.mark.parametrize("more", [(), ("--token",)])
def test_other_machines_are_not_let_in_without_token_and_certificate(
    address: str, more: tuple[str, ...], tmp_path: Path
) -> None:
    told = refused(str(tmp_path), "--listen", address, "--name", "tanks.example", *more)
    assert "would let other machines in" in told
    assert "State --token and --certificate with --key too." in told


def test_neither_is_it_with_a_certificate_alone(made_certificate: tuple[Path, Path], tmp_path: Path) -> None:
    certificate, key = map(str, made_certificate)
    told = refused(str(tmp_path), "--listen", "192.0.2.1", "--certificate", certificate, "--key", key)
    assert "would let other machines in" in told


def test_every_address_needs_the_name_browsers_use(tmp_path: Path) -> None:
    assert "state with --name" in refused(str(tmp_path), "--listen", "0.0.0.0", "--token")


@pytest.mark.parametrize("name", ["", "a/b", "a b", "user@host", "x:80", "<script>", "-a", "a" * 300, "a\r\nb"])
def test_a_name_that_is_none_is_refused(name: str, tmp_path: Path) -> None:
    assert "--name must be the name of a machine" in refused(str(tmp_path), "--name", name)


def test_a_certificate_that_is_none_is_told(made_certificate: tuple[Path, Path], tmp_path: Path) -> None:
    certificate, key = map(str, made_certificate)
    other = tmp_path / "other.pem"
    other.write_text("no certificate\n", encoding="utf-8")
    folder = str(tmp_path)
    assert "belong together" in refused(folder, "--certificate", certificate)
    assert "nothing is there" in refused(folder, "--certificate", certificate, "--key", f"{folder}/gone.pem")
    for one, two in ((str(other), key), (certificate, str(other)), (key, certificate)):
        told = refused(folder, "--port", "0", "--certificate", one, "--key", two)
        assert "must be a certificate and its key in PEM" in told


def test_a_port_that_is_taken_is_told(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        told = refused(str(tmp_path), "--port", str(port))
    assert f"127.0.0.1:{port} cannot be listened on" in told
    assert "Take another port with --port; --port 0 takes a free one." in told


def test_an_address_of_another_machine_is_told(made_certificate: tuple[Path, Path], tmp_path: Path) -> None:
    certificate, key = map(str, made_certificate)
    safe = ("--token", "--certificate", certificate, "--key", key)
    told = refused(str(tmp_path), "--port", "0", "--listen", "192.0.2.1", *safe)
    assert "State an address of this machine with --listen." in told


# ---------------------------------------------------------------- on the wire


def exchanged(server: Served, request: str | bytes) -> tuple[int, str]:
    """What is answered to these bytes: the status, and all of it."""
    with socket.create_connection(("127.0.0.1", server.port), timeout=60) as wire:
        wire.sendall(request.encode() if isinstance(request, str) else request)
        answer = b"".join(iter(lambda: wire.recv(65536), b""))
    status = re.match(rb"HTTP/1\.1 (\d{3})", answer)
    assert status is not None, answer[:200]
    return int(status[1]), answer.decode("utf-8", "replace")


def asked(server: Served, target: str, *headers: str, method: str = "GET", host: str | None = None) -> tuple[int, str]:
    """One request, as it stands here."""
    named = [f"Host: {server.host if host is None else host}"]
    return exchanged(
        server, "\r\n".join([f"{method} {target} HTTP/1.1", *named, *headers, "Connection: close", "", ""])
    )


def test_its_own_name_is_answered(server: Served) -> None:
    assert asked(server, "/")[0] == 200
    assert asked(server, "/", host=f"LOCALHOST:{server.port}")[0] == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "user@127.0.0.1:{port}", "127.0.0.1:{port}@evil.example", "[::1]:{port}",
             "localhost.:{port}",
             "127.0.0.1:{port}, evil.example", "127.1:{port}", "2130706433:{port}", "127.0.0.1:0{port}", "localhost"],
)  # fmt: skip
def test_another_name_is_not(server: Served, host: str) -> None:
    """Also none that a resolver takes for the same machine: a name of somebody else may be pointed here."""
    status, answer = asked(server, "/", host=host.format(port=server.port))
    assert status == 421
    assert POLICY in answer


def test_two_names_or_none_are_refused(server: Served) -> None:
    assert asked(server, "/", "Host: evil.example")[0] in (400, 421)
    assert exchanged(server, f"GET / HTTP/1.1\r\nHost: {server.host}\r\nHost: {server.host}\r\n\r\n")[0] in (400, 421)
    assert exchanged(server, "GET / HTTP/1.1\r\n\r\n")[0] in (400, 421)
    assert exchanged(server, "GET / HTTP/1.0\r\n\r\n")[0] == 421


@pytest.mark.parametrize(
    "target", ["http://evil.example/", "http://127.0.0.1/cases/one", "//evil.example/", "*", "/%", "/\\"]
)
def test_a_target_that_is_no_path_of_ours_is_not_followed(server: Served, target: str) -> None:
    status, answer = asked(server, target)
    assert status in (400, 404)
    assert "location:" not in answer.lower()


@pytest.mark.parametrize(
    "path", ["/static/..%2fapp.py", "/static/../app.py", "/static/%2e%2e/app.py", "/static/..%5capp.py",
             "/static//etc/passwd",
             "/static/%2fetc%2fpasswd", "/static/%00", "/static/page.css%00.py", "/static/" + "x" * 3000],
)  # fmt: skip
def test_nothing_but_what_is_ours_is_handed_out(server: Served, path: str) -> None:
    status, answer = asked(server, path)
    assert status == 404
    assert POLICY in answer
    assert "create_app" not in answer and "root:" not in answer


@pytest.mark.parametrize("method", ["HEAD", "OPTIONS", "TRACE", "CONNECT", "PROPFIND", "PUT", "DELETE"])
def test_other_methods_give_nothing_away(server: Served, method: str) -> None:
    status, answer = asked(server, "/cases/one", "Content-Length: 0", method=method)
    assert status in (400, 404, 405)
    assert "LT-201" not in answer
    assert "access-control-allow" not in answer.lower()


@pytest.mark.parametrize(
    "target", ["/upload", "/cases", "/cases/one/edit", "/api/cases/one/try", "/api/cases/one/nothing"]
)
@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1", "https://{host}"])
def test_a_form_of_another_page_is_refused(server: Served, target: str, origin: str) -> None:
    """A form of several parts needs no leave of the browser to be sent from elsewhere (Fetch standard)."""
    boundary = "Content-Type: multipart/form-data; boundary=x"
    status, answer = asked(server, target, f"Origin: {origin.format(host=server.host)}", boundary, method="POST")
    assert status == 403
    assert POLICY in answer


def test_the_origin_is_compared_without_its_case_and_all_of_them(server: Served) -> None:
    ours = f"Origin: HTTP://{server.host}"
    assert asked(server, "/upload", ours, "Content-Length: 0", method="POST")[0] in (400, 422)
    assert asked(server, "/upload", ours, "Origin: http://evil.example", method="POST")[0] == 403


def growth(server: Served) -> dict[int, int]:
    """Processor time of each worker in a tenth of a second."""
    before = {pid: processor_ticks(pid) for pid in server.workers()}
    time.sleep(0.1)
    return {pid: processor_ticks(pid) - ticks for pid, ticks in before.items()}


def at_rest(server: Served) -> None:
    """Wait until every worker rests: one may still be started, to come to know the case too."""
    begun, still = time.monotonic(), 0
    while still < 3:
        assert time.monotonic() - begun < ENDS_WITHIN_S
        still = still + 1 if max(growth(server).values(), default=0) < LEAST_TICKS else 0


def at_work(server: Served) -> int:
    """The worker that calculates."""
    begun = time.monotonic()
    while time.monotonic() - begun < ENDS_WITHIN_S:
        grown = growth(server)
        most = max(grown, key=lambda pid: grown[pid])
        if grown[most] >= LEAST_TICKS:
            return most
    raise AssertionError("no worker is at work")


def processor_ticks(pid: int) -> int:
    """Processor time of a process so far, in hundredths of a second (proc(5))."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rsplit(")", 1)[1].split()
    return int(fields[11]) + int(fields[12])


def test_a_worker_that_is_killed_at_work_is_told_and_replaced(server: Served) -> None:
    assert asked(server, "/cases/one")[0] == 200
    got: list[tuple[int, str]] = []
    waiting = Thread(target=lambda: got.append(asked(server, "/cases/one/selection?all=1")))  # takes the longest of all
    at_rest(server)
    waiting.start()
    slow = at_work(server)
    os.kill(slow, signal.SIGKILL)
    waiting.join(60)
    status, answer = got[0]
    assert status == 503
    assert "The calculation ended before it answered. Nothing was lost; try again." in answer
    assert POLICY in answer
    assert asked(server, "/cases/one/table.pdf")[0] == 200


def test_ctrl_c_ends_it_and_all_of_its_processes_while_it_works(server: Served) -> None:
    """Last of this server. A terminal sends the signal to the whole group."""
    assert asked(server, "/cases/one/papers", "Content-Length: 0", method="POST")[0] == 303
    waiting = Thread(target=lambda: exchanged_or_cut(server))
    waiting.start()
    time.sleep(0.3)
    assert 2 <= len(server.workers()) <= 1 + usual_workers()
    os.killpg(server.process.pid, signal.SIGINT)
    code, said = server.ended()
    waiting.join()
    assert code == 0
    assert "Traceback" not in said and "ERROR" not in said


def exchanged_or_cut(server: Served) -> None:
    """A request that need not be answered."""
    try:
        asked(server, "/cases/one/selection?all=1")
    except (OSError, AssertionError):
        return


def test_a_server_that_is_killed_leaves_no_process(tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_bytes(EXAMPLE.read_bytes())
    made = served(tmp_path)
    try:
        assert asked(made, "/")[0] == 200
        assert made.workers() != []
        made.process.kill()
        assert made.ended()[0] == -signal.SIGKILL
    finally:
        put_away(made)


# ---------------------------------------------------------------- beyond this machine


@pytest.fixture(scope="module")
def made_certificate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A certificate for this machine, signed by itself, and its key."""
    place = tmp_path_factory.mktemp("tls")
    certificate, key = place / "certificate.pem", place / "key.pem"
    words = ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-days", "2"]
    more = ["-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1"]
    subprocess.run([*words, *more, "-keyout", key, "-out", certificate], check=True, capture_output=True)
    return certificate, key


def test_with_certificate_and_token_it_serves_and_without_the_token_nothing(
    made_certificate: tuple[Path, Path], tmp_path: Path
) -> None:
    (tmp_path / "one.yaml").write_bytes(EXAMPLE.read_bytes())
    certificate, key = map(str, made_certificate)
    made = served(tmp_path, "--token", "--certificate", certificate, "--key", key, "--name", "localhost")
    try:
        assert made.link.startswith(f"https://localhost:{made.port}/?token=")
        token = made.link.rpartition("=")[2]
        trust = ssl.create_default_context(cafile=certificate)
        for target in (
            "/",
            "/cases/one",
            "/api/cases",
            "/api/openapi.json",
            "/static/page.css",
            "/?token=",
            "/?token=x",
        ):
            assert safely(made, trust, target)[0] == 401
        assert safely(made, trust, "/", "Cookie: onedatum-token=x")[0] == 401
        answer = safely(made, trust, f"//evil.example/?token={token}")[1].lower()
        assert "location: /evil.example/\r\n" in answer
        assert "; httponly; samesite=strict; secure\r\n" in answer
        assert safely(made, trust, "/", f'Cookie: a=(;b[]="; onedatum-token={token}')[0] == 200
        status, listed_cases = safely(made, trust, "/api/cases", f"Authorization: Bearer {token}")
        assert (status, json.loads(listed_cases.rpartition("\r\n\r\n")[2])[0]["tag"]) == (200, "LT-201")
        os.killpg(made.process.pid, signal.SIGINT)  # while its worker still starts
        assert made.ended() == (0, "")
    finally:
        put_away(made)


def safely(server: Served, trust: ssl.SSLContext, target: str, *headers: str) -> tuple[int, str]:
    """One request by TLS."""
    plain = socket.create_connection(("127.0.0.1", server.port), timeout=60)
    named = [f"GET {target} HTTP/1.1", f"Host: localhost:{server.port}", *headers, "Connection: close", "", ""]
    with trust.wrap_socket(plain, server_hostname="localhost") as wire:
        wire.sendall("\r\n".join(named).encode())
        answer = b"".join(iter(lambda: wire.recv(65536), b""))
    return int(answer.split(b" ", 2)[1]), answer.decode()
