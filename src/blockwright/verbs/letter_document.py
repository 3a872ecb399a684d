"""A review as the document that is stored, printed and decided on, the lifter's message with it."""

from typing import Any

from blockwright.engine.review import Review
from blockwright.files.proposals_json import proposals_to_json
from blockwright.sheets.letter import letter_of
from blockwright.sheets.letter_text import message_to_lifter


def letter_document(review: Review) -> dict[str, Any]:
    document = proposals_to_json(review)
    said = message_to_lifter(letter_of(document), document)
    return document | {"message": said}
