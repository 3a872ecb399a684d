"""Reads and writes files: policy, catalogue, lifter, facts, block, schemas; and the words for reason codes. No Django."""
