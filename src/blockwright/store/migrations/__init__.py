BEFORE = (
    "0001_initial", "0002_append_only", "0003_shares_say_what", "0004_composing", "0005_roster",
    "0006_imports", "0007_undone", "0008_house_frames",
)  # fmt: skip
"""The steps in which the tables came about before the first release; `0001_tables` stands for
them."""
