"""Re-set plans: made, chosen, made again from what was found, and the way back."""

from supports.operations.plans.again import plan_again
from supports.operations.plans.back import plan_the_way_back
from supports.operations.plans.choosing import choose_plan
from supports.operations.plans.making import Asked, make_reset_plan

__all__ = ["Asked", "choose_plan", "make_reset_plan", "plan_again", "plan_the_way_back"]
