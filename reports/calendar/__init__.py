"""Papers as calendars."""
