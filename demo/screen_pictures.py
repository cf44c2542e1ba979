"""Make the pictures of every screen of the desk that the documentation shows.

    python -m demo.screen_pictures demo-plant

It comes after the first run has made the plant and ``python -m demo.drive_walkdown`` has walked it,
works on a copy of its register, and needs a Chromium on this machine. The pictures are made anew in
``docs/pages/figures/screens``; ``docs/pages/screens.md`` shows them.
"""

from __future__ import annotations

import io
import shutil
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from PIL import Image

from app.settings import fresh_key
from app.web.desk import make_desk
from app.web.keys import hashed
from app.web.visits import Desk
from demo.on_site import fill_form, work_on_site
from demo.plant.people import holders
from demo.served import served
from importers.template import Table, write_tables
from supports.database import Register, sqlite_url
from supports.operations.accounts import NewAccount, open_account
from supports.vocabulary import Role

SHOWN_IN = Path(__file__).parents[1] / "docs" / "pages" / "figures" / "screens"
SIZE, TABLET = (1280, 800), (800, 1160)
COLOURS = 24
"""Few colours, so that a picture weighs little."""
SEEN_AT = datetime.fromisoformat("2026-10-20T08:00:00")
PASSWORD = "nine quiet hangers"  # noqa: S105  of an invented person
WHO = "Gail Jones"
CODE = "code of the picture"
CHANGE, PLAN, ORDER, WALK = "CH-2026-014", "PL-2026-002", "WO-2026-001", "WD-2026-HO-1"
LINE, SUPPORT = "1-HO-1203", "PS-1024"
PACK = f"{ORDER}-re-setting-pack.xlsx"
FILLED = {SUPPORT: (20.6, 41.0), "PS-1025": (25.4, 38.0), "PS-1022/A": (23.0, 44.0)}
"""Load [kN] and pointer [mm] on the form that came back; the first is recorded otherwise."""
READ_ALOFT, AS_FOUND = "PS-1023", {"Load on the scale": "20.0", "Pointer": "40"}
"""The unit that is read on the tablet, and what is noted there."""


@dataclass(frozen=True, slots=True)
class Screen:
    """One screen: the template that it is drawn by, where it is, and its size [pixels]."""

    template: str
    address: str
    size: tuple[int, int] = SIZE

    @property
    def file(self) -> str:
        """Return the name of its picture."""
        return f"{self.template.replace('_', '-')}.png"


BEFORE_ANYBODY = (Screen("first_run", "/first-run"),)
AT_THE_DOOR = (Screen("sign_in", "/sign-in"),)
SCREENS = (
    Screen("home", "/"),
    Screen("supports", "/supports?area=unit+area+1&severity=ACT"),
    Screen("support", f"/supports/{SUPPORT}"),
    Screen("explained", f"/rules/explained?name={SUPPORT}&every=true"),
    Screen("lines", "/lines"),
    Screen("line", f"/lines/{LINE}"),
    Screen("line_change", f"/lines/{LINE}/change?change={CHANGE}&aim=pipe+back+to+its+level"),
    Screen("weight", f"/lines/{LINE}/weight?mass=500+kg&along=12+m"),
    Screen("line_what_if", f"/lines/{LINE}/what-if?thickness=120+mm&density=140&first=5&last=25"),
    Screen("changes", "/changes"),
    Screen("change_new", "/changes/new"),
    Screen("change", f"/changes/{CHANGE}"),
    Screen("change_supports", f"/changes/{CHANGE}/supports"),
    Screen("change_lines", f"/changes/{CHANGE}/lines"),
    Screen("change_history", f"/changes/{CHANGE}/history"),
    Screen("change_weights", f"/changes/{CHANGE}/add-weights"),
    Screen("act", f"/changes/{CHANGE}/do/make-a-plan"),
    Screen("plan", f"/plans/{PLAN}"),
    Screen("work_orders", "/work-orders"),
    Screen("work_order", f"/work-orders/{ORDER}"),
    Screen("work_order_unit", f"/work-orders/{ORDER}/units/{SUPPORT}/A"),
    Screen("travel_stops", "/travel-stops"),
    Screen("start_up", f"/start-up?line={LINE}"),
    Screen("walkdowns", "/walkdowns"),
    Screen("walk_coverage", "/walkdowns/coverage"),
    Screen("walkdown", f"/walkdowns/{WALK}"),
    Screen("findings", "/findings"),
    Screen("finding", f"/findings/{WALK}-F02"),
    Screen("rules", "/rules"),
    Screen("rule", "/rules/of/no-hot-cold-pair"),
    Screen("limits", "/rules/limits"),
    Screen("limit", "/rules/limits/tolerance"),
    Screen("sheets", "/sheets"),
    Screen("sheets_profiles", "/sheets/profiles"),
    Screen("sheets_decisions", "/sheets/decisions"),
    Screen("sheets_doubts", "/sheets/doubts"),
    Screen("record", "/record"),
    Screen("record_batch", "/record/batch/3"),
    Screen("record_row", "/record/row/change/1"),
    Screen("record_day", "/record/day?day=2026-02-20"),
    Screen("record_between", f"/record/between?since=2026-02-01&until=2026-03-02&line={LINE}"),
    Screen("record_whole", "/record/whole"),
    Screen("accounts", "/accounts"),
    Screen("own_account", "/own-account"),
    Screen("machine", "/api/v1/"),
    Screen("trouble", "/supports/PS-9999"),
)
OF_A_FORM = (Screen("order_form", ""),)
"""The screen of a filled-in form that says otherwise than what is recorded."""
ON_A_TABLET = (Screen("tablet_unit", "", TABLET), Screen("tablet", "", TABLET))
"""A unit of an order that was taken along, noted and not sent yet; and the copies on the tablet."""
OF_A_FILE = (
    Screen("sheets_file", ""),
    Screen("sheets_columns", "/columns"),
    Screen("sheets_names", "/names"),
    Screen("sheets_unclear", "/unclear"),
)
"""Screens of a file that was handed in, behind its address."""
EVERY = (*BEFORE_ANYBODY, *AT_THE_DOOR, *SCREENS, *OF_A_FORM, *ON_A_TABLET, *OF_A_FILE)

HANDED_IN: dict[str, Table] = {
    "Supports": [
        ["Support tag", "Line number", "Support type", "Note", "Works number"],
        ["PS-1O24", LINE, "constant hanger", "painted anew", "A-1"],
        ["PS-2501", LINE, "rigd rod", "", "A-2"],
        ["PS-2502", LINE, "rigid rod", "behind the column", "A-3"],
    ],
    "Settings": [
        ["Support tag", "Unit position", "Set on", "Set load", "Method", "Set by"],
        [SUPPORT, "A", "2026-01-02", "20.1 kN", "scale", WHO],
        ["PS-1025", "A", "2026-01-02", 22, "scale", WHO],
    ],
}
"""An invented workbook with a tag mistyped, a kind misspelt, a stray column and a bare number."""


def main() -> None:
    """Make the pictures from the plant in the folder named."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        raise SystemExit("screen_pictures: there is no Chromium on this machine")
    plant = Path(sys.argv[1] if len(sys.argv) > 1 else "demo-plant")
    SHOWN_IN.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as folder:
        shutil.copy(plant / "register.db", folder)
        shutil.copy(plant / "papers" / PACK, folder)
        _look(Path(folder), chromium)


def _look(folder: Path, chromium: str) -> None:
    from playwright.sync_api import sync_playwright

    register = Register(sqlite_url(folder / "register.db"))
    desk = Desk(register, lambda: SEEN_AT, fresh_key, setup_code=CODE, hands=lambda work: work())
    with served(make_desk(desk)) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_context(base_url=address).new_page()
        _take(page, BEFORE_ANYBODY)
        _open_account(register, WHO, "gail")
        _take(page, AT_THE_DOOR)
        _sign_in(page, "gail")
        _take(page, _of_a_file(page, folder))
        _run_the_rules(page)
        work_on_site(register, ORDER, SUPPORT, SEEN_AT)
        _take(page, SCREENS)
        _take(page, _of_a_form(page, folder))
        technician = holders(Role.TECHNICIAN)[0]
        _open_account(register, technician, "technician")
        there = browser.new_context(base_url=address, has_touch=True, timezone_id="UTC")
        tablet = there.new_page()
        tablet.clock.set_fixed_time(SEEN_AT)
        tablet.goto("/sign-in")
        _sign_in(tablet, "technician")
        _take_along(tablet)
        browser.close()
    register.close()


def _open_account(register: Register, person: str, name: str) -> None:
    account = NewAccount(person, name, hashed(PASSWORD, name))
    open_account(register, account, acting=WHO, now=SEEN_AT)


def _sign_in(page: Any, name: str) -> None:
    page.get_by_label("Sign-in name").fill(name)
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_load_state()


def _run_the_rules(page: Any) -> None:
    page.goto("/rules")
    page.get_by_label("Why now").fill("before the walk of autumn")
    page.get_by_role("button", name="Ask every rule now and keep the run").click()
    page.wait_for_load_state()


def _of_a_file(page: Any, folder: Path) -> Iterator[Screen]:
    """Hand a workbook in; give its screens with where they are."""
    book = folder / "area-1-additions.xlsx"
    write_tables(book, HANDED_IN)
    page.goto("/sheets")
    page.locator("#f-file").set_input_files(book)
    page.get_by_role("button", name="Hand it in and look at it").click()
    page.wait_for_url("**/sheets/in/**")
    beginning = page.url
    yield from (Screen(one.template, beginning + one.address) for one in OF_A_FILE)


def _of_a_form(page: Any, folder: Path) -> Iterator[Screen]:
    """Hand a filled-in form in; give the screen that shows it beside what is recorded."""
    filled = folder / "filled.xlsx"
    fill_form(folder / PACK, FILLED, filled)
    page.goto(f"/work-orders/{ORDER}/do/take-a-form-back")
    page.locator("#f-file").set_input_files(filled)
    page.get_by_role("main").get_by_role("button").last.click()
    page.wait_for_url("**/forms/**")
    yield from (Screen(one.template, page.url) for one in OF_A_FORM)


def _take_along(page: Any) -> None:
    """Take an order along, lose the signal, note a reading, and look at it and at the list."""
    unit, copies = ON_A_TABLET
    _sized(page, unit)
    page.goto(f"/tablet#take/work-orders/{ORDER}/1")
    page.locator("#jump option").first.wait_for(state="attached")
    tags = page.locator("#jump option").all_inner_texts()
    place = next(n for n, words in enumerate(tags) if words.endswith(f" {READ_ALOFT}"))
    page.locator("#jump").select_option(str(place))
    page.get_by_role("heading", level=1, name=READ_ALOFT).wait_for()
    page.context.set_offline(True)
    page.get_by_text("no signal", exact=True).wait_for()
    for label, value in AS_FOUND.items():
        page.get_by_label(label).locator("visible=true").fill(value)
    page.get_by_role("button", name="Note it", exact=True).click()
    page.get_by_role("button", name="Yes, note it").click()
    page.get_by_text("1 not sent").wait_for()
    _keep(page, unit)
    page.get_by_role("button", name="All copies").click()
    page.get_by_role("heading", name="Copies on this tablet").wait_for()
    _keep(page, copies)


def _take(page: Any, screens: Iterable[Screen]) -> None:
    for one in screens:
        _sized(page, one)
        page.goto(one.address)
        page.wait_for_load_state("networkidle")
        _keep(page, one)


def _sized(page: Any, one: Screen) -> None:
    width, height = one.size
    page.set_viewport_size({"width": width, "height": height})


def _keep(page: Any, one: Screen) -> None:
    seen = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    path = SHOWN_IN / one.file
    seen.quantize(COLOURS).save(path, optimize=True)
    sys.stdout.write(f"{path.name} {path.stat().st_size // 1024} kB\n")


if __name__ == "__main__":
    main()
