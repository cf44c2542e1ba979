"""Pages of the documentation that are written from the code: ``python -m tests.trust.written``."""

from __future__ import annotations

from tests.trust.licences import ROOT, licences_page
from tests.trust.permissions import permissions_page

PAGES = {"permissions.md": permissions_page, "licences.md": licences_page}

if __name__ == "__main__":
    for name, page in PAGES.items():
        (ROOT / "docs" / name).write_text(page(), "utf-8")
