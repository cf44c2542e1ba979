"""A line of the register as the screening calculation sees it, and what that says of a change."""
