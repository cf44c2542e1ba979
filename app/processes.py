"""Work spread over processes: results in the order of the parts, no process left behind."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.connection import wait
from threading import Thread
from typing import TypeVar

from supports.errors import SupportsError

Part = TypeVar("Part")
Result = TypeVar("Result")


def spread(
    work: Callable[[Part], Result], parts: Sequence[Part], processes: int
) -> Iterator[Result]:
    """Give what a function makes of each part, in order; one process is this one.

    Every system starts the others alike, as fresh programs: the function is one of a module, parts
    and results are plain data.

    Raises
    ------
    SupportsError
        One of the processes ended of itself.
    """
    if processes == 1:
        yield from map(work, parts)
        return
    others = set(active_children())
    pool = ProcessPoolExecutor(processes, get_context("spawn"), _begun)
    try:
        with _interrupt_kept():
            futures = [pool.submit(work, part) for part in parts]
        for future in futures:
            yield future.result()
    except BrokenProcessPool as error:
        raise SupportsError(
            "one of the processes that work side by side ended of itself: there is no answer",
            remedy="The machine may be short of memory. Try again with fewer: --processes 1",
        ) from error
    except BaseException:
        for child in set(active_children()) - others:
            child.terminate()
        raise
    finally:
        pool.shutdown(cancel_futures=True)


@contextmanager
def _interrupt_kept() -> Iterator[None]:
    """Keep the interrupt key for later, where the system can: what is begun meanwhile is deaf."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begun() -> None:
    """Leave the interrupt key to the process that began this one, and end with it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    first = parent_process()
    if first is not None:
        Thread(target=_end_with, args=(first.sentinel,), daemon=True).start()


def _end_with(sentinel: int) -> None:
    wait([sentinel])
    os._exit(1)
