"""An application served on this machine for as long as it is needed."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import uvicorn

OPENS_WITHIN = 30.0
"""How long an application may take to open [s]."""


@contextmanager
def served(app: Any) -> Iterator[str]:
    """Serve an application on a free port of this machine; give its address.

    Raises
    ------
    TimeoutError
        It did not open.
    """
    settings = uvicorn.Config(app, port=0, log_level="error", access_log=False, lifespan="off")
    server = uvicorn.Server(settings)
    thread = threading.Thread(target=server.run, daemon=True)
    ready = threading.Event()
    server.startup = _telling(server.startup, ready)  # type: ignore[method-assign]
    thread.start()
    if not ready.wait(OPENS_WITHIN):
        raise TimeoutError("the application did not open")
    port = server.servers[0].sockets[0].getsockname()[1]
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = server.force_exit = True
        thread.join(10)


def _telling(startup: Any, ready: threading.Event) -> Any:
    async def starting(*words: Any, **said: Any) -> None:
        await startup(*words, **said)
        ready.set()

    return starting
