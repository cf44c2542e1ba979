"""Tables as CSV; each row names its source."""
