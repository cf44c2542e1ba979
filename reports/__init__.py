"""Papers: contents are pure data, drawing stands apart."""
