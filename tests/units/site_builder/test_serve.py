"""The server that `serve` and the browser tests use."""

import http.client
import socket
import urllib.error
import urllib.request

import pytest

from site_builder.building.policy import CONTENT_SECURITY_POLICY
from site_builder.commands import serve
from site_builder.commands.serve import Server, on_free_port
from site_builder.setting_up.failures import SetUpFailed

PAGE = b"<title>Voltages</title>"


@pytest.fixture
def folder(tmp_path):
    served = tmp_path / "dist"
    (served / "voltages").mkdir(parents=True)
    (served / "index.html").write_bytes(b"<title>Home</title>")
    (served / "voltages" / "index.html").write_bytes(PAGE)
    (tmp_path / "secret.txt").write_text("not served")
    return served


def got(address):
    """The answer to one request as it comes, redirects and refusals included."""
    host, _, path = address.removeprefix("http://").partition("/")
    connection = http.client.HTTPConnection(host, timeout=10)
    connection.request("GET", f"/{path}")
    answer = connection.getresponse()
    answer.body = answer.read()
    connection.close()
    return answer


@pytest.mark.parametrize(
    ("name", "content_type"),
    [
        ("engine.js", "text/javascript; charset=utf-8"),
        ("pyodide.mjs", "text/javascript; charset=utf-8"),
        ("pyodide.asm.wasm", "application/wasm"),
        ("app.webmanifest", "application/manifest+json"),
        ("list.json", "application/json"),
        ("stdlib.zip", "application/zip"),
        ("pyodide.asm.wasm.gz", "application/gzip"),
        ("snapshot.bin", "application/octet-stream"),
        ("page.html", "text/html; charset=utf-8"),
        ("look.css", "text/css; charset=utf-8"),
        ("icon.svg", "image/svg+xml"),
        ("icon.png", "image/png"),
        ("something.else", "application/octet-stream"),
    ],
)
def test_each_file_has_its_type_and_arrives_as_it_is(folder, name, content_type):
    (folder / name).write_bytes(b"\x1f\x8b\x00 as it is")
    with Server(folder) as server:
        answer = got(server.address + name)
    assert (answer.status, answer.body) == (200, b"\x1f\x8b\x00 as it is")
    assert answer.headers["Content-Type"] == content_type
    assert answer.headers["Content-Encoding"] is None


def test_every_answer_carries_the_policy_and_is_asked_for_again(folder):
    with Server(folder) as server:
        for path in ("", "voltages/", "voltages", "nowhere"):
            headers = got(server.address + path).headers
            assert headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY
            assert headers["Cache-Control"] == "no-cache"


def test_a_folder_answers_with_its_page(folder):
    with Server(folder) as server:
        assert got(server.address + "voltages/?pack=6s#top").body == PAGE
        assert urllib.request.urlopen(server.address + "voltages").url == server.address + "voltages/"


@pytest.mark.parametrize("under", ["/club/fieldslate/", "club/fieldslate"])
def test_the_folder_is_served_under_a_sub_path_and_nowhere_else(folder, under):
    with Server(folder, under=under) as server:
        root = f"http://127.0.0.1:{server.port}"
        assert server.address == f"{root}/club/fieldslate/"
        assert got(server.address + "voltages/").body == PAGE
        assert got(f"{root}/voltages/").status == 404
        assert got(f"{root}{folder}/voltages/").status == 404
        assert got(f"{root}/club/fieldslate").headers["Location"] == "/club/fieldslate/"
        assert got(f"{root}/club/fieldslate/voltages").headers["Location"] == "/club/fieldslate/voltages/"


@pytest.mark.parametrize("path", ["../secret.txt", "..%2fsecret.txt", "/etc/passwd", "voltages/../../secret.txt", "nowhere", "nowhere/"])
def test_nothing_outside_of_the_folder_is_served(folder, path):
    with Server(folder) as server:
        assert got(server.address + path).status == 404


def test_a_name_with_a_space_is_found(folder):
    (folder / "a pack.txt").write_bytes(b"six cells")
    with Server(folder) as server:
        assert got(server.address + "a%20pack.txt").body == b"six cells"


def test_a_stopped_server_answers_nothing_and_starts_again_at_the_same_address(folder):
    with Server(folder, under="club") as server:
        address = server.address
        server.stop()
        with pytest.raises(ConnectionRefusedError):
            got(address)
        server.start()
        assert server.address == address
        assert got(address + "voltages/").body == PAGE


def test_no_connection_outlives_its_answer(folder):
    with Server(folder) as server, socket.create_connection(("127.0.0.1", server.port), timeout=10) as connection:
        connection.sendall(b"GET / HTTP/1.1\r\nHost: field\r\nConnection: keep-alive\r\n\r\n")
        received = b"".join(iter(lambda: connection.recv(4096), b""))
    assert received.endswith(b"<title>Home</title>")


def test_a_changed_file_is_served_at_once(folder):
    with Server(folder) as server:
        assert got(server.address + "voltages/").body == PAGE
        (folder / "voltages" / "index.html").write_bytes(b"new")
        assert got(server.address + "voltages/").body == b"new"


def test_single_answers_can_be_made_to_fail_or_arrive_damaged(folder):
    faults = {"/index.html": 503, "/voltages/index.html": b"damaged"}
    with Server(folder, under="club", tamper=faults.get) as server:
        assert got(server.address + "index.html").status == 503
        damaged = got(server.address + "voltages/index.html")
        assert (damaged.status, damaged.body) == (200, b"damaged")
        assert damaged.headers["Content-Type"] == "text/html; charset=utf-8"
        assert got(server.address + "voltages/").body == PAGE


def test_a_server_can_be_stopped_in_the_middle_of_a_visit(folder):
    with Server(folder, tamper=lambda path: server.stop() if path == "/voltages/" else None) as server:
        assert got(server.address).status == 200
        assert got(server.address + "voltages/").body == PAGE
        with pytest.raises(ConnectionRefusedError):
            got(server.address)


def test_a_taken_port_is_passed_over(folder):
    with Server(folder) as first, on_free_port(folder, first.port) as second:
        assert second.port > first.port
        assert got(second.address + "voltages/").body == PAGE


def test_when_every_port_is_taken_the_remedy_is_told(folder, monkeypatch):
    monkeypatch.setattr(serve, "PORTS_TRIED", 1)
    with Server(folder) as server, pytest.raises(SetUpFailed, match=rf"No port from {server.port} to {server.port} is free.*--port"):
        on_free_port(folder, server.port)


@pytest.mark.parametrize("port", ["0", "65536", "eight"])
def test_a_port_that_cannot_be_is_refused_before_anything_is_built(port, monkeypatch, capsys):
    monkeypatch.setattr(serve.build, "run", lambda _: pytest.fail("built"))
    with pytest.raises(SystemExit):
        serve.run(["--port", port])
    assert "--port" in capsys.readouterr().err


def test_a_connection_that_was_open_before_the_stop_gets_no_answer_after_it(tmp_path):
    (tmp_path / "index.html").write_text("home", encoding="utf-8")
    server = Server(tmp_path)
    with socket.create_connection(("127.0.0.1", server.port), timeout=5) as opened_ahead:
        assert urllib.request.urlopen(server.address).read() == b"home"  # the server has accepted the earlier connection by now
        server.stop()
        opened_ahead.sendall(b"GET / HTTP/1.0\r\n\r\n")
        try:
            answered = opened_ahead.recv(1024)
        except ConnectionError:
            answered = b""
    assert answered == b""
