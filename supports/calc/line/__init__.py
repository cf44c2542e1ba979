"""Screening statics of a pipe line in three dimensions; never a full analysis."""
