"""Work spread over processes comes back in order; whatever ends it, no process stays behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from multiprocessing import active_children

import pytest

from app.processes import spread
from supports.errors import InputHasFaults, SupportsError
from tests.app.conftest import ROOT
from tests.spread import SAID, broken_off, refused, twice

PATIENCE = 30.0
"""How long the system may take to begin or to end a process [s]; they would work for longer."""


def test_results_come_in_the_order_of_their_parts_from_other_processes():
    numbers, by = zip(*spread(twice, range(5), 2), strict=True)
    assert numbers == (0, 2, 4, 6, 8)
    assert os.getpid() not in by
    assert {pid for _, pid in spread(twice, range(2), 1)} == {os.getpid()}


def test_what_a_process_refuses_is_said_in_the_same_words_here():
    with pytest.raises(InputHasFaults) as told:
        list(spread(refused, [0], 2))
    assert str(told.value) == str(SAID) == "two rows cannot be stored. Mend them"
    assert told.value.findings == SAID.findings


def test_a_process_that_breaks_off_is_a_sentence_and_takes_the_others_with_it():
    with pytest.raises(SupportsError, match=r"ended of itself.*--processes 1"):
        list(spread(broken_off, range(3), 2))
    assert active_children() == []


@pytest.mark.parametrize(("ended_by", "code"), [("interrupt key", 130), ("kill", -signal.SIGKILL)])
def test_no_process_outlives_the_one_that_began_it(tmp_path, ended_by, code):
    command = [sys.executable, "-m", "tests.spread", str(tmp_path)]
    with subprocess.Popen(
        command, cwd=ROOT, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as first:
        until(lambda: len(list(tmp_path.iterdir())) == 2)
        if ended_by == "kill":
            first.kill()
        else:
            os.killpg(first.pid, signal.SIGINT)  # a terminal's key reaches them all
        # Their error channel is at its end when the last that writes to it has ended.
        said = first.communicate(timeout=PATIENCE)[1]
    assert first.returncode == code
    assert "Traceback" not in said


def until(so):
    """Wait until something is so."""
    end = time.monotonic() + PATIENCE
    while not so():
        assert time.monotonic() < end
        time.sleep(0.02)
