BEFORE = (
    "0001_initial", "0002_append_only", "0003_shares_say_what", "0004_composing", "0005_roster",
    "0006_imports",
)  # fmt: skip
"""The steps in which the tables came about at first; `0001_tables` stands for them."""
