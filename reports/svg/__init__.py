"""Drawings as files of their own."""
