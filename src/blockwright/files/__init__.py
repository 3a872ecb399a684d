"""Reads and writes files, and keeps the words for reason codes. No Django."""
