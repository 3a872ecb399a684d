"""Composes a block: the training week, the ramp over the weeks, the deload, the replan. The only package that may import the solver."""
