"""Sheets in, proposals and findings out; nothing here writes to the register."""
