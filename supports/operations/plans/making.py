"""Make a re-set plan of one line of an assessed change, and keep it with what was asked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from supports.database import Register
from supports.errors import BadInput
from supports.operations.plans.storing import MadeFrom, basis_of, keep, require_planner
from supports.queries.plant_days import day_at
from supports.rules.reset_planning.make import make_plan
from supports.rules.reset_planning.wish import FLATS, WORK_STATES, PlanAim, PlanWish
from supports.rules.site_settings import SiteSettings
from supports.sentences import Sentence, joined
from supports.vocabulary import PlantState


@dataclass(frozen=True, slots=True)
class Asked:
    """What an engineer asks of a plan; what is left out is as the site laid it down.

    Parameters
    ----------
    flats
        Smallest step: 1 flat, or 3 flats, which is half a turn.
    friction
        Part of each friction band at both ends of which every limit is kept [1].
    alone
        True for the first plan alone, without others laid beside it.
    """

    aim: PlanAim
    work_state: PlantState = PlantState.SHUT_DOWN_FULL
    flats: int | None = None
    friction: float | None = None
    alone: bool = False

    def wish(self, settings: SiteSettings) -> PlanWish:
        """Return the whole wish.

        Raises
        ------
        BadInput
            The step, the friction or the state of the work is not one that can be planned for.
        """
        flats = int(settings.plan_step) if self.flats is None else self.flats
        friction = settings.plan_friction if self.friction is None else self.friction
        if flats not in {1, 3}:
            raise BadInput(
                "the smallest step",
                found=Sentence("{flats} flats", flats=str(flats)),
                expected="1 or 3 flats",
            )
        if not 0.0 <= friction <= 1.0:
            raise BadInput(
                "the part of the friction band", found=f"{friction:.0%}", expected="0 % to 100 %"
            )
        if self.work_state not in WORK_STATES:
            raise BadInput(
                "the state of the work",
                found=str(self.work_state),
                expected=joined(WORK_STATES, ", "),
            )
        return PlanWish(
            aim=self.aim,
            steps_per_turn=FLATS // flats,
            work_state=self.work_state,
            alternatives=not self.alone,
            friction_share=friction,
        )


def make_reset_plan(
    register: Register, change: str, line: str, asked: Asked, *, acting: str, now: datetime
) -> str:
    """Make a plan and keep it; return its number. A plan that cannot be done is kept too.

    Raises
    ------
    NotAllowed
        The person is no stress engineer.
    NotReady
        The change was not assessed or is over, the line cannot be modelled, or nothing of it may
        be turned.
    """
    require_planner(register, change, acting, now)
    with register.reading() as session:
        basis = basis_of(session, change, line, day_at(session, now))
    wish = asked.wish(basis.settings)
    content = make_plan(basis.content, basis.route, wish, basis.settings, basis.fingerprint)
    return keep(register, basis, wish, content, MadeFrom(), acting=acting, now=now)
