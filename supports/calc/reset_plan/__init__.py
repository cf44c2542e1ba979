"""Re-set plans: which springs to turn, by how much, and in which order nothing is overloaded."""
