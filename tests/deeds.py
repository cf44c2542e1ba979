"""Deeds that write to a register, as the program does them, made ready to be broken off anywhere.

Each is prepared once in a place of its own; the place is then copied for every try. A deed may be
done again after it was broken off, and must then come to the same end.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, inspect, make_url

from app.copies import bring_back, keep_copy
from app.papers import write_pack
from app.returns import take_back
from importers.template import write_tables
from supports.audit import first_break
from supports.database import Register, sqlite_url
from supports.model import Person
from supports.operations.changes import Decision
from supports.operations.copying import compare_registers
from supports.operations.site import found_register
from supports.rules.workflow import ChangeState
from tests.acceptance.sheets import one_constant
from tests.acceptance.test_main_job_back_in import READ, fill
from tests.interrupted import NOW, WRITER, bring
from tests.old_registers import made_at
from tests.operations.road import Road, road_on

State = dict[str, int | str]
"""Rows by table and the revision; or that nothing is there."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a deed is done: a register, a folder, and an empty database beside the register."""

    url: str
    other: str
    folder: Path

    @property
    def register(self) -> Register:
        """Return the register, opened afresh."""
        return Register(self.url)


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that writes: how its place is made ready, how it is done, what is seen after."""

    name: str
    ready: Callable[[Place], None]
    do: Callable[[Place], None]
    seen: Callable[[Place], State]
    into_another: bool = False
    """Whether it writes to the database beside the register."""


def rows_seen(url: str) -> State:
    """Return the rows of every table that is there; the chain and every key must hold."""
    register = Register(url)
    try:
        with register.engine.connect() as connection:
            state = _counts(connection)
            if connection.dialect.name == "sqlite":
                assert connection.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
                assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []
        if "audit_batch" in state:
            with register.reading() as session:
                assert first_break(session) is None
        return state
    finally:
        register.close()


def _counts(connection: Connection) -> State:
    names = sorted(set(inspect(connection).get_table_names()) - {"alembic_version"})
    state: State = {}
    if names:
        said = connection.exec_driver_sql("SELECT version_num FROM alembic_version")
        state["revision"] = str(said.scalar())
        parts = (f"SELECT '{name}', count(*) FROM {name}" for name in names)  # noqa: S608  names
        counted = connection.exec_driver_sql(" UNION ALL ".join(parts))
        state |= {name: count for name, count in counted if count}
    return state


def _register_alone(place: Place) -> State:
    return rows_seen(place.url)


# An import of a workbook


def _workbook_waits(place: Place) -> None:
    register = place.register
    register.migrate()
    with register.writing(WRITER, "a test", NOW, action="people") as writing:
        writing.session.add(Person(name=WRITER))
    write_tables(place.folder / "plant.xlsx", one_constant("PS-7", 20.0, 20.1, rod=60.0))


def _import(place: Place) -> None:
    bring(place.register, place.folder / "plant.xlsx", WRITER)


# A form that crews filled in: each reading is a write of its own


def _form_waits(place: Place) -> None:
    road = _road(place).given_out()
    into = place.folder / "papers"
    with road.register.reading() as session:
        papers = write_pack(session, road.order, into, road.now, letter=False, copy=1)
    blank = next(path for path in papers if path.suffix == ".xlsx")
    read = READ | {"Read by": "T1", "Second reader": "T2"}
    fill(blank, {"C1": read, "C2": read}, place.folder / "back.xlsx")
    (place.folder / "order.json").write_text(json.dumps(road.order))


def _road(place: Place) -> Road:
    register = place.register
    register.migrate()
    found_register(register, plant="Works", form_key="k" * 32, acting="tests", now=NOW)
    return road_on(register)


def _take_form(place: Place) -> None:
    order = json.loads((place.folder / "order.json").read_text())
    for _ in take_back(place.register, order, place.folder / "back.xlsx", acting="FO", now=NOW):
        pass


# Two signatures, one after the other


def _signatures_wait(place: Place) -> None:
    _road(place).prepared()


def _sign(place: Place) -> None:
    road = Road(place.register)
    if road.state() == ChangeState.BEING_CHECKED:
        road.say(Decision.CHECK, by="S2")
    if road.state() == ChangeState.BEFORE_THE_APPROVER:
        road.say(Decision.APPROVE, by="RE")


# An upgrade from the first revision


def _old_register(place: Place) -> None:
    made_at(make_url(place.url), "0001")


def _upgrade(place: Place) -> None:
    place.register.migrate()


# A copy kept in a file, and one brought back into an empty place


def _copy_waits(place: Place) -> None:
    _road(place).given_out()


def _kept(place: Place) -> Path:
    return place.folder / "kept.db"


def _keep(place: Place) -> None:
    if not _kept(place).exists():
        keep_copy(place.register, _kept(place))


def _copies_seen(place: Place) -> State:
    """Return what the register holds and, if the copy has appeared, that it is the same."""
    state = _register_alone(place)
    if _kept(place).exists():
        one, other = compare_registers(place.register, Register(sqlite_url(_kept(place))))
        assert one == other
        state["kept"] = one.fingerprint
    return state


def _kept_waits(place: Place) -> None:
    _copy_waits(place)
    _keep(place)


def _restore(place: Place) -> None:
    if not _is_back(place):
        bring_back(_kept(place), make_url(place.other))


def _is_back(place: Place) -> bool:
    return bool(_other_seen(place))


def _other_seen(place: Place) -> State:
    url = make_url(place.other)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").exists():
        return {}
    return rows_seen(place.other)


def _back_seen(place: Place) -> State:
    state = _other_seen(place)
    if state:
        one, other = compare_registers(Register(sqlite_url(_kept(place))), Register(place.other))
        assert one == other
    return state


DEEDS = {
    deed.name: deed
    for deed in (
        Deed("import", _workbook_waits, _import, _register_alone),
        Deed("returned form", _form_waits, _take_form, _register_alone),
        Deed("two signatures", _signatures_wait, _sign, _register_alone),
        Deed("upgrade", _old_register, _upgrade, _register_alone),
        Deed("backup", _copy_waits, _keep, _copies_seen),
        Deed("restore", _kept_waits, _restore, _back_seen, into_another=True),
    )
}


def as_key(state: State) -> Any:
    """Return a state as something that sets can hold."""
    return tuple(sorted(state.items()))
