"""An assessment's answers step by step, from the facts and limits that were frozen with it."""

from __future__ import annotations

from supports.rules.assessment import AssessmentContent
from supports.rules.loads_judged import ask_of_some
from supports.rules.rule import Code, Limits
from supports.rules.site_settings import settings_as_frozen
from supports.rules.wording import Explanation, explain
from supports.vocabulary import Known


def explained(content: AssessmentContent, *, every: bool = False) -> dict[str, list[Explanation]]:
    """Return by tag what an assessment found wrong or could not judge, step by step.

    Parameters
    ----------
    every
        Answers that pass too.
    """
    limits = Limits(settings_as_frozen(content.settings), content.overrides)
    asked = ask_of_some(
        content.supports,
        limits,
        near_nozzle={nozzle.line for nozzle in content.nozzles},
        near_machine={n.line for n in content.nozzles if n.machine is Known.YES},
    )
    wanted = {Code.FAILS, Code.CANNOT_JUDGE} | ({Code.PASSES} if every else set())
    said: dict[str, list[Explanation]] = {support.tag: [] for support in content.supports}
    for one in (one for askeds in asked.asked.values() for one in askeds):
        tags = one.rows.text("tag")
        for row, code in enumerate(one.codes):
            if Code(code) in wanted:
                said[str(tags[row])].append(explain(one, row, limits))
    return said
