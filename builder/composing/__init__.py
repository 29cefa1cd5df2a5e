"""Turn blocks of known height and rules into places on sides, as a compositor fills pages from galleys.

    blocks with their heights ─► columns and sides of equal room ─► a place for each block

Pure arithmetic: nothing here knows what a block shows or how it is printed.
"""

from builder.composing.blocks import Block, End, Frame, Place, TooHigh
from builder.composing.sides import compose, fewest, roomy
from builder.composing.told import Fill, fills

__all__ = ["Block", "End", "Fill", "Frame", "Place", "TooHigh", "compose", "fewest", "fills", "roomy"]
