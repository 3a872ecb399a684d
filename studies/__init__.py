"""Lifters simulated under laws unlike the engine's, and the studies run on them; not shipped."""
