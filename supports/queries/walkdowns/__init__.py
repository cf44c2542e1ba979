"""Campaigns, their rows and their findings as frozen views."""
