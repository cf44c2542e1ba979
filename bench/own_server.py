"""A PostgreSQL server of our own, to be stopped, restarted and starved at will.

It is made by ``initdb`` from the folder that ``pg_config --bindir`` names, on a port of its own,
and goes when it is let go. PostgreSQL does not run as root: root hands it to the user ``postgres``.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import URL

from tests.postgres import DRIVER

OWNER = "postgres"


@dataclass(frozen=True, slots=True)
class OwnServer:
    """A server with its data in a folder."""

    data: Path
    port: int

    @property
    def url(self) -> URL:
        """Return the address of its first database."""
        return URL.create(DRIVER, OWNER, host="127.0.0.1", port=self.port, database="postgres")

    def start(self) -> None:
        """Start it, and wait until it answers."""
        options = f"-p {self.port} -c listen_addresses=127.0.0.1 -c unix_socket_directories="
        log = str(self.data / "server.log")
        _as_owner("pg_ctl", "-D", str(self.data), "-w", "-l", log, "-o", options, "start")

    def stop(self, how: str = "fast") -> None:
        """Stop it: ``immediate`` is as a loss of power."""
        _as_owner("pg_ctl", "-D", str(self.data), "-w", "-m", how, "stop")


@contextmanager
def own_server(parent: Path | None = None) -> Iterator[OwnServer]:
    """Give a server that runs; take it away at the end.

    Parameters
    ----------
    parent
        Folder that its data are kept in; the system's temporary one if none.
    """
    data = Path(tempfile.mkdtemp(prefix="supports-own-pg-", dir=parent)) / "data"
    if os.getuid() == 0:
        shutil.chown(data.parent, OWNER)
    server = OwnServer(data, _free_port())
    small = ("--wal-segsize=1", "--locale=C.UTF-8", "--auth=trust", "-U", OWNER)
    _as_owner("initdb", "-D", str(data), *small)
    server.start()
    try:
        yield server
    finally:
        subprocess.run(_command("pg_ctl", "-D", str(data), "-m", "immediate", "stop"), check=False,
                       capture_output=True)  # fmt: skip
        shutil.rmtree(data.parent, ignore_errors=True)


def _free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def _as_owner(program: str, *words: str) -> None:
    # what is started goes on living; its output must not be waited for
    subprocess.run(_command(program, *words), check=True, stdout=subprocess.DEVNULL, cwd="/")


def _command(program: str, *words: str) -> list[str]:
    told = subprocess.run(["pg_config", "--bindir"], check=True, capture_output=True, text=True)
    whole = [str(Path(told.stdout.strip()) / program), *words]
    return ["runuser", "-u", OWNER, "--", *whole] if os.getuid() == 0 else whole
