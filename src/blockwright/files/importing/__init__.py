"""A coach's own spreadsheet to sets: any table of lifts, dates and sets people keep.

The path of one cell, in the order of the modules:

    workbooks, grids           a file to cells with their places and comments
    months, legend, stacked,   the sheet rewritten before it is read: days by number, what it says
    one_notation               of its own notation, parts below each other, one order of numbers
    columns (named_columns,    a heading to what its column holds, by its words (headings), by what
    column_content, _rules)    stands below it, and by the columns beside it
    tables, loose              a row's cells to their roles; what holds on from above (carrying)
    rows, parts, cells         the roles' cells to sets; cells reads one of them by the grammar of
                               readings, line, tokens and told
    entries, leavings          sets with day, person and unit; what told none, listed
    calendar, names, draft     over all files: dates, lifts, units and people settled or asked
    sets, plausible            sets of a sets file; what stands apart from the rest, asked

`measures` and `measure_columns` read the exports of scales and watches. Knows no web, no database.
"""
