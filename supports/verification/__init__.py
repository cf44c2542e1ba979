"""Our numbers held against published ones: a list that anybody can have run and printed."""

from supports.verification.check import Checked, PublishedCheck, Trust
from supports.verification.every import all_checks, check_all

__all__ = ["Checked", "PublishedCheck", "Trust", "all_checks", "check_all"]
