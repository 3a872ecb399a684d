"""The lifter file as a form: the words on the page, the way there and the way back.

    fields       kinds of field; what is typed to a value and back; what is asked, part by part
    typed        a whole file to what stands in the form, and back; tables shown as rows
    shown        the form as a template draws it, what is wrong beside the field; what came back

A field's name is its key in the file ("slot.2.minutes"), so a problem that the file's reader finds
says by itself where it belongs. What a value may be is the reader's to judge, not the form's
(`files/lifter_file.py`): here a text only becomes a number, a list, a yes."""
