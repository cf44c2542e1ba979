"""The handbook is that of the code, and every rule stands in it."""

from __future__ import annotations

from pathlib import Path

import supports.rules
from supports.rules.catalogue import RULES
from supports.rules.handbook import handbook
from supports.rules.site_settings import limits

FILE = Path(supports.rules.__file__).with_name("HANDBOOK.md")


def test_the_handbook_is_fresh():
    assert FILE.read_text(encoding="utf-8") == handbook(), "write it: supports rules handbook"


def test_every_rule_and_every_limit_stands_in_it():
    text = handbook()
    for rule in RULES:
        assert f"### {rule.id}\n" in text
        assert rule.remedy in text
    for limit in limits().values():
        assert f"| {limit.name} | {limit.default} {limit.unit} |" in text
