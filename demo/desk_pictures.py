"""Make the pictures of the desk that the README shows, while the story is played in a browser.

    python -m demo.desk_pictures

It needs a Chromium on this machine. The pictures are made anew in ``demo/pages``.
"""

from __future__ import annotations

import io
import shutil
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from PIL import Image

from demo.desk_story import Clock, Story, desk_of, furnish, kept_environment, tell
from demo.served import served
from supports.errors import SupportsError

PAGES = Path(__file__).parent / "pages"
SIZE = (1280, 860)
COLOURS = 24
"""Few colours, so that a picture weighs little."""


def main() -> None:
    """Play the story and keep a picture of each station."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        raise SystemExit("desk_pictures: there is no Chromium on this machine")
    with TemporaryDirectory() as folder, kept_environment():
        try:
            _play(Path(folder), chromium)
        except SupportsError as error:
            raise SystemExit(f"desk_pictures: {error}") from None


def _play(folder: Path, chromium: str) -> None:
    from playwright.sync_api import sync_playwright

    clock = Clock()
    register = furnish(folder)
    with served(desk_of(register, clock)) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        story = Story(browser, address, clock, _Camera(), SIZE)
        tell(story)
        story.close()
        browser.close()
    register.close()


class _Camera:
    """Keeps pictures in the order in which they are taken."""

    def __init__(self) -> None:
        self.taken = 0

    def __call__(self, name: str, page: Any) -> None:
        """Take one."""
        self.taken += 1
        seen = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
        path = PAGES / f"desk-{self.taken:02d}-{name}.png"
        seen.quantize(COLOURS).save(path, optimize=True)
        sys.stdout.write(f"{path.name} {path.stat().st_size // 1024} kB\n")


if __name__ == "__main__":
    main()
