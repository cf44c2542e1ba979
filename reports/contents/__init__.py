"""What each paper says, as pure data."""
