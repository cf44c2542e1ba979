"""Make the papers of the invented plant and the pictures of them that the README shows.

    python -m demo.paper_pages demo-plant

It comes after the first run has made the plant, ``python -m demo.drive_walkdown`` has walked it and
``python -m demo.drive_turnaround`` has planned its stop.

The pictures are made anew in ``demo/pages``; the papers stay in the plant's folder.
"""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from pathlib import Path

from app.cli.main import run
from app.settings import CLOCK, REGISTER

PAGES = Path(__file__).parent / "pages"
MADE = "2026-10-20T08:00:00"
SCALE, GREYS = 1.0, 12
"""Points to pixels, and shades of grey: print is read well, and a picture weighs little."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One paper with the words that make it, and the page that is shown."""

    words: tuple[str, ...]
    file: str
    page: int = 1


SHOWN = (
    Shown(("plant-status",), "plant-status-2026-10-20"),
    Shown(("change-assessment", "CH-2026-014"), "CH-2026-014-assessment", 3),
    Shown(("re-set-plan", "PL-2026-002"), "PL-2026-002-re-set-plan", 2),
    Shown(("load-change-summary", "CH-2026-014"), "CH-2026-014-load-change-summary"),
    Shown(("re-setting-pack", "WO-2026-001"), "WO-2026-001-re-setting-pack", 10),
    Shown(("hanging-tags", "--line", "1-HO-1203"), "1-HO-1203-hanging-tags"),
    Shown(("support-data-sheet", "PS-1024"), "PS-1024-data-sheet"),
    Shown(("support-data-sheet", "PS-1024"), "PS-1024-data-sheet", 2),
    Shown(("line-summary", "1-HO-1203"), "1-HO-1203-line-summary", 2),
    Shown(("line-screening", "1-HO-1203"), "1-HO-1203-screening"),
    Shown(("walkdown-package", "WD-2026-HO-1"), "WD-2026-HO-1-walkdown-rev1", 5),
    Shown(("walkdown-close-out", "WD-2026-HO-1"), "WD-2026-HO-1-close-out"),
    Shown(("turnaround-scope", "TA-2026-01"), "TA-2026-01-scope"),
    Shown(("turnaround-scope", "TA-2026-01"), "TA-2026-01-scope", 5),
    Shown(("rules-report",), "rules-report-2026-10-20"),
    Shown(("audit-record", "CH-2026-014"), "CH-2026-014-audit-record"),
    Shown(("verification-manual",), "verification-manual", 3),
)


def main() -> None:
    """Make papers and pictures from the plant in the folder named."""
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else "demo-plant")
    papers = folder / "papers"
    os.environ |= {REGISTER: str(folder / "register.db"), CLOCK: MADE}
    for words in dict.fromkeys(one.words for one in SHOWN):
        run(["paper", "make", *words, "--form", "pdf", "--into", str(papers)])
    PAGES.mkdir(exist_ok=True)
    for one in SHOWN:
        sys.stdout.write(f"{_picture(one, papers)}\n")


def _picture(one: Shown, papers: Path) -> Path:
    import pypdfium2

    document = pypdfium2.PdfDocument(papers / f"{one.file}.pdf")
    page = document[one.page - 1].render(scale=SCALE, grayscale=True).to_pil().convert("L")
    document.close()
    again = sum(other.words[0] == one.words[0] for other in SHOWN) > 1
    path = PAGES / f"{one.words[0]}{f'-{one.page}' if again else ''}.png"
    page.quantize(GREYS).save(path, optimize=True)
    return path


if __name__ == "__main__":
    main()
