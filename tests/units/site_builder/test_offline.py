import json
import re
from base64 import b64decode
from hashlib import sha256
from pathlib import Path
from zlib import MAX_WBITS, decompress

import pytest

from site_builder.building.hosting import NEVER_CHANGED, write_for_hosts
from site_builder.building.offline import first_visit_bytes, first_words, write_service_worker
from site_builder.building.policy import CONTENT_SECURITY_POLICY, HEADERS, META_POLICY

PAGES = ["charge-settings.html", "index.html", "pack-in-trouble.html", "safety-rules.html"]


@pytest.fixture
def dist(tmp_path: Path) -> Path:
    others = [
        "code-12/style.css",
        "code-12/few_pages.css",
        "code-12/page.js",
        "code-12/chunk-12.js",
        "code-12/starting-12.js",
        "engine-12/pyodide.mjs",
        "engine-12/plain-start.zip",
        "icons/icon.svg",
    ]
    for path in [*PAGES, *others, ".gitignore", ".well-known/notes.txt"]:
        write(tmp_path / path, f"content of {path}")
    write(tmp_path / "code-12/page.js", 'import{a}from"./chunk-12.js";import("./starting-12.js")')
    return tmp_path


def write(file: Path, text: str) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")


def script(dist: Path) -> str:
    return (dist / "service-worker.js").read_text(encoding="utf-8")


def built_into(dist: Path) -> dict:
    return json.loads(re.match(r"const BUILT = (.*);\n", script(dist))[1])


def list_in(dist: Path) -> list[dict]:
    return built_into(dist)["files"]


def version_in(dist: Path) -> str:
    return built_into(dist)["version"]


def test_what_helps_against_a_fire_is_saved_first_and_the_engine_last(dist):
    assert [file.path for file in write_service_worker(dist)] == [
        "pack-in-trouble.html",
        "safety-rules.html",
        "code-12/style.css",
        "code-12/chunk-12.js",
        "code-12/page.js",
        "code-12/few_pages.css",
        "code-12/starting-12.js",
        "charge-settings.html",
        "index.html",
        "icons/icon.svg",
        "engine-12/pyodide.mjs",
        "engine-12/plain-start.zip",
    ]


def test_the_list_names_each_file_by_its_content(dist):
    write_service_worker(dist)
    content = b"content of pack-in-trouble.html"
    assert list_in(dist)[0] == {
        "path": "pack-in-trouble.html",
        "sha256": sha256(content).hexdigest(),
        "size": len(content),
        "type": "text/html; charset=utf-8",
        "first": True,
    }


def test_the_pages_against_a_fire_with_their_style_and_scripts_are_all_that_a_first_visit_waits_for(dist):
    write_service_worker(dist)
    first = [file["path"] for file in list_in(dist) if file.get("first")]
    assert first == ["pack-in-trouble.html", "safety-rules.html", "code-12/style.css", "code-12/chunk-12.js", "code-12/page.js"]


def test_a_packed_copy_is_no_file_of_its_own_but_the_size_that_is_sent(dist):
    write(dist / "engine-12/pyodide.mjs.gz", "packed")
    write(dist / "engine-12/snapshot.bin", "packed as well, but a file of its own")
    files = {file.path: file for file in write_service_worker(dist)}
    assert "engine-12/pyodide.mjs.gz" not in files
    assert files["engine-12/pyodide.mjs"].packed == len("packed")
    assert files["engine-12/pyodide.mjs"].size == len("content of engine-12/pyodide.mjs")
    assert files["engine-12/snapshot.bin"].packed is None
    assert [path for path, file in files.items() if file.checksSelf] == ["engine-12/snapshot.bin"]


def test_a_first_visit_counts_what_is_sent(tmp_path):
    write(tmp_path / "page.js", "1234567")
    write(tmp_path / "page.js.gz", "123")
    write_service_worker(tmp_path)
    assert first_visit_bytes(tmp_path) == 3 + len(script(tmp_path))


def test_the_same_files_give_the_same_bytes(dist):
    write_service_worker(dist)
    first = script(dist)
    write_service_worker(dist)
    assert script(dist) == first


def test_a_changed_byte_anywhere_makes_another_version(dist):
    write_service_worker(dist)
    before = version_in(dist)
    write(dist / "icons/icon.svg", "content of icons/icon.svh")
    write_service_worker(dist)
    assert version_in(dist) != before


def test_the_headers_are_baked_in(dist):
    write_service_worker(dist)
    assert built_into(dist)["headers"] == HEADERS
    assert "camera=(self)" in HEADERS["permissions-policy"] and "microphone=()" in HEADERS["permissions-policy"]
    assert HEADERS["content-security-policy"] == CONTENT_SECURITY_POLICY


def test_the_pages_against_a_fire_are_in_the_script_itself_whole(dist):
    write_service_worker(dist)
    first_aid = built_into(dist)["firstAid"]
    whole = {name: decompress(b64decode(page), wbits=-MAX_WBITS).decode() for name, page in first_aid.items()}
    assert whole == {name: f"content of {name}" for name in ("pack-in-trouble.html", "safety-rules.html")}


def test_the_first_words_against_a_fire_are_the_lead_and_the_first_act():
    page = '<h1>T</h1><div class="lead"><p>People first.</p></div><h2>Fire</h2>\n<p class="act">Get away.</p><p class="act">Stop.</p>'
    assert first_words(page) == '<p>People first.</p>\n<p class="act">Get away.</p>'


@pytest.mark.parametrize("file", ["_headers", ".htaccess"])
def test_a_host_finds_every_header_in_its_own_form_and_a_phone_does_not_keep_that(dist, file):
    write_for_hosts(dist)
    told = (dist / file).read_text(encoding="utf-8")
    assert all(name in told and value in told for name, value in HEADERS.items())
    assert "require-trusted-types-for 'script'" in told
    assert NEVER_CHANGED in told and "code-12" in told and "engine-12" in told
    assert file not in [kept.path for kept in write_service_worker(dist)]


def test_the_paths_of_a_host_begin_where_the_site_stands(dist):
    write_for_hosts(dist, "https://club.example/field/slate/")
    paths = [line for line in (dist / "_headers").read_text(encoding="utf-8").splitlines() if not line.startswith(" ") and line]
    assert paths[0] == "/field/slate/*" and all(path.startswith("/field/slate/") for path in paths)


def test_a_file_of_an_unknown_kind_stops_the_build_and_says_where_to_add_it(dist):
    write(dist / "sound.xyz", "beep")
    with pytest.raises(ValueError, match=r"sound\.xyz .* CONTENT_TYPES"):
        write_service_worker(dist)


def test_a_first_visit_counts_equal_contents_once(dist):
    write_service_worker(dist)
    before = first_visit_bytes(dist)
    worker_before = len(script(dist))
    write(dist / "copy.html", "content of index.html")
    write_service_worker(dist)
    assert first_visit_bytes(dist) - before == len(script(dist)) - worker_before


def test_a_first_visit_counts_every_file_and_the_service_worker(tmp_path):
    write(tmp_path / "index.html", "12345")
    write(tmp_path / "page.js", "1234567")
    write_service_worker(tmp_path)
    assert first_visit_bytes(tmp_path) == 12 + len(script(tmp_path))


def test_the_policy_allows_no_inline_script_and_no_eval():
    words = CONTENT_SECURITY_POLICY.replace(";", " ").split()
    assert "default-src 'none'" in CONTENT_SECURITY_POLICY
    assert not {"'unsafe-inline'", "'unsafe-eval'", "*", "data:", "blob:"} & set(words)


def test_the_meta_tag_has_the_policy_without_what_only_a_header_can_say():
    assert f"{META_POLICY}; frame-ancestors 'none'" == CONTENT_SECURITY_POLICY
