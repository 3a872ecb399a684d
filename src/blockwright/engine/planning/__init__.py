"""Composes a block: week, ramp, deload, replan. The only package that may import the solver."""
