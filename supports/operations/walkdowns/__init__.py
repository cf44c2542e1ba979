"""Campaigns planned, issued, returned, judged, their findings followed, and signed off."""
