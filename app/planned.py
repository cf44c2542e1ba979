"""What a planner types about an order: materials and jobs before, each as one line of words."""

from __future__ import annotations

import re
from datetime import date

from supports.errors import BadInput
from supports.operations.work_orders import Before, Material

_ORDER = re.compile(r"WO-\d{4}-\d+")


def material_of(text: str) -> Material:
    """Read 'rod M30; 2; ordered; 2031-05-20'; the date may be left out.

    Raises
    ------
    BadInput
        A part is missing, or number or date cannot be read.
    """
    parts = [part.strip() for part in text.split(";")]
    try:
        item, number, status = parts[:3]
        due = date.fromisoformat(parts[3]) if len(parts) > 3 and parts[3] else None
        return Material(item, float(number), status, due)
    except ValueError as error:
        raise BadInput(
            "a material cannot be read", found=f"'{text}'",
            expected="'item; number; have, ordered or late; date'",
        ) from error  # fmt: skip


def before_of(text: str) -> Before:
    """Read a job that comes before; a work order is named by its number."""
    named = _ORDER.search(text)
    return Before(text, named.group() if named else "")
