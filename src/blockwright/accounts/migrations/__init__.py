BEFORE = ("0001_initial", "0002_shares_say_what", "0003_invited_back")
"""The steps in which the tables came about at first; `0001_tables` stands for them."""
