"""What a screening says, in sentences; the same on the screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator

from supports.calc.line.comparison import Compared, Look
from supports.calc.line.full_analysis import Need
from supports.calc.line.restraints import Anchor
from supports.calc.line.results import Standing
from supports.rules.line.screening import ADDED, BEFORE, PLANNED, NozzleThrough, Screening

STATES = (BEFORE, ADDED, PLANNED)
CAUTION = (
    "Screening calculation: it shows where to look and in which order to work; it approves "
    "nothing. Loads must be confirmed by a qualified engineer under the code in force before a "
    "bolt is turned."
)
_STOPS = (Standing.BOTTOM, Standing.TOP)
_LOOSE = (Standing.LIFTED, Standing.SLACK)


def verdict_words(screening: Screening) -> str:
    """Return the whole screening in a few words."""
    over = [nozzle.nozzle for nozzle in screening.nozzles if over_words(nozzle)]
    silent = nozzles_without_limits(screening)
    parts = [f"nozzle {' and '.join(over)} over limits"] if over else []
    if silent:
        parts.append(f"nozzle {' and '.join(silent)} cannot be judged (missing: limits)")
    if not parts:
        parts.append(_within(screening))
    parts += list(_in_any_state(screening))
    return f"By screening: {'; '.join(parts)}."


def _within(screening: Screening) -> str:
    uses = [use for n in screening.nozzles for use in (n.before, n.added, n.planned) if use]
    if not uses:
        return "no nozzle is on record at the ends of the line"
    return f"no nozzle over its limit in any state, {100.0 * max(uses):.0f} % at most"


def _in_any_state(screening: Screening) -> Iterator[str]:
    for standings, words in ((_STOPS, "on a stop"), (_LOOSE, "lifted off")):
        tags = [s.tag for s in screening.supports if set(s.standing) & set(standings)]
        if tags:
            yield f"{', '.join(tags)} {words}"


def details(screening: Screening) -> tuple[str, ...]:
    """Return what stands out, state by state."""
    over = (words for nozzle in screening.nozzles if (words := over_words(nozzle)))
    stops = _named(screening, _STOPS, "On a stop")
    return (*over, *stops, *_named(screening, _LOOSE, "Lifted off"))


def over_words(nozzle: NozzleThrough) -> str:
    """Return in which states a nozzle is over its limit, or ''."""
    uses = (nozzle.before, nozzle.added, nozzle.planned)
    over = [
        f"{state} {100.0 * use:.0f} %"
        for state, use in zip(STATES, uses, strict=True)
        if use is not None and use > 1.0
    ]
    if not over:
        return ""
    source = nozzle.limit_source or "source of the limit not stated"
    return f"Nozzle {nozzle.nozzle}, {nozzle.what}: {'; '.join(over)} of its limit ({source})"


def nozzles_without_limits(screening: Screening) -> tuple[str, ...]:
    """Return the ends that are nozzles by name of the register but have no limits on record."""
    judged = {nozzle.nozzle for nozzle in screening.nozzles}
    return tuple(
        anchor.name
        for anchor in screening.built.line.anchors
        if anchor.name not in judged and _is_nozzle(screening, anchor)
    )


def _is_nozzle(screening: Screening, anchor: Anchor) -> bool:
    return anchor.node in screening.built.nozzle_nodes


def _named(screening: Screening, standings: tuple[Standing, ...], words: str) -> Iterator[str]:
    for number, state in enumerate(STATES):
        tags = [s.tag for s in screening.supports if s.standing[number] in standings]
        if tags:
            yield f"{words} ({state}): {', '.join(tags)}"


def analysis_words(need: Need) -> str:
    """Return whether a full analysis is mandatory by the list in use."""
    if need.mandatory:
        return "A full analysis is mandatory."
    if need.mandatory is None:
        return "Cannot judge whether a full analysis is mandatory: facts are missing."
    return "No reason on the list makes a full analysis mandatory."


def to_confirm(screening: Screening) -> tuple[Compared, ...]:
    """Return the supports whose load another calculation would have to confirm or explain."""
    return tuple(one for one in screening.comparison if one.look is not Look.AGREES)
