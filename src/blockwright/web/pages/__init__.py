"""Pages by purpose."""
