"""Writes: each is one use case, one transaction, one audit batch."""
