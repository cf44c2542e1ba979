"""Commands typed with odd words, drawn by a seed; a process of its own for each.

Run ``python -m tests.odd_words FIRST COUNT FOLDER`` to try the seeds from FIRST on; each command of
the program gets its turn. Right is an answer, or a sentence with an exit code of the table in
`supports.errors`. A traceback, another exit code or too long a time is a fault.
"""

from __future__ import annotations

import contextlib
import os
import random
import signal
import sys
import traceback
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from app.cli.main import main as command
from app.cli.main import whole_tree
from importers.template import write_tables
from supports import errors
from supports.database import Register, sqlite_url
from supports.operations.site import found_register
from tests.acceptance.sheets import one_constant
from tests.fuzzing import ODD_VALUES, write_down
from tests.interrupted import bring
from tests.operations.road import road_on

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
Known = tuple[tuple[str, ...], Any]
"""The words that call a command, and the command."""
PATIENCE = 60
"""A command on one hanger that takes longer hangs [s]."""
WAITS_FOR_PEOPLE = {("desk",)}
"""Commands that are meant to go on until somebody stops them."""
CODES = {0} | {
    kind.exit_code
    for kind in vars(errors).values()
    if isinstance(kind, type) and issubclass(kind, errors.SupportsError)
}
KNOWN = (
    "PS-7", "C1", "C1/A", "L-1", "CH-1", "WO-1", "C-1", "B", "KK", "S1", "Person KK", "plant.xlsx",
    "1", "0", "-1", "20 kN", "40 mm", "1e400 kN", "nan", "2031-05-04", "2031-02-30", "0001-01-01",
    "9999-12-31", "operating, steady", "register keeper", "out", ".", "/", "nowhere/x.pdf", "--",
    "-", "*", "x" * 5_000, "\n", "ps-7 ", "PS-7'; DROP TABLE unit; --",
)  # fmt: skip


def every_command(group: Any = None, path: tuple[str, ...] = ()) -> Iterator[Known]:
    """Yield each command with the words that call it; those that wait for people are left out."""
    group = group or whole_tree()
    for name, one in group.commands.items():
        if hasattr(one, "commands"):
            yield from every_command(one, (*path, name))
        elif (*path, name) not in WAITS_FOR_PEOPLE:
            yield (*path, name), one


def odd(rng: random.Random) -> str:
    """Return a word, known or odd."""
    word = str(rng.choice(KNOWN if rng.random() < 0.6 else ODD_VALUES))
    return word.replace("\x00", "") or ""


def words_of(rng: random.Random, path: tuple[str, ...], one: Any) -> list[str]:
    """Return what is typed: the command, its arguments, some of its options, seldom too many."""
    words = list(path)
    for parameter in one.params:
        if parameter.param_type_name == "argument":
            words += [odd(rng) for _ in range(rng.choice((1, 1, 1, 1, 0, 2)))]
        elif parameter.name != "help" and "register" not in parameter.name:
            if not parameter.required and rng.random() < 0.6:
                continue
            words.append(rng.choice(parameter.opts))
            words += [] if parameter.is_flag else [odd(rng)]
    if rng.random() < 0.05:
        words.append(rng.choice(("--no-such-option", odd(rng))))
    return words


def tried(seed: int, folder: Path, known: list[Known]) -> str:
    """Type what a seed stands for; return the exit code, or a fault with its story."""
    rng = random.Random(seed)  # noqa: S311  words, no secret
    words = words_of(rng, *known[seed % len(known)])
    said = folder / "said.txt"
    child = os.fork()
    if child == 0:
        os._exit(_typed(words, folder, said))
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    told = said.read_text(errors="replace")
    if code in CODES and "Traceback" not in told:
        return str(code)
    what = "took too long" if code == -signal.SIGALRM else f"exit code {code}"
    return f"seed {seed} {words}: {what}: {told[-1500:]}"


def _typed(words: list[str], folder: Path, said: Path) -> int:
    """Run a command, all that is said going into a file; return its exit code."""
    signal.alarm(PATIENCE)
    os.chdir(folder / "here")
    into = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    for channel in (1, 2):
        os.dup2(into, channel)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    sys.argv = ["supports", *words]
    code = 0
    try:
        command()
    except SystemExit as ended:
        code = ended.code if isinstance(ended.code, int) else int(ended.code is not None)
    except BaseException:  # noqa: BLE001  whatever it is, it is to be told
        os.write(2, traceback.format_exc().encode(errors="replace"))
        code = 99
    with contextlib.suppress(ValueError, OSError):
        sys.stdout.flush()
    return code


def prepared(folder: Path) -> None:
    """Put a register in the middle of a change into a folder, and a workbook beside it."""
    (folder / "here").mkdir(exist_ok=True)
    register = Register(sqlite_url(folder / "register.db"))
    register.migrate()
    found_register(register, plant="Works", form_key="k" * 32, acting="tests", now=NOW)
    road_on(register).given_out()
    write_tables(folder / "here" / "plant.xlsx", one_constant("PS-7", 20.0, 20.1, rod=60.0))
    with contextlib.suppress(errors.SupportsError):
        bring(register, folder / "here" / "plant.xlsx", "KK")
    register.close()
    settings = {"REGISTER": str(folder / "register.db"), "PERSON": "KK",
                "CLOCK": "2031-05-05T08:00:00"}  # fmt: skip
    os.environ.update({f"SUPPORTS_{name}": value for name, value in settings.items()})


def main(first: str, count: str, folder: str) -> None:
    """Try seeds and write down how often each exit code was met, then every fault."""
    prepared(Path(folder))
    known = list(every_command())
    met = [tried(seed, Path(folder), known) for seed in range(int(first), int(first) + int(count))]
    write_down(met, commands=len(known))


if __name__ == "__main__":
    main(*sys.argv[1:])
