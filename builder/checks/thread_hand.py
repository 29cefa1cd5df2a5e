"""Thread hand: which way a threaded part of a bike turns to tighten."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.catalogue import Hand
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit

SOURCE = Source(
    title="ISO 6696 bottom bracket threads and ISO 6698 freewheel threads; pedals and the rest are common practice",
    locator="hand of thread",
    provenance=Provenance.FROM_MEMORY,
)


class Place(StrEnum):
    """Where on the bike a thread sits, as far as its hand depends on it."""

    ORDINARY = "ordinary"
    RIGHT_PEDAL = "right-pedal"
    LEFT_PEDAL = "left-pedal"
    RIGHT_CUP_34_9 = "right-cup-34.9x24"
    LEFT_CUP_34_9 = "left-cup-34.9x24"
    RIGHT_CUP_36 = "right-cup-36x24"
    LEFT_CUP_36 = "left-cup-36x24"
    SPROCKET_LOCKRING = "sprocket-lockring"
    FIXED_SPROCKET_LOCKRING = "fixed-sprocket-lockring"
    SCREW_ON_FREEWHEEL = "screw-on-freewheel"
    MARKED_LEFT_HAND = "marked-left-hand"


def place_of(hand: Hand) -> Place:
    """The place that stands for a fastener whose hand its file tells."""
    return Place.MARKED_LEFT_HAND if hand is Hand.LEFT else Place.ORDINARY


def hand_at(place: Place) -> Hand:
    """Hand of the thread at a place.

    Source: ISO 6696 (right cup left-hand, left cup right-hand), ISO 6698; pedals and lockrings common practice.
    """
    match place:
        case Place.LEFT_PEDAL | Place.RIGHT_CUP_34_9 | Place.FIXED_SPROCKET_LOCKRING | Place.MARKED_LEFT_HAND:
            return Hand.LEFT
        case (
            Place.ORDINARY
            | Place.RIGHT_PEDAL
            | Place.LEFT_CUP_34_9
            | Place.RIGHT_CUP_36
            | Place.LEFT_CUP_36
            | Place.SPROCKET_LOCKRING
            | Place.SCREW_ON_FREEWHEEL
        ):
            return Hand.RIGHT


def _why(place: Place) -> str:
    match place:
        case Place.LEFT_PEDAL | Place.RIGHT_PEDAL:
            return "Pedals loosen towards the rear wheel on both sides; turning cranks then don't unscrew them."
        case Place.RIGHT_CUP_34_9 | Place.LEFT_CUP_34_9:
            return "The cup of the drive side is the left-hand one, so that the turning bearing doesn't unscrew it."
        case Place.RIGHT_CUP_36 | Place.LEFT_CUP_36:
            return "Both cups of the 36 mm thread are right-hand, so the right one is tightened with special care."
        case Place.FIXED_SPROCKET_LOCKRING:
            return "The lockring of a fixed sprocket is left-hand, so that pedalling backwards doesn't unscrew it."
        case Place.SCREW_ON_FREEWHEEL:
            return "Pedalling tightens a screw-on freewheel."
        case Place.MARKED_LEFT_HAND:
            return "Some pulley bolts and some hub bolts are left-hand; the part is marked, or its maker says so."
        case Place.ORDINARY | Place.SPROCKET_LOCKRING:
            return "An ordinary right-hand thread."


@check(
    family=Family.BOLTS,
    title="Which way does it turn?",
    purpose=(
        "A few threads of a bike are left-hand. Turned the usual way, they lock tighter until something breaks. "
        "The card shows the direction whenever it isn't the usual one."
    ),
    formula=r"h = +1 \;\text{right-hand}, \quad h = -1 \;\text{left-hand}",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "The usual way: clockwise tightens.",
        Verdict.WITH_CARE: "The unusual way: anticlockwise tightens. Look twice before you lean on the tool.",
    },
    example={"place": "left-pedal"},
    drawing="thread-hand",
    notes=(
        "Directions are seen from the side where the tool sits. Cups are named by the diameter in millimetres and the "
        "threads per inch: 34.9x24 is the standard 1.375 inch thread, 36x24 the one with two right-hand cups. The "
        "lockring of a sliding-on sprocket set is right-hand, that of a fixed sprocket left-hand."
    ),
    asked=Asked(force=Force.TELLS),
)
def thread_hand(
    place: Annotated[
        Place, Meaning("where the thread sits"), Fact("fastener.hand", by=place_of, called="hand of the thread")
    ],
) -> CheckResult:
    """The hand of the thread at a place and the turning direction that tightens it.

    The value is 1 for a right-hand thread and −1 for a left-hand one.

    Source: ISO 6696, ISO 6698, common practice.
    """
    hand = hand_at(place)
    left = hand is Hand.LEFT
    return CheckResult(
        verdict=Verdict.WITH_CARE if left else Verdict.FITS,
        value=-1.0 if left else 1.0,
        unit=Unit.ONE,
        working=(
            f"Thread at this place: {hand}-hand",
            _why(place),
            f"Seen from the side where the tool sits: tighten {hand.tighten}, loosen {hand.loosen}",
        ),
        advice=f"Turn {hand.tighten} to tighten, {hand.loosen} to loosen.",
    )
