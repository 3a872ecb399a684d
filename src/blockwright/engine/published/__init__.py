"""Published findings, each with its source. Never edited to taste; what a coach may change is policy."""
