"""Published values that only tests read; those whose source the product prints are in the engine.

One module a subject; each value is a `Finding` with its `Source`, as in `engine.published`.
"""
