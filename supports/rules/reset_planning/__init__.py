"""From a judged change and its line model to a plan of turns, in words and figures to be kept."""
