"""Planning a turnaround: what is in scope and why, how long it takes, what follows what."""
