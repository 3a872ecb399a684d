"""Published findings, each with its source. What a coach may change is policy, not this."""
