"""Reads: each returns frozen snapshots."""
