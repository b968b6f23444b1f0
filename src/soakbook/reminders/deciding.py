"""What is due: a pure function of what was known, the settings and the moment."""
