"""Pages of reference, written from the code: ``python -m docs.reference`` renews them.

A test holds each page against what the code says today.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from app.cli.main import NOUNS, whole_tree
from app.json_shapes import SHAPES, envelope_of
from app.web.machine.about import description
from app.web.machine.described import ABOUT
from app.web.machine.listed import listed_routes, problem_codes
from importers.declared import Column, Form, kind_of
from importers.sheets import SHEETS
from supports.errors import SupportsError
from supports.rules.handbook import handbook
from supports.rules.site_settings import limits, profiles
from supports.rules.turnaround.norms import norms
from supports.rules.workflow.periods import periods

ROOT = Path(__file__).resolve().parents[1]
PAGES = ROOT / "docs" / "pages" / "reference"
FRESH = "This page is written from the code; a test keeps it fresh.\n"


def written() -> dict[str, str]:
    """Return every page of reference by its file name."""
    return {
        "commands.md": _page("Commands", _commands()),
        "sheets.md": _page("Sheets and columns: the data dictionary", _sheets()),
        "rules.md": handbook(),
        "settings.md": _page("Settings of the site", _settings()),
        "exit-codes.md": _page("Exit codes", _exit_codes()),
        "json-shapes.md": _page("Shapes of the answers in JSON", _shapes()),
        "machine-interface.md": _page("The machine interface", _machine()),
        "findings.md": _page("Codes of findings in files", _findings()),
    }


def _page(title: str, lines: Iterator[str]) -> str:
    return "\n".join((f"# {title}\n", FRESH, *lines)).rstrip() + "\n"


def _table(headings: tuple[str, ...], rows: Iterator[tuple[str, ...]]) -> Iterator[str]:
    yield f"| {' | '.join(headings)} |"
    yield "|" + "---|" * len(headings)
    for row in rows:
        cells = (" ".join(cell.split()).replace("|", "\\|") for cell in row)
        yield f"| {' | '.join(cells)} |"
    yield ""


def _commands() -> Iterator[str]:
    yield "Every command takes `--json` as well; [its shapes](json-shapes.md).\n"
    for noun, about in NOUNS.items():
        yield f"## supports {noun}\n\n{about}\n"
        yield from _of_group(f"supports {noun}", whole_tree().commands[noun])


def _of_group(words: str, command: Any) -> Iterator[str]:
    inner = getattr(command, "commands", None)
    if inner is None:
        yield from _of_command(words, command)
        return
    for name, one in inner.items():
        if getattr(one, "commands", None) is None:
            yield f"### {words} {name}\n"
        yield from _of_group(f"{words} {name}", one)


def _of_command(words: str, command: Any) -> Iterator[str]:
    yield f"{command.help}\n"
    taken = [one for one in command.params if one.name not in {"as_json", "help"}]
    places = [one for one in taken if one.param_type_name == "argument"]
    asked = " ".join(f"{one.name.upper()}" if one.required else f"[{one.name.upper()}]"
                     for one in places)  # fmt: skip
    yield f"    {words} {asked}".rstrip() + "\n"
    if taken:
        yield from _table(("said by", "what it is"), (_parameter(one) for one in taken))


def _parameter(one: Any) -> tuple[str, str]:
    said = one.name.upper() if one.param_type_name == "argument" else ", ".join(one.opts)
    must = " Needed." if one.required else ""
    return f"`{said}`", f"{one.help}{must}"


def _sheets() -> Iterator[str]:
    yield "A heading may carry its unit, as in `Load [kN]`; other headings that are understood\n"
    yield "stand beside it. **Needed** columns must be filled, any other may stay blank: a blank\n"
    yield "is not known, never zero. `supports sheets blank FILE` writes them into a workbook.\n"
    for sheet in SHEETS:
        key = ", ".join(sheet.column(name).heading for name in sheet.key)
        yield f"## {sheet.name}\n\nOne row for each {sheet.subject}; a row is named by: {key}.\n"
        rows = (_column(column) for column in sheet.columns)
        yield from _table(("heading", "what it holds", "understood as well", "field"), rows)


def _column(column: Column) -> tuple[str, str, str, str]:
    needed = f"**{column.heading}**" if column.needed else column.heading
    return needed, _holds(column), ", ".join(column.aliases), f"`{column.field}`"


def _holds(column: Column) -> str:
    kind, form = kind_of(column), column.form
    if kind is not None:
        return f"{kind}, with its unit"
    if isinstance(form, type):
        return "one of: " + "; ".join(map(str, form))
    named: dict[Any, str] = {Form.DAY: "a day", Form.WHOLE: "a whole number", Form.UNIT: "a unit"}
    return named.get(form, "text")


def _settings() -> Iterator[str]:
    headings = ("name", "proposed", "what it is", "where the proposal is from")
    yield "## Limits\n\n`supports settings set NAME VALUE --source ...` lays one down.\n"
    yield from _table(
        headings,
        ((f"`{name}`", one.shown(one.si), one.meaning, f"{one.source}; {one.trust}")
         for name, one in limits().items()),
    )  # fmt: skip
    yield "## Profiles\n\n`supports settings profile NAME` lays all of one down.\n"
    for name, values in profiles().items():
        yield f"### {name}\n"
        rows = ((f"`{one.name}`", one.value, f"{one.source} ({one.trust})") for one in values)
        yield from _table(("limit", "value", "source"), rows)
    for title, numbers in (("Periods of change control", periods()), ("Norms of hours", norms())):
        yield f"## {title}\n"
        yield from _table(
            headings,
            ((f"`{name}`", f"{one.default} {one.unit}", one.meaning, f"{one.source}; {one.trust}")
             for name, one in numbers.items()),
        )  # fmt: skip


def _exit_codes() -> Iterator[str]:
    yield "For scripts: a command that fails says one sentence and ends with its code.\n"
    rows = {0: ("done", ""), 130: ("stopped by hand; what was being written was taken back", "")}
    tree: list[type[SupportsError]] = [SupportsError, *SupportsError.__subclasses__()]
    for kind in tree:
        said = (kind.__doc__ or "").strip().splitlines()[0]
        rows.setdefault(kind.exit_code, (said, kind.__name__))
    ordered = sorted(rows.items())
    yield from _table(
        ("code", "what it says", "kind in JSON"),
        ((str(code), said, f"`{kind}`" if kind else "") for code, (said, kind) in ordered),
    )
    yield "With `--json` the same stands on the error channel as one object `error` with `kind`,"
    yield "`exit_code`, `sentence`, and its parts: `what`, `where`, `found`, `expected`, `remedy`."


def _shapes() -> Iterator[str]:
    yield "One envelope: `command`, `version`, `answer`, `said` (what a writing command says, line"
    yield "by line; its `answer` is null). Numbers are SI, the unit ends their key: `load_N`. What"
    yield "is not known is null. The schemas are [JSON Schema](https://json-schema.org).\n"
    views: dict[str, Any] = {}
    for command in SHAPES:
        schema = envelope_of(command)
        views |= schema["$defs"]
        yield f"- `supports {command}`: ".replace(" `", " `").replace("supports `", "supports`")
        yield f"  {_kind_words(schema['properties']['answer'])}"
    for name in sorted(views):
        view = views[name]
        yield f"\n## {name}\n\n{view['description']}\n"
        yield from _table(
            ("key", "holds"),
            ((f"`{key}`", _kind_words(kind)) for key, kind in view["properties"].items()),
        )


def _kind_words(kind: dict[str, Any]) -> str:
    if "$ref" in kind:
        name = kind["$ref"].rpartition("/")[2]
        return f"[{name}](#{name.lower()})"
    if "anyOf" in kind:
        return " or ".join(map(_kind_words, kind["anyOf"]))
    if "enum" in kind:
        return "one of: " + "; ".join(kind["enum"])
    if kind.get("type") == "array" and "items" in kind:
        return f"list of {_kind_words(kind['items'])}"
    if "additionalProperties" in kind and isinstance(kind["additionalProperties"], dict):
        return f"by name: {_kind_words(kind['additionalProperties'])}"
    named = kind.get("format") or kind.get("type", "anything")
    return " or ".join(named) if isinstance(named, list) else str(named)


def _machine() -> Iterator[str]:
    yield f"{ABOUT}\n"
    yield "The desk describes it at `/api/v1/openapi.json` and lists it at `/api/v1/`.\n"
    for one in listed_routes(description()):
        yield f"## {one.method} {one.path}\n\n{one.said}\n"
        yield f"Scope `{one.scope}`; answers {one.answers}; statuses {', '.join(one.statuses)}.\n"
        if one.named:
            rows = ((f"`{ask.name}`", f"{ask.where}{', needed' if ask.needed else ''}", ask.said)
                    for ask in one.named)  # fmt: skip
            yield from _table(("name", "where", "what it is"), rows)
    yield "## What can stop a request\n"
    codes = ((f"`{code}`", str(status), said) for code, status, said in problem_codes())
    yield from _table(("code", "status", "what it says"), codes)


def _findings() -> Iterator[str]:
    yield "A finding has a stable code. **STOP** means that the value was not taken.\n"
    found: dict[str, str] = {}
    for path in sorted((ROOT / "importers").glob("*.py")):
        for code, said in _codes_in(ast.parse(path.read_text(encoding="utf-8"))):
            found.setdefault(code, said)
    rows = ((f"`{code}`", said) for code, said in sorted(found.items()))
    yield from _table(("code", "what it says"), rows)
    yield "Rules have ids of their own: [handbook of the rules](rules.md)."


_CODE = re.compile(r"[a-z]+(-[a-z0-9]+)+")
_MAKERS = {"Finding": 2, "Fault": 1, "_note": 1}
"""Where among its arguments each of them takes what it says."""


_PLACE = re.compile(r"\{\w+\}")


def _codes_in(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Yield the codes of findings and faults made in a file, with what they say."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call) or not node.args:
            continue
        code, place = node.args[0], _MAKERS.get(getattr(node.func, "id", ""))
        if place and isinstance(code, ast.Constant) and _CODE.fullmatch(str(code.value)):
            yield str(code.value), _text(node.args[place]) if len(node.args) > place else ""


def _text(node: ast.expr) -> str:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.IfExp):
        return _text(node.orelse)
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Sentence":
        return _PLACE.sub("...", _text(node.args[0]))
    return ""


def main() -> None:
    """Write every page anew."""
    PAGES.mkdir(parents=True, exist_ok=True)
    for name, text in written().items():
        (PAGES / name).write_text(text, encoding="utf-8")
        sys.stdout.write(f"{name}\n")


if __name__ == "__main__":
    main()
