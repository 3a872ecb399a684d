"""Reads the week, proposes the next, and seeds the next block.

Owns evidence, proposals and revisions; `review` is the door. Takes strength, change, volume, rack
and planning as they are; knows no file, no clock and no words.
"""

from blockwright.engine.review.decisions import Verdict, keys_of, side_of
from blockwright.engine.review.next_block import NextBlock, next_block, seeded
from blockwright.engine.review.proposals import KEY_OF, Offered, Proposal, To
from blockwright.engine.review.review import Review, review, week_case
from blockwright.engine.review.revision import revised
from blockwright.engine.review.swaps import alternatives_for_pain, pain_swap_caution, trains_alike
