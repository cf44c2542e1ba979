"""Spreadsheets mutated by a seed, and what becomes of them; a process of its own for each.

Run ``python -m tests.fuzzing FIRST COUNT FOLDER`` to try the seeds from FIRST on. Each is read,
held against a register and stored, the good rows alone. Three ends are right: it is stored, it has
findings and nothing to store, or it is refused with a sentence. A traceback, a word on the error
channel, too long a time, too much memory or a broken audit chain is a fault.
"""

from __future__ import annotations

import io
import json
import os
import random
import resource
import shutil
import signal
import string
import sys
import time
import traceback
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

import xlsxwriter

from app.intake import read_against, store
from importers.template import write_tables
from supports.audit import first_break
from supports.database import Register, sqlite_url
from supports.errors import SupportsError
from supports.model import Person
from tests.acceptance.sheets import one_constant

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
WRITER = "N. N."
PATIENCE = 30.0
"""A small file that takes longer hangs [s]."""
MOST_MEMORY = 3_000_000_000
"""Address space of one reading [byte]."""
REFUSED = 2
"""Exit code of a process whose file was refused with a sentence."""

Rows = dict[str, list[list[Any]]]

ODD_VALUES: tuple[Any, ...] = (
    0, -1, 1e308, -1e308, 5e-324, 1e22, 2**53 + 1, True, "", " ", "\u00a0", "\t", "0", "-0", "1e5",
    "1,250", "12.500,00", "½", '3 1/2"', "1'-6\"", "20 ± 10 %", "2 x 20", "~20", "18.5/20.2",
    "#REF!", "#N/A", "ditto", '"', "as above", "TOTAL", "Support tag", "kN", "N/mm", "NaN", "inf",
    "1" * 400, "9" * 40_000, "x" * 32_767, "\u202e007", "PS-1\u200b024", "Ünïcödé ☃ 𝄞",
    "a\nb\r\nc", "\x07\x1b[31m", "=1+1", "+cmd", "@x", "-", "—", "PS-1024 A/B", "12-3",
    "1904-01-00", "31.04.2012", "03/04/2009", "2026-13-45", "spring 98", "99999", "1E24",
    "007", "' OR 1=1 --", "<b>&amp;</b>", "{{7*7}}", "%s%n", "C:\\x", "null", "None",
)  # fmt: skip


def base_rows(rng: random.Random) -> Rows:
    """Return the sheets of some hangers."""
    sheets: Rows = {}
    for number in rng.sample(range(8), rng.randrange(1, 5)):
        for sheet, rows in one_constant(f"PS-{number}", 20.0, 20.1, rod=60.0).items():
            table = sheets.setdefault(sheet, [list(rows[0])])
            table.extend(list(row) for row in rows[1:] if list(row) not in table)
    return sheets


# Mutations of the values


def odd_cells(rows: Rows, rng: random.Random) -> None:
    """Put odd values into some cells, headings not spared."""
    for _ in range(rng.randrange(1, 12)):
        table = rows[rng.choice(list(rows))]
        row = rng.choice(table)
        row[rng.randrange(len(row))] = rng.choice(ODD_VALUES)


def swapped_columns(rows: Rows, rng: random.Random) -> None:
    """Let two columns change places, their headings staying."""
    table = rows[rng.choice(list(rows))]
    one, other = rng.randrange(len(table[0])), rng.randrange(len(table[0]))
    for row in (row for row in table[1:] if len(row) > max(one, other)):
        row[one], row[other] = row[other], row[one]


def broken_headings(rows: Rows, rng: random.Random) -> None:
    """Misspell, double, blank or move headings."""
    table = rows[rng.choice(list(rows))]
    at = rng.randrange(len(table[0]))
    text = str(table[0][at] or "x")
    cut = rng.randrange(len(text))
    choices = (text[:cut] + text[cut + 1 :], "", text.upper(), f"{text} [kgf]", f"{text}\n(mm)", 7)
    table[0][at] = rng.choice((*choices, table[0][0], rng.choice(ODD_VALUES)))


def odd_rows(rows: Rows, rng: random.Random) -> None:
    """Repeat, blank, shorten, lengthen or shuffle rows."""
    table = rows[rng.choice(list(rows))]
    row = rng.choice(table)
    acts: tuple[Callable[[], Any], ...] = (
        lambda: table.append(list(row)),
        lambda: table.insert(0, [None] * 3),
        lambda: table.insert(rng.randrange(len(table)), ["Total", 5, 5]),
        lambda: row.extend(rng.choice(ODD_VALUES) for _ in range(30)),
        lambda: row.clear() or row.append(None),  # type: ignore[func-returns-value]  # both act
        lambda: rng.shuffle(table),
        lambda: table.extend([[None] * len(row)] * 50),
    )
    rng.choice(acts)()


def renamed_sheets(rows: Rows, rng: random.Random) -> None:
    """Give a sheet another name."""
    name = rng.choice(list(rows))
    table = rows.pop(name)
    rows[rng.choice((f"{name} north", name.lower(), f"{name}  ", "Sheet1", "A" * 31))] = table


VALUES = (odd_cells, odd_cells, swapped_columns, broken_headings, odd_rows, renamed_sheets)


def written(rows: Rows, rng: random.Random) -> bytes:
    """Write sheets as they are: formulas, errors, days, merged cells and all."""
    target = io.BytesIO()
    options = {"in_memory": True, "nan_inf_to_errors": True, "date_1904": rng.random() < 0.1}
    options["strings_to_formulas"] = rng.random() < 0.5
    book = xlsxwriter.Workbook(target, options)
    struck = book.add_format({"font_strikeout": True})
    for name, table in rows.items():
        sheet = book.add_worksheet(name.strip() or "x")
        for r, row in enumerate(table):
            for c, value in enumerate(row):
                _put(sheet, r, c, value, rng, struck)
        if rng.random() < 0.2:
            sheet.merge_range(1, 0, 3, 0, "PS-1")
        if rng.random() < 0.1:
            sheet.set_row(rng.randrange(4), None, None, {"hidden": True})
    book.close()
    return target.getvalue()


def _put(sheet: Any, row: int, column: int, value: Any, rng: random.Random, struck: Any) -> None:
    chance = rng.random()
    if chance < 0.003:
        sheet.write_formula(row, column, "=A1+1", None, rng.choice(("#DIV/0!", 5, "x")))
    elif chance < 0.006:
        sheet.write_datetime(row, column, datetime(2009, 4, 3))  # noqa: DTZ001  days in sheets
    elif chance < 0.009:
        sheet.write(row, column, value, struck)
    elif value is not None:
        sheet.write(row, column, value)


# Mutations of the bytes


def cut_short(data: bytes, rng: random.Random) -> bytes:
    """Cut a file anywhere."""
    return data[: rng.randrange(len(data))]


def flipped(data: bytes, rng: random.Random) -> bytes:
    """Change some bytes."""
    changed = bytearray(data)
    for _ in range(rng.randrange(1, 20)):
        changed[rng.randrange(len(changed))] = rng.randrange(256)
    return bytes(changed)


def another_beginning(data: bytes, rng: random.Random) -> bytes:
    """Put the mark of another kind of file in front."""
    old, archive = bytes.fromhex("d0cf11e0a1b11ae1"), b"PK\x03\x04"
    marks = old, archive, b"%PDF-1.7\n", b"\xff\xfe", bytes(512)
    return rng.choice(marks) + data[rng.randrange(16) :]


def damaged_part(data: bytes, rng: random.Random) -> bytes:
    """Damage the XML of one part, the archive itself being sound."""
    parts = {}
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = {info.filename: archive.read(info) for info in archive.infolist()}
    name = rng.choice(list(parts))
    if rng.random() < 0.15:
        del parts[name]
    else:
        parts[name] = rng.choice(PARTS)(parts[name], rng)
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for part, content in parts.items():
            archive.writestr(part, content)
    return target.getvalue()


def odd_attribute(data: bytes, rng: random.Random) -> bytes:
    """Give one attribute an odd value."""
    ends = [i for i in range(len(data)) if data[i : i + 2] == b'="']
    if not ends:
        return flipped(data, rng)
    at = rng.choice(ends) + 2
    end = data.find(b'"', at)
    odd = (b"", b"-1", b"99999999999", b"ZZZZ9999999", b"A0", b"zz", b"&lt;", b"1e9", b"XFD1048576")
    return data[:at] + rng.choice(odd) + data[max(end, at) :]


def without_some(data: bytes, rng: random.Random) -> bytes:
    """Take a stretch out."""
    at = rng.randrange(max(len(data), 1))
    return data[:at] + data[at + rng.randrange(1, 200) :]


def put_in(data: bytes, rng: random.Random) -> bytes:
    """Put something in that has no business there."""
    at = rng.randrange(len(data) + 1)
    odd = (b"<", b">", b"&", b"&x;", b"\x00", b"\xff", b"<!DOCTYPE a>", b"<c/>", b"</row>", b"]]>")
    return data[:at] + rng.choice(odd) + data[at:]


PARTS = (cut_short, flipped, odd_attribute, odd_attribute, without_some, put_in)


BYTES = (cut_short, flipped, another_beginning, damaged_part, damaged_part)


# Files of every kind


def as_xlsx(rng: random.Random) -> tuple[str, bytes]:
    """Return a workbook with odd values in it, perhaps damaged as well."""
    rows = base_rows(rng)
    for _ in range(rng.randrange(1, 4)):
        rng.choice(VALUES)(rows, rng)
    data = written(rows, rng)
    if rng.random() < 0.4:
        data = rng.choice(BYTES)(data, rng)
    ending = rng.choice((*["xlsx"] * 12, "xlsm", "xls", "ods", "xlsb", "csv"))
    return f"plant.{ending}", data


def as_text(rng: random.Random) -> tuple[str, bytes]:
    """Return one sheet as text, in some encoding, with some separator, perhaps damaged."""
    rows = base_rows(rng)
    odd_cells(rows, rng)
    name = rng.choice(list(rows))
    separator, mark = rng.choice(",;\t|"), rng.choice(('"', '"', "'", ""))
    lines = [separator.join(f"{mark}{'' if v is None else v}{mark}" for v in r) for r in rows[name]]
    text = rng.choice(("\n", "\r\n", "\r")).join(lines)
    coded = rng.choice(("utf-8", "utf-8-sig", "utf-16", "cp1252", "latin-1"))
    data = text.encode(coded, errors="replace")
    if rng.random() < 0.6:
        data = rng.choice((cut_short, flipped, put_in, without_some))(data, rng)
    return f"{name}.{rng.choice(('csv', 'tsv', 'txt'))}", data


def as_nothing_known(rng: random.Random) -> tuple[str, bytes]:
    """Return bytes that are nothing at all, some with the beginning of an old workbook."""
    data = rng.randbytes(rng.randrange(4_000))
    old = bytes.fromhex("d0cf11e0a1b11ae1") + bytes(16) + bytes.fromhex("3e000300feff0900")
    ending = rng.choice(("xls", "xlsx", "ods", "csv", "xlsb", "doc", ""))
    return f"plant.{ending}", rng.choice((b"", old, old, b"PK\x03\x04")) + data


KINDS = (as_xlsx, as_xlsx, as_xlsx, as_xlsx, as_text, as_nothing_known)


def mutated(seed: int) -> tuple[str, bytes]:
    """Return the name and the bytes of the file that a seed stands for."""
    rng = random.Random(seed)  # noqa: S311  mutations, no secret
    return rng.choice(KINDS)(rng)


# What becomes of them


def tried(seed: int, folder: Path) -> str:
    """Try one seed in a process of its own; return what became of it, a fault with its story."""
    name, data = mutated(seed)
    mine = folder / string.ascii_lowercase[seed % 26]
    shutil.rmtree(mine, ignore_errors=True)
    mine.mkdir()
    (mine / name).write_bytes(data)
    shutil.copy(folder / "plant.db", mine / "register.db")
    child = os.fork()
    if child == 0:
        os._exit(_alone(mine, name))
    code = _waited(child)
    said = (mine / "said.txt").read_text(errors="replace")
    if code in {0, REFUSED} and not said:
        return "stored or found" if code == 0 else "refused"
    ends = {-signal.SIGKILL: "took too long", 1: "broke off"}
    what = ends.get(code, "said something")
    return f"seed {seed} ({name}, {len(data)} bytes): {what}: {said[-3000:]}"


def _waited(child: int) -> int:
    """Return the exit code of a process; it is killed when it takes too long."""
    begin = time.monotonic()
    while time.monotonic() - begin < PATIENCE:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.005)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return -signal.SIGKILL


def _alone(folder: Path, name: str) -> int:
    """Bring a file in, everything that is said going into a file; return the exit code."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    said = os.open(folder / "said.txt", os.O_WRONLY | os.O_CREAT)
    os.dup2(said, 1)
    os.dup2(said, 2)
    try:
        _bring(folder / name, Register(sqlite_url(folder / "register.db")))
    except SupportsError as error:
        return REFUSED if str(error) else 1
    except BaseException:  # noqa: BLE001  whatever it is, it is to be told
        os.write(2, traceback.format_exc().encode(errors="replace"))
        return 1
    return 0


def _bring(file: Path, register: Register) -> None:
    result, plan = read_against(register, file, NOW.date())
    said = {"acting": WRITER, "reason": "fuzz", "now": NOW, "accept_the_good": True}
    store(register, result, plan, **said)  # type: ignore[arg-type]  # as declared there
    assert all(str(finding) for finding in plan.findings)
    with register.reading() as session:
        assert first_break(session) is None


def prepared(folder: Path) -> None:
    """Put a register with some hangers into a folder, which warms up what is slow at first."""
    register = Register(sqlite_url(folder / "plant.db"))
    register.migrate()
    with register.writing(WRITER, "fuzz", NOW, action="people") as writing:
        writing.session.add(Person(name=WRITER))
    for number in range(4):
        write_tables(folder / "warm.xlsx", one_constant(f"PS-{number}", 20.0, 20.1, rod=60.0))
        _bring(folder / "warm.xlsx", register)
    register.close()


def outcomes(first: int, count: int, folder: Path) -> Iterator[str]:
    """Try seeds one after the other."""
    prepared(folder)
    yield from (tried(seed, folder) for seed in range(first, first + count))


def write_down(met: Sequence[str], **more: int) -> None:
    """Write how often each end was met, then every fault; a fault begins with its seed."""
    faults = [one for one in met if one.startswith("seed ")]
    right = Counter(one for one in met if not one.startswith("seed "))
    told = {**more, "tried": len(met), "right": right, "faults": faults}
    sys.stdout.write(json.dumps(told) + "\n")


def main(first: str, count: str, folder: str) -> None:
    """Try seeds and write down what came out."""
    write_down(list(outcomes(int(first), int(count), Path(folder))))


if __name__ == "__main__":
    main(*sys.argv[1:])
