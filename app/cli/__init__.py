"""The command line, a file a noun."""
