"""Every command that the documents name is one that the program has, with the options named."""

from __future__ import annotations

import re
import shlex

import pytest

from app.cli.main import whole_tree
from tests.shape.sources import ROOT

DOCUMENTS = (
    "README.md", "DEVELOPERS.md", "CHANGELOG.md",
    *(path.relative_to(ROOT).as_posix() for path in (ROOT / "docs/pages").rglob("*.md")
      if path.parent.name != "reference"),
)  # fmt: skip
SPELLED = re.compile(r"(?:^ +|`)(supports [a-z][^`\n]*)", re.MULTILINE)
PROGRAM = whole_tree()


def named() -> list[str]:
    """Return the commands that stand in the documents."""
    found = {
        match.group(1).strip()
        for name in DOCUMENTS
        for match in SPELLED.finditer((ROOT / name).read_text(encoding="utf-8"))
    }
    return sorted(found)


def resolved(words: list[str]):
    """Follow noun and verb; return the command and the words left."""
    command = PROGRAM
    while words and hasattr(command, "commands"):
        assert words[0] in command.commands, f"{command.name} has no {words[0]}"
        command, words = command.commands[words[0]], words[1:]
    return command, words


def test_the_documents_name_commands():
    assert len(named()) > 20


@pytest.mark.parametrize("line", named())
def test_a_command_of_the_documents_is_there(line):
    command, words = resolved(shlex.split(line)[1:])
    assert not hasattr(command, "commands"), "a noun without its verb"
    known = {spelling for parameter in command.params for spelling in parameter.opts}
    used = {word for word in words if word.startswith("-")}
    assert used <= known


WRITTEN_OUT = [line for line in named() if resolved(shlex.split(line)[1:])[1]]


@pytest.mark.parametrize("line", WRITTEN_OUT)
def test_a_command_written_out_with_its_words_is_understood(line):
    command, words = resolved(shlex.split(line)[1:])
    command.make_context("supports", words).close()


def test_a_command_that_is_not_there_would_be_seen():
    with pytest.raises(AssertionError, match="has no paint"):
        resolved(["support", "paint"])
