"""The long tables of the grammar of warning signs, a text each, as `patterns.py` reads them."""
