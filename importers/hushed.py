"""Silence for libraries that speak past Python before they fail; their failure is told by us."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

_ERROR_CHANNEL = 2


@contextmanager
def library_hushed() -> Iterator[None]:
    """Let nothing through to the error channel of the process meanwhile.

    The reader of workbooks is compiled: when the parts of a file do not fit together, it writes its
    own trace there before Python learns of it.
    """
    try:
        kept = os.dup(_ERROR_CHANNEL)
    except OSError:  # a program without an error channel
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, _ERROR_CHANNEL)
    os.close(nowhere)
    try:
        yield
    finally:
        os.dup2(kept, _ERROR_CHANNEL)
        os.close(kept)
