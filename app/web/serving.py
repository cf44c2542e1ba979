"""Serve the desk: one process on SQLite, several on PostgreSQL."""

from __future__ import annotations

import os
from dataclasses import dataclass

import uvicorn

from app.settings import (
    REGISTER,
    SETUP_CODE,
    TLS,
    existing_url,
    fresh_key,
    now,
    open_register,
)
from supports.database import shown_url
from supports.errors import BadInput
from supports.queries.accounts import any_account
from supports.queries.site import plant_name
from supports.sentences import Sentence

KEPT_OPEN = 75
"""How long a connection stays open unused [s]: longer than proxies and browsers keep theirs."""
FACTORY = "app.web.desk:desk_here"


@dataclass(frozen=True, slots=True)
class Served:
    """How the desk is to be served."""

    register: str | None
    host: str
    port: int
    workers: int = 1
    behind_tls: bool = False


def serve(wanted: Served) -> None:
    """Serve until stopped by hand; the workers find everything in the environment."""
    url = existing_url(wanted.register)
    if wanted.workers > 1 and url.get_backend_name() == "sqlite":
        raise BadInput(
            "a register in a file is served by one process",
            found=Sentence("{workers} workers", workers=str(wanted.workers)),
            remedy="Keep it in PostgreSQL, or leave --workers away",
        )
    os.environ[REGISTER] = url.render_as_string(hide_password=False)
    if wanted.behind_tls:
        os.environ[TLS] = "yes"
    for line in _greeting(wanted, shown_url(url)):
        print(line, flush=True)
    uvicorn.run(
        FACTORY, factory=True, host=wanted.host, port=wanted.port, workers=wanted.workers,
        log_level="warning", access_log=False, server_header=False,
        proxy_headers=wanted.behind_tls, timeout_keep_alive=KEPT_OPEN,
    )  # fmt: skip


def _greeting(wanted: Served, where: str) -> list[str]:
    with (register := open_register(wanted.register)).reading() as session:
        plant, ready = plant_name(session), any_account(session)
    register.close()
    host = f"[{wanted.host}]" if ":" in wanted.host else wanted.host
    lines = [f"The desk of {plant} ({where}) is at http://{host}:{wanted.port}"]
    if not ready:
        code = os.environ.setdefault(SETUP_CODE, fresh_key()[:12])
        lines += [f"Nobody can sign in yet. Setup code for the first account: {code}"]
    if not wanted.behind_tls and wanted.host not in {"127.0.0.1", "localhost", "::1"}:
        lines += ["Others reach it without TLS: put a proxy in front and say --behind-tls."]
    return [*lines, f"Opened {now():%Y-%m-%d %H:%M} UTC; stop it with the interrupt key."]
