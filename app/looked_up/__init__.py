"""What is looked up in the register, once for the command line and for other programs."""
