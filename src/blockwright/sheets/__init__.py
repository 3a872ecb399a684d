"""Turns a sheet or a report into text, PDF, workbook, calendar or plot. No Django, no decisions."""
