"""Every row written is recorded before and after, in one batch per use case, chained by hash."""

from supports.audit.chain import GENESIS, first_break, head
from supports.audit.trail import RowChange, Trail

__all__ = ["GENESIS", "RowChange", "Trail", "first_break", "head"]
