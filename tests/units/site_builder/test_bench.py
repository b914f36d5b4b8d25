"""What the measurements add up and print, without measuring."""

from urllib.request import urlopen

from site_builder.commands.bench import BARE_WORKER, _CountingServer, _print, _with_bare_worker


def test_a_row_has_the_median_the_range_and_the_ratio_to_a_bare_boot(capsys):
    _print(
        {
            "machine": "a machine",
            "bytes of a first visit": {"built": 14_000_000, "sent": 13_500_000},
            "ms": {"first paint": [9.0, 1.0, 2.0], "bare Pyodide boot": [3.0, 4.0, 5.0]},
        }
    )
    machine, visit, _, first_paint, bare = capsys.readouterr().out.splitlines()
    assert machine == "a machine"
    assert visit.startswith("a first visit: 14.00 MB built, 13.50 MB sent")
    assert first_paint.split() == ["first", "paint", "3", "2.0", "ms", "1.0", "to", "9.0", "2.0", "ms", "0.500"]
    assert bare.split()[-1] == "1.000"


def test_the_bytes_that_a_host_sent_are_added_up(tmp_path):
    (tmp_path / "one.txt").write_bytes(bytes(70))
    with _CountingServer(tmp_path) as server:
        for _ in range(2):
            urlopen(f"{server.address}one.txt").read()
        assert server.sent == 140


def test_only_the_worker_is_replaced_for_the_bare_boot():
    assert _with_bare_worker("/code-1/worker.js") == BARE_WORKER.encode()
    assert _with_bare_worker("/service-worker.js") is None
    assert _with_bare_worker("/engine-1/pyodide.mjs") is None
