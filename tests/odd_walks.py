"""What walkdowns and tablets send back, altered by a seed: workbooks, rows, readings, photos.

Run ``python -m tests.odd_walks FIRST COUNT FOLDER`` to try the seeds from FIRST on. Right is that
something is taken or told row by row, or that all of it is refused with a sentence; the chain must
hold. A traceback, another answer or too long a time is a fault. The words that come over the desk
go by the whole way, from bytes to the register.
"""

from __future__ import annotations

import io
import json
import os
import random
import signal
import sys
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from httpx2 import Response
from PIL import Image

from app.settings import PHOTOS
from app.walkdown_papers import write_package
from app.walkdown_returns import outcome_lines, take_file
from supports.audit import first_break
from supports.database import Register, sqlite_url
from supports.errors import SupportsError
from supports.operations.walkdowns.campaigns import take_out
from tests.fuzzing import ODD_VALUES, PATIENCE, cut_short, flipped, put_in, write_down
from tests.odd_forms import altered
from tests.operations.days import START
from tests.operations.planned_line import stored_line
from tests.web.desks import furnish_desk
from tests.web.tablets import WALK, Tablet, campaign_out, order_out, order_tablet, tablet_of

ODD_JSON: tuple[Any, ...] = (
    *ODD_VALUES, None, [], {}, [[]], {"a": {"b": 1}}, -1, 10**30, float("nan"), float("inf"),
    "\ud800", "a\x00b", "0x1F", "١٢", "²", "1_000", "yes", "operating, steady", "kN", "mm",
    "as found",
)  # fmt: skip
BAD_REQUEST, SERVER_FAULT = 400, 500


class Slow(BaseException):
    """It took too long; nothing on the way may take it for a trouble of its own."""


@dataclass(frozen=True, slots=True)
class Ground:
    """A register with a campaign and an order that are out, their form, and two tablets."""

    register: Register
    folder: Path
    form: bytes
    walk: Tablet
    order: Tablet


def ground_in(folder: Path) -> Ground:
    """Lay the ground once; what is sent later comes on top of what was sent before."""
    register = Register(sqlite_url(folder / "register.db"))
    register.migrate()
    stored_line(register)
    furnish_desk(register)
    campaign_out(register)
    road = order_out(register)
    take_out(register, WALK, "T1", acting="IN", now=road.now)
    with register.reading() as session:
        written = write_package(session, WALK, folder, road.now)
    book = next(path for path in written if path.suffix == ".xlsx")
    os.environ[PHOTOS] = str(folder / "photos")
    walk = tablet_of(register, "IN", now=road.now)
    return Ground(register, folder, book.read_bytes(), walk, order_tablet(register, "T1", road))


# What is sent


def odd(value: Any, rng: random.Random) -> Any:
    """Return what JSON can hold with one odd value at a place drawn by chance, or one left out."""
    if isinstance(value, dict) and value and rng.random() < 0.9:
        name = rng.choice(list(value))
        if rng.random() < 0.1:
            return {key: held for key, held in value.items() if key != name}
        return {**value, name: odd(value[name], rng)}
    if isinstance(value, list) and value and rng.random() < 0.9:
        at = rng.randrange(len(value))
        return [*value[:at], odd(value[at], rng), *value[at + rng.randrange(2) :]]
    return rng.choice(ODD_JSON)


def noted(tablet: Tablet, rng: random.Random, names: dict[str, str]) -> dict[str, Any]:
    """Return a sending with odd words in its boxes, and perhaps odd values anywhere."""
    words = [word for word in ODD_JSON if isinstance(word, str) and len(word) < 500]
    rows = []
    for issued in rng.sample(tablet.copy["rows"], rng.randrange(1, 3)):
        written = {**names, **{rng.choice(list(names)): rng.choice(words) for _ in range(2)}}
        row = issued.get("row") or f"{issued['tag']}|{rng.choice(OCCASIONS)}"
        rows.append(tablet.noted(issued["tag"], row=row, **written))
    said: Any = tablet.said(*rows)
    for _ in range(rng.choice((0, 0, 1, 2))):
        said = odd(said, rng)
    return said  # type: ignore[no-any-return]  # what a tablet sends is an object, mostly


OCCASIONS = ("as found", "as left", "round no. 1", "round no. 9", "part-way", "never", "")
WALKED = {"seen": "yes", "pointer": "40", "pointer_unit": "mm", "load": "20.5", "load_unit": "kN",
          "stop": "out", "photos": "11-12", "act_by": "", "how_soon": "", "fault": "",
          "rod_angle": "1", "plant_state": "operating, steady", "pipe_temperature": "250",
          "temperature_unit": "°C"}  # fmt: skip
READ = {"load": "3.23", "load_unit": "kN", "pointer": "40", "pointer_unit": "mm",
        "plant_state": "shut down, drained", "second_reader": "T2", "turns": "1", "flats": "2",
        "remarks": ""}  # fmt: skip


def send(tablet: Tablet, address: str, said: Any, rng: random.Random) -> Response:
    """Hand a sending to the desk as bytes, some of them damaged."""
    data = json.dumps(said).encode()
    if rng.random() < 0.1:
        data = rng.choice((cut_short, flipped, put_in))(data, rng)
    assert tablet.visitor is not None
    heads = {"x-form-key": tablet.visitor.form_key, "content-type": "application/json"}
    return tablet.visitor.post(address, content=data, headers=heads)


def walk_rows(ground: Ground, rng: random.Random) -> str:
    """Send rows of a walkdown."""
    said = noted(ground.walk, rng, WALKED)
    return answered(send(ground.walk, "/tablet/send/walkdowns", said, rng))


def order_rows(ground: Ground, rng: random.Random) -> str:
    """Send readings of a work order."""
    said = noted(ground.order, rng, READ)
    return answered(send(ground.order, "/tablet/send/work-orders", said, rng))


def photo(ground: Ground, rng: random.Random) -> str:
    """Send a picture that may be damaged, with words that may be odd."""
    tablet = ground.walk
    issued = rng.choice(tablet.copy["rows"])
    target = io.BytesIO()
    kind = rng.choice(("JPEG", "PNG", "WEBP", "TIFF", "GIF"))
    Image.new("RGB", (40, 30), "grey").save(target, kind)
    picture = target.getvalue()
    if rng.random() < 0.6:
        picture = rng.choice((cut_short, flipped, put_in))(picture, rng)
    said = {
        "campaign": WALK, "form": tablet.copy["form"], "person": tablet.copy["person"],
        "row": issued["row"], "tag": issued["tag"], "line": issued["line"],
        "seal": issued["seal"], "number": str(rng.randrange(99)), "subject": "plate",
    }  # fmt: skip
    if rng.random() < 0.4:
        words = [word for word in ODD_VALUES if isinstance(word, str)]
        said[rng.choice(list(said))] = rng.choice(words)
    assert tablet.visitor is not None
    answer = tablet.visitor.post(
        "/tablet/photos", data=said, files={"picture": ("a.jpg", picture, "image/jpeg")},
        headers={"x-form-key": tablet.visitor.form_key},
    )  # fmt: skip
    return answered(answer)


def answered(answer: Response) -> str:
    """Return what became of a sending.

    Raises
    ------
    AssertionError
        It was answered neither row by row nor with a sentence.
    """
    told = answer.json()
    if answer.status_code < BAD_REQUEST:
        rows = told.get("rows", [])
        assert all(one["became"] in {"taken", "known", "refused"} for one in rows), told
        return "answered by row"
    assert answer.status_code < SERVER_FAULT, answer.text
    assert told["error"].strip(), told
    return "refused"


def workbook(ground: Ground, rng: random.Random) -> str:
    """Hand in a walkdown's workbook with odd cells or damage."""
    path = ground.folder / "back.xlsx"
    path.write_bytes(altered(ground.form, rng))
    try:
        outcome = take_file(ground.register, WALK, path, walker="T1", acting="IN", now=START)
        assert all(outcome_lines(outcome))
    except SupportsError as error:
        return "refused" if str(error).strip() else "seed without a sentence"
    return "form taken"


KINDS: tuple[Callable[[Ground, random.Random], str], ...] = (workbook, walk_rows, order_rows, photo)


# What becomes of it


def tried(seed: int, ground: Ground) -> str:
    """Try one seed; return what became of it, a fault with its story."""
    rng = random.Random(seed)  # noqa: S311  mutations, no secret
    kind = KINDS[seed % len(KINDS)]
    signal.setitimer(signal.ITIMER_REAL, PATIENCE)
    try:
        return kind(ground, rng)
    except BaseException:  # noqa: BLE001  whatever it is, it is to be told
        return f"seed {seed} ({kind.__name__}): {traceback.format_exc()[-2500:]}"
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)


def _late(*_: Any) -> None:
    raise Slow


def main(first: str, count: str, folder: str) -> None:
    """Try seeds and write down what came out."""
    signal.signal(signal.SIGALRM, _late)
    ground = ground_in(Path(folder))
    seeds = range(int(first), int(first) + int(count))
    met = [tried(seed, ground) for seed in seeds]
    with ground.register.reading() as session:
        assert first_break(session) is None
    write_down(met)


if __name__ == "__main__":
    main(*sys.argv[1:])
