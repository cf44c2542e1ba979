"""The machine interface: the answers of the command line over HTTP, under /api/v1."""
