"""Copies that tablets take along, and what comes back from them once there is a signal."""
