"""The documentation: pages, what is written of them from the code, and the blocks that are run."""
