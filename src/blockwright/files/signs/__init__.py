"""Reads warning signs in what a lifter writes: found, denied, or asked about; never diagnosed."""
