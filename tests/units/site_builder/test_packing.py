import gzip

from site_builder.building.packing import write_packed


def test_a_text_is_packed_beside_itself_and_a_picture_or_a_short_text_is_not(tmp_path):
    (tmp_path / "code").mkdir()
    for name in ("page.html", "code/page.js", "picture.png"):
        (tmp_path / name).write_bytes(b"a long line\n" * 100)
    (tmp_path / "short.html").write_bytes(b"short")
    write_packed(tmp_path)
    packed = sorted(file.relative_to(tmp_path).as_posix() for file in tmp_path.rglob("*.gz"))
    assert packed == ["code/page.js.gz", "page.html.gz"]
    assert gzip.decompress((tmp_path / "page.html.gz").read_bytes()) == b"a long line\n" * 100


def test_what_is_packed_already_is_left_as_it_is(tmp_path):
    (tmp_path / "page.html").write_bytes(b"a long line\n" * 100)
    (tmp_path / "page.html.gz").write_bytes(b"packed by somebody else")
    write_packed(tmp_path)
    assert (tmp_path / "page.html.gz").read_bytes() == b"packed by somebody else"


def test_the_same_text_packs_into_the_same_bytes(tmp_path):
    packed = []
    for folder in ("one", "two"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "page.html").write_bytes(b"a long line\n" * 100)
        write_packed(tmp_path / folder)
        packed.append((tmp_path / folder / "page.html.gz").read_bytes())
    assert packed[0] == packed[1]
