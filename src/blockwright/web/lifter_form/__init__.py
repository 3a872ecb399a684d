"""The lifter file as a form: the words on the page, the way there and the way back.

    sections     what is asked, in which words: one Field for each key of the file
    fields       what kinds of field there are; what is typed to a value and back
    spread       the few tables of the file that a form shows as rows, and the way back
    typed        a whole file to what stands in the form, and back
    shown        the form as a template draws it, with what is wrong beside the field

A field's name is its key in the file ("slot.2.minutes"), so a problem that the file's reader
finds says by itself where it belongs. What a value may be is the reader's to judge, not the form's
(`files/lifter_file.py`): here a text only becomes a number, a list, a yes.
"""
