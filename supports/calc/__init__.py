"""Pure arithmetic on SI floats: pipes, springs, hardware, whole lines and re-set plans."""
