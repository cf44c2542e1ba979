"""The handbook of the rules, written from the rules themselves."""

from __future__ import annotations

import re
from collections.abc import Iterator

from supports.rules.catalogue import RULES, RULES_VERSION
from supports.rules.frame import catalogue
from supports.rules.rule import Group, Rule
from supports.rules.site_settings import Limit, limits, profiles

_HEAD = """\
# Handbook of the rules

Version {version}, {count} rules. This file is written from the code; a test keeps it fresh. Write
it anew with `supports rules handbook`.

Every rule gives one of four answers: *fails*, *passes*, *not applicable*, *cannot judge (missing:
...)*. What is not known is never passed; it is listed and counted. What is known to be broken
outweighs what is not known.

STOP: must not start up, must not work. ACT: needs a decision with a date. LOOK: check at the next
chance. NOTE: information.

Limits are settings of the site. Those below are proposals until the site confirms them; how far
each source was confirmed stands beside it. Where standards are named from memory, confirm edition
and clause. Local codes and licensed practice decide.
"""


def handbook() -> str:
    """Return the whole handbook as Markdown."""
    return "\n".join(_lines()) + "\n"


def _lines() -> Iterator[str]:
    yield _HEAD.format(version=RULES_VERSION, count=len(RULES))
    for group in Group:
        yield f"## {group.capitalize()}\n"
        for rule in RULES:
            if rule.group is group:
                yield from _rule(rule)
    yield from _limits()
    yield from _profiles()
    yield from _columns()


def _rule(rule: Rule) -> Iterator[str]:
    severity = f"{rule.severity} or {rule.graver}" if rule.graver else str(rule.severity)
    yield f"### {rule.id}\n"
    yield f"{severity}, asked of each {rule.subject}.\n"
    yield f"- Broken when: {rule.condition}."
    yield f"- Needs: {', '.join(_data(rule)) or 'what the columns named below hold'}."
    if rule.limits:
        yield f"- Limits: {', '.join(_limit(limits()[name]) for name in rule.limits)}."
    yield f"- Says: {_plain(rule.says)}."
    yield f"- What to do: {rule.remedy}."
    yield f"- Source: {rule.source}.\n"


def _data(rule: Rule) -> list[str]:
    return list(dict.fromkeys(catalogue()[name].label for name in rule.needs))


def _limit(limit: Limit) -> str:
    return f"{limit.name} = {limit.default} {limit.unit}"


def _plain(template: str) -> str:
    """Return a sentence with the names of its numbers in brackets."""
    return re.sub(r"\{(\w+)[^}]*\}", lambda m: f"[{m[1].replace('_', ' ')}]", template)


def _limits() -> Iterator[str]:
    yield "## Limits as proposed\n"
    yield "| setting | value | what it means | source | trust |"
    yield "|---|---|---|---|---|"
    for one in limits().values():
        value = f"{one.default} {one.unit}"
        yield f"| {one.name} | {value} | {one.meaning} | {one.source} | {one.trust} |"
    yield ""


def _profiles() -> Iterator[str]:
    yield "## Profiles to start from\n"
    yield "| profile | setting | value | source | trust |"
    yield "|---|---|---|---|---|"
    for values in profiles().values():
        for one in values:
            value = f"{one.value} {limits()[one.name].unit}"
            yield f"| {one.profile} | {one.name} | {value} | {one.source} | {one.trust} |"
    yield ""


def _columns() -> Iterator[str]:
    yield "## Columns that rules read\n"
    yield (
        "A column that the register does not hold is absent and reads as not known. Where it stands"
        " in the register is named where it is read from one cell.\n"
    )
    yield "| column | of each | what it is | kind | stands in |"
    yield "|---|---|---|---|---|"
    for one in catalogue().values():
        yield f"| {one.name} | {one.subject} | {one.label} | {one.kind} | {one.origin} |"
