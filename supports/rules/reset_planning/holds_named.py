"""What props and travel stops of a plan are called."""

from __future__ import annotations

PROP = "prop"


def prop_name(along: float) -> str:
    """Return the name of a prop by its distance from the start of the line [m].

    >>> prop_name(41.349)
    'prop at 41.35 m'
    """
    return f"{PROP} at {along:.2f} m"
