"""Walkdowns judged: what a form holds, what is expected, what was found, and what follows."""
