"""What stands in the files and what does not: no machine, no promise of later work, no secret."""

from __future__ import annotations

import re

import pytest

from tests.shape.sources import ROOT, kept_files

TOP_LEVEL = {
    ".ci",
    ".gitignore",
    "CHANGELOG.md",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "app",
    "bench",
    "constraints.txt",
    "demo",
    "docs",
    "importers",
    "migrations",
    "pyproject.toml",
    "reports",
    "supports",
    "tests",
}

# Each is written in two pieces, so that this file does not hold what it looks for.
UNWANTED = {
    "a path of one machine": r"/" + r"(work|root|home|Users|opt)/\w",
    "a package host": r"(pypi" + r"\.org|python" + r"hosted|files\.python)",
    "a promise of later work": r"\b(TO" + r"DO|FIX" + r"ME|XX" + r"X|HA" + r"CK)\b",
    "a stub": r"raise NotImpl" + r"ementedError",
    "a merge left undone": r"^(<<<<" + r"<<<|>>>>" + r">>>)",
    "a private key": r"PRIVATE" + r" KEY-----",
}
BINARY = (".ttf", ".otf", ".xlsx", ".pdf", ".png")
LARGEST = 1_000_000


def texts() -> list[str]:
    return [name for name in kept_files() if not name.endswith(BINARY)]


def test_the_top_level_holds_what_it_should():
    assert {name.split("/")[0] for name in kept_files()} == TOP_LEVEL


@pytest.mark.parametrize("what", UNWANTED)
def test_no_file_holds(what):
    pattern = re.compile(UNWANTED[what], re.MULTILINE)
    found = {}
    for name in texts():
        seen = pattern.search((ROOT / name).read_text(encoding="utf-8"))
        if seen:
            found[name] = seen.group()
    assert found == {}


@pytest.mark.parametrize(
    ("what", "example"),
    [
        ("a path of one machine", "see /" + "home/somebody/plant.db"),
        ("a package host", "https://pypi" + ".org/simple"),
        ("a promise of later work", "# TO" + "DO: later"),
        ("a stub", "    raise NotImpl" + "ementedError"),
        ("a merge left undone", "<<<<" + "<<< ours"),
    ],
)
def test_each_of_these_would_be_seen(what, example):
    assert re.search(UNWANTED[what], example, re.MULTILINE)


def test_every_file_ends_its_lines_alike_and_is_of_a_sensible_size():
    for name in texts():
        data = (ROOT / name).read_bytes()
        assert b"\r\n" not in data, name
        assert len(data) < LARGEST, name
        assert not data or data.endswith(b"\n"), name


def test_every_silenced_check_says_why():
    marks = re.compile(r"# (noqa|type: ignore)(?P<rest>.*)$", re.MULTILINE)
    reasoned = re.compile(r"(: [A-Z]+\d+(, [A-Z]+\d+)*|\[[a-z-]+(, ?[a-z-]+)*\])(?P<why>.*)")
    silent = []
    for name in (n for n in kept_files() if n.endswith(".py")):
        for mark in marks.finditer((ROOT / name).read_text(encoding="utf-8")):
            said = reasoned.match(mark["rest"])
            if said is None or (mark[1] == "noqa" and len(said["why"].strip()) < 3):
                silent.append((name, mark.group()))
    assert silent == []
