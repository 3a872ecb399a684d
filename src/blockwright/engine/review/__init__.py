"""Reads the week, proposes the next, and seeds the next block.

Owns evidence, proposals and revisions; `review` is the door. Takes strength, change, volume, rack
and planning as they are; knows no file, no clock and no words."""

from .decisions import Verdict, keys_of, side_of
from .next_block import NextBlock, next_block, seeded
from .proposals import KEY_OF, Offered, Proposal, To
from .review import Review, review, week_case
from .revision import revised
from .swaps import alternatives_for_pain, pain_swap_caution, trains_alike
