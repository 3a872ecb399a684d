"""What loads the kit can make: exact plates, warm-up ladders, two lifters on one bar.

Asked in kilograms as written on the sheet; counted inside in whole nanograms. Imports training,
policy and reasons; knows nothing of strength or of the block.

    rack = rack_for(lift, gym, policy)
    rack.at_most(82.0)             the setting a lifter who should lift 82 kg gets
    warmup_ladder(rack, 80.0, lift, policy)
"""

from .finding import MOST_SAID, FindingLadder, FindingWay, finding_s, jump_kg
from .kit import bar_rack, listed_most_kg, rack_for
from .loads import Rack, hardest_moving
from .makers import Setting
from .masses import SAME_LOAD_KG, as_stamped
from .partner import PartnerMoves, partner_moves
from .warmup import WarmupSet, warmup_ladder
