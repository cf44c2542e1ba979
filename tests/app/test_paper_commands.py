"""Papers by name from the command line."""

from __future__ import annotations

from pathlib import Path

from tests.reports.reading import pages


def test_a_data_sheet_is_made_in_german_and_another_paper_refused_in_a_sentence(terminal, tmp_path):
    make = ("paper", "make")
    typed = terminal(
        *make, "support-data-sheet", "PS-1024", "--into", str(tmp_path), "--language", "de",
        "--copy", "3",
    )  # fmt: skip
    assert typed.code == 0, typed
    files = [Path(line) for line in typed.out.split()]
    assert [path.suffix for path in files] == [".pdf", ".html"]
    assert "Datenblatt PS-1024" in pages(files[0].read_bytes())[0]
    refused = terminal(*make, "data-sheet", "--into", str(tmp_path / "none"))
    assert (refused.code, "Traceback" in refused.err) == (3, False)
    assert "there is no paper 'data-sheet'" in refused.err
    assert not (tmp_path / "none").exists()
