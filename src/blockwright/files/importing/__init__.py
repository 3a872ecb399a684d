"""A coach's own spreadsheet to sets: any table of lifts, dates and sets people keep.

`grids` reads workbooks and CSV files into cells; `cells` reads one cell ("3x8 @ 80"); `days`
reads dates, weekdays and weeks; `headings` knows what columns are called; `names` matches lifts;
`tables` walks a sheet and finds the sets; `draft` settles units, dates and names over the whole
file and asks what it cannot know. Knows no web and no database.
"""
