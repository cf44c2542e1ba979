"""Pages that are written from the code say what the code says; licences are fit to be passed on."""

from __future__ import annotations

import ast

import pytest

from supports.vocabulary import Role
from tests.trust.licences import NOT_STATED, ROOT, Used, binding, licences_page, used, wanted
from tests.trust.permissions import _checks_of, checks, permissions_page


def test_the_page_of_permissions_is_that_of_the_code():
    kept = (ROOT / "docs" / "permissions.md").read_text("utf-8")
    assert kept == permissions_page(), "renew it with: python -m tests.trust.written"


def test_the_page_of_permissions_knows_the_roles_of_use_cases():
    found = dict(checks())
    assert found["release a unit"] == {Role.STRESS_ENGINEER}
    assert found["put changes together"] == {Role.COORDINATOR, Role.RESPONSIBLE_ENGINEER}
    assert found["store a calculation"] == {Role.STRESS_ENGINEER}


def test_a_check_of_roles_is_read_from_any_function():
    source = "def f():\n    able = {A, B}\n    require_roles(f'look at {x}', able, held)"
    known = {"A": Role.PLANNER, "B": Role.FOREMAN}
    assert list(_checks_of(ast.parse(source), known)) == [
        ("look at …", {Role.PLANNER, Role.FOREMAN})
    ]


def line(one: Used) -> str:
    return f"| {one.name} | {one.version} | {one.licence} |"


def test_the_page_of_licences_is_that_of_what_is_installed():
    """Held name by name where a version is the tested one; a newer one may be installed."""
    kept = (ROOT / "docs" / "licences.md").read_text("utf-8")
    tested = (ROOT / "constraints.txt").read_text("utf-8").casefold().replace("_", "-")
    pinned = [one for one in used() if f"{one.name}=={one.version}".casefold() in tested]
    assert len(pinned) > len(wanted())
    missing = [one.name for one in pinned if line(one) not in kept]
    assert missing == [], "renew it with: python -m tests.trust.written"
    named = {row.split("|")[1].strip() for row in kept.splitlines() if row.startswith("| ")}
    assert {one.name for one in used()} <= named


def test_every_licence_is_stated_and_none_binds_who_passes_the_program_on():
    found = [one for one in used() if one.runs]
    assert [one.name for one in found if one.licence == NOT_STATED] == []
    assert [one.name for one in found if binding(one.licence)] == []
    assert licences_page().count("\n| ") == len(used()) + 2


@pytest.mark.parametrize(
    ("licence", "binds"),
    [("MIT", False), ("GPL-3.0-or-later", True), ("LGPL-3.0-only", False), ("AGPL-3.0", True),
     ("GNU General Public License v2 (GPLv2)", True), ("MIT OR GPL-2.0", False),
     ("GNU Lesser General Public License v3 (LGPLv3)", False)],
)  # fmt: skip
def test_a_licence_that_binds_is_known(licence, binds):
    assert binding(licence) is binds
