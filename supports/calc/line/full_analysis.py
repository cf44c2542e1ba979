"""When a screening calculation is not enough: the list of reasons for a full analysis.

The list is a proposal in common use among stress engineers (no published source); a site sets its
own numbers. A fact that is not known is never taken as harmless.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

Judge = Callable[["Facts", "Thresholds"], bool | None]


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of a line and its change; None means unknown.

    Parameters
    ----------
    added_weight, line_weight
        Net added weight and weight of the line [N].
    largest_load_change
        Largest change of any support's load as a share of its load before [1].
    as_found_difference
        Largest difference between as-found load and calculation, as a share [1].
    constants_in_stretch
        Constant supports in the influenced stretch [1].
    """

    limited_nozzle_in_reach: bool | None = None
    creep_or_high_energy: bool | None = None
    added_weight: float | None = None
    line_weight: float | None = None
    largest_load_change: float | None = None
    required_load_outside_range: bool | None = None
    centre_of_gravity_off_axis: bool | None = None
    restraint_changed: bool | None = None
    temperature_or_contents_changed: bool | None = None
    dynamic_loads: bool | None = None
    rigid_support_unloading: bool | None = None
    constants_in_stretch: int | None = None
    as_found_difference: float | None = None
    calculation_of_known_revision: bool | None = None


@dataclass(frozen=True, slots=True)
class Thresholds:
    """Numbers of the site's list [1]; the defaults are common practice, no source."""

    added_weight: float = 0.05
    load_change: float = 0.10
    as_found: float = 0.10
    constants: int = 2


@dataclass(frozen=True, slots=True)
class Need:
    """Whether a full analysis is mandatory, why, and what could not be judged."""

    reasons: tuple[str, ...]
    cannot_judge: tuple[str, ...]

    @property
    def mandatory(self) -> bool | None:
        """True with any reason; None (cannot judge) without one while facts are missing."""
        return True if self.reasons else (None if self.cannot_judge else False)


def full_analysis_reasons(facts: Facts, thresholds: Thresholds | None = None) -> Need:
    """List the reasons that make a full analysis mandatory, and the facts that are missing.

    Source: common practice, no published source; site thresholds.
    """
    limits = thresholds or Thresholds()
    answers = {reason: judge(facts, limits) for reason, judge in _REASONS}
    return Need(
        tuple(reason for reason, answer in answers.items() if answer),
        tuple(f"{reason} (not known)" for reason, answer in answers.items() if answer is None),
    )


def unknown_facts(facts: Facts) -> tuple[str, ...]:
    """Return the names of the facts that are missing."""
    return tuple(f.name.replace("_", " ") for f in fields(facts) if getattr(facts, f.name) is None)


def _over(value: float | None, limit: float) -> bool | None:
    return None if value is None else abs(value) > limit


def _weight(facts: Facts, limits: Thresholds) -> bool | None:
    if facts.added_weight is None or not facts.line_weight:
        return None
    return abs(facts.added_weight) > limits.added_weight * facts.line_weight


def _constants(facts: Facts, limits: Thresholds) -> bool | None:
    count = facts.constants_in_stretch
    return None if count is None else count >= limits.constants


def _uncalculated(facts: Facts, _: Thresholds) -> bool | None:
    known = facts.calculation_of_known_revision
    return None if known is None else not known


_REASONS: tuple[tuple[str, Judge], ...] = (
    (
        "a machine, heater, turbine or other load-limited nozzle is within reach",
        lambda f, _: f.limited_nozzle_in_reach,
    ),
    (
        "the line works in the creep range or is a high-energy line",
        lambda f, _: f.creep_or_high_energy,
    ),
    ("the net added weight is a large share of the line's weight", _weight),
    (
        "the load of a support changes by a large share",
        lambda f, t: _over(f.largest_load_change, t.load_change),
    ),
    ("a required load lies outside its unit's range", lambda f, _: f.required_load_outside_range),
    ("a centre of gravity lies off the pipe axis", lambda f, _: f.centre_of_gravity_off_axis),
    (
        "a pump, branch, anchor or other restraint is new or changed",
        lambda f, _: f.restraint_changed,
    ),
    ("temperature or contents change", lambda f, _: f.temperature_or_contents_changed),
    (
        "relief, hammer, slug, earthquake or vibration loads act",
        lambda f, _: f.dynamic_loads,
    ),
    ("a rigid support unloads", lambda f, _: f.rigid_support_unloading),
    ("several constants stand in the influenced stretch", _constants),
    (
        "the line as found differs from its calculation",
        lambda f, t: _over(f.as_found_difference, t.as_found),
    ),
    ("there is no calculation of a known revision", _uncalculated),
)
