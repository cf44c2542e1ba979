"""Forms that come back altered by a seed: odd cells, damaged files; a process of its own for each.

Run ``python -m tests.odd_forms FIRST COUNT FOLDER`` to try the seeds from FIRST on. Right is that
rows are recorded or told, or that the form is refused with a sentence; the chain must hold. A
traceback, another end or too long a time is a fault.
"""

from __future__ import annotations

import io
import json
import os
import random
import shutil
import signal
import sys
import traceback
from collections.abc import Iterator
from pathlib import Path

import openpyxl
from openpyxl.utils.exceptions import IllegalCharacterError

from app.returns import take_back
from supports.audit import first_break
from supports.errors import SupportsError
from tests.deeds import DEEDS, Place
from tests.fuzzing import BYTES, ODD_VALUES, PATIENCE, REFUSED, write_down
from tests.interrupted import NOW

MOST_CELLS = 6


def altered(form: bytes, rng: random.Random) -> bytes:
    """Return a form with odd values in some cells, or with damage to its bytes, or with both."""
    if rng.random() < 0.7:
        form = _odd_cells(form, rng)
    return form if rng.random() < 0.6 else rng.choice(BYTES)(form, rng)


def _odd_cells(form: bytes, rng: random.Random) -> bytes:
    book = openpyxl.load_workbook(io.BytesIO(form))
    for _ in range(rng.randrange(1, MOST_CELLS)):
        sheet = rng.choice(book.worksheets)
        row, column = rng.randrange(1, sheet.max_row + 2), rng.randrange(1, sheet.max_column + 2)
        value = rng.choice((*ODD_VALUES, sheet.cell(1, 1).value))
        try:
            sheet.cell(row, column).value = value
        except (
            ValueError,
            AttributeError,
            IllegalCharacterError,
        ):  # signs that no workbook holds; a merged cell
            sheet.delete_rows(row)
    target = io.BytesIO()
    book.save(target)
    book.close()
    return target.getvalue()


def tried(seed: int, folder: Path) -> str:
    """Try one seed; return what became of it, a fault with its story."""
    rng = random.Random(seed)  # noqa: S311  mutations, no secret
    here = folder / "here"
    shutil.rmtree(here, ignore_errors=True)
    shutil.copytree(folder / "ready", here)
    form = here / "back.xlsx"
    form.write_bytes(altered(form.read_bytes(), rng))
    child = os.fork()
    if child == 0:
        os._exit(_alone(here))
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    if code in {0, REFUSED}:
        return "taken" if code == 0 else "refused"
    what = "took too long" if code == -signal.SIGALRM else "broke off"
    return f"seed {seed}: {what}: {(here / 'said.txt').read_text(errors='replace')[-2000:]}"


def _alone(here: Path) -> int:
    """Take a form back; return the exit code."""
    signal.alarm(round(PATIENCE))
    place = place_in(here)
    order = json.loads((here / "order.json").read_text())
    try:
        form = here / "back.xlsx"
        said = list(take_back(place.register, order, form, acting="FO", now=NOW))
        with place.register.reading() as session:
            assert first_break(session) is None
        assert all(said)
    except SupportsError as error:
        return REFUSED if str(error) else 1
    except BaseException:  # noqa: BLE001  whatever it is, it is to be told
        (here / "said.txt").write_text(traceback.format_exc())
        return 1
    return 0


def place_in(folder: Path) -> Place:
    """Return the place of a register in a folder."""
    return Place(f"sqlite:///{folder}/register.db", "", folder)


def outcomes(first: int, count: int, folder: Path) -> Iterator[str]:
    """Try seeds one after the other."""
    ready = folder / "ready"
    ready.mkdir()
    DEEDS["returned form"].ready(place_in(ready))
    yield from (tried(seed, folder) for seed in range(first, first + count))


def main(first: str, count: str, folder: str) -> None:
    """Try seeds and write down what came out."""
    write_down(list(outcomes(int(first), int(count), Path(folder))))


if __name__ == "__main__":
    main(*sys.argv[1:])
