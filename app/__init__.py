"""The program as people meet it."""
