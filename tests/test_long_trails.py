"""A trail longer than memory should hold waits in a file, and comes back as it was put down."""

from __future__ import annotations

import pytest

from supports.audit import kept
from supports.audit.chain import Deed, Entry, chain_hash, lines_hash
from supports.audit.kept import Block, Kept
from supports.errors import DatabaseTrouble
from tests.test_audit import NOW

ENTRIES = [
    Entry("unit", n, '{"n":"Ä"}' if n % 7 else None, f'{{"n":{n}}}', n) for n in range(4_500)
]


def put_down():
    trail = Kept()
    for entry in ENTRIES[:40]:
        trail.add(entry)
    new = [Entry("area", n, None, "{}", None) for n in range(4_000)]
    trail.add_new("area", [e.row_id for e in new], [str(e.after) for e in new], [None] * len(new))
    for entry in ENTRIES[40:]:
        trail.add(entry)
    return trail, [*ENTRIES[:40], *new, *ENTRIES[40:]]


def test_a_long_trail_comes_back_in_its_order_as_often_as_it_is_asked_for(monkeypatch):
    monkeypatch.setattr(kept, "_IN_MEMORY", 1_000)
    trail, wanted = put_down()
    for _ in range(2):
        assert [
            Entry(*line) for block in trail.blocks() for line in zip(*block, strict=True)
        ] == wanted
    deed = Deed("import", "tester", "a test", NOW)
    hashed = lines_hash("0", deed, map(Block.lines, trail.blocks()))
    assert hashed == chain_hash("0", deed, wanted)
    trail.clear()
    assert not trail


def test_a_full_disk_for_what_waits_is_told(monkeypatch):
    def refuse(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(kept.tempfile, "SpooledTemporaryFile", refuse)
    with pytest.raises(DatabaseTrouble, match=r"disk .* is full.*No space left"):
        put_down()
