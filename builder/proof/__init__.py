"""Show that a guide cannot go wrong by construction: every configuration is walked, every step is held to its rules."""
