"""The desk: the register in a browser, for many people at once."""
