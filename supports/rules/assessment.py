"""What a change does to every support of its lines, frozen with all that it was judged on."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import asdict, dataclass

from supports.rules.catalogue import RULES_VERSION
from supports.rules.judgement import SupportJudgement, judge_supports
from supports.rules.rule import Override
from supports.rules.site_settings import SiteSettings
from supports.sentences import Sentence
from supports.snapshots import (
    CalculationView,
    ChangeView,
    NozzleLimitView,
    SupportView,
)
from supports.vocabulary import Known, Verdict

ONE = "{count} support on the affected lines: {verdicts}."
MANY = "{count} supports on the affected lines: {verdicts}."


@dataclass(frozen=True, slots=True)
class AssessmentContent:
    """An assessment with its inputs, as it is stored and signed.

    Parameters
    ----------
    supports
        Every support of the affected lines as the register knew it, in order along the lines.
    judgements
        One for each support, in the same order.
    settings
        The site's limits in force, in SI.
    overrides
        Those that hold for one line or one class only.
    """

    change: ChangeView
    calculation: CalculationView
    supports: tuple[SupportView, ...]
    judgements: tuple[SupportJudgement, ...]
    nozzles: tuple[NozzleLimitView, ...]
    settings: dict[str, float]
    rules_version: str = RULES_VERSION
    overrides: tuple[Override, ...] = ()

    def count(self, verdict: Verdict) -> int:
        """Count the supports of a verdict."""
        return sum(j.verdict is verdict for j in self.judgements)

    @property
    def unresolved(self) -> tuple[SupportJudgement, ...]:
        """Return the supports that no re-set can put right."""
        beyond = {Verdict.CANNOT_BE_SET, Verdict.HARDWARE_FAILS, Verdict.CANNOT_JUDGE}
        return tuple(j for j in self.judgements if j.verdict in beyond)

    @property
    def sentence(self) -> Sentence:
        """Return the whole verdict in one sentence."""
        of_each = tuple(
            Sentence("{count} {verdict}", count=str(self.count(v)), verdict=v)
            for v in Verdict
            if self.count(v)
        )
        count = len(self.judgements)
        return Sentence(ONE if count == 1 else MANY, count=str(count), verdicts=of_each)


def assess(
    change: ChangeView,
    calculation: CalculationView,
    supports: Sequence[SupportView],
    nozzles: Sequence[NozzleLimitView],
    settings: SiteSettings,
    overrides: Collection[Override] = (),
) -> AssessmentContent:
    """Judge every support of the lines that a change touches."""
    ordered = sorted(supports, key=lambda s: _along(s, change.lines))
    judgements = judge_supports(
        ordered,
        settings,
        overrides=overrides,
        near_nozzle={nozzle.line for nozzle in nozzles},
        near_machine={nozzle.line for nozzle in nozzles if nozzle.machine is Known.YES},
    )
    return AssessmentContent(
        change=change,
        calculation=calculation,
        supports=tuple(ordered),
        judgements=judgements,
        nozzles=tuple(nozzles),
        settings=asdict(settings),
        overrides=tuple(overrides),
    )


def _along(support: SupportView, lines: Sequence[str]) -> tuple[int, tuple[int, float], str]:
    for rank, line in enumerate(lines):
        if line in support.lines:
            return (rank, support.order_on(line), support.tag)
    return (len(lines), (0, 0.0), support.tag)
