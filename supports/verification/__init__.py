"""Our numbers held against published ones: a list that anybody can have run and printed."""

from supports.verification.check import Checked, PublishedCheck, Trust
from supports.verification.every import CHECKS, check_all

__all__ = ["CHECKS", "Checked", "PublishedCheck", "Trust", "check_all"]
