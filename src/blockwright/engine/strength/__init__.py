"""How strong a lifter is on each lift, with uncertainty, one logged set at a time."""
