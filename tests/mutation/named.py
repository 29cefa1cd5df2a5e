"""Faults that nothing finds, each with the reason why no rule holds it: they count as not caught all the same."""

from __future__ import annotations

from fnmatch import fnmatchcase

# Kind, where it is with * for any text, and the reason.
_NAMED: tuple[tuple[str, str, str], ...] = (
    *(
        (kind, f"{sheet}.*", "a line of a sheet hangs on no other: which lines a sheet has is what its writer decides")
        for kind in ("drop step", "flip condition", "swap neighbours")
        for sheet in ("yearly-service", "check-before-a-ride", "tag-before-a-ride", "crash-looked-over")
    ),
    (
        "drop step",
        "*-tubeless-tyre-plugged.use-cartridge",
        "another way to the same act: without it the pump of the next step does the work",
    ),
    (
        "drop step",
        "drivetrain-cleaned.blow-dry",
        "for workshops with compressed air alone: without it the wait of the next step dries the chain",
    ),
    (
        "drop step",
        "stiff-link-freed.move-pin",
        "for a link that the two acts before it did not free: without it such a link is replaced with its chain",
    ),
    (
        "drop step",
        "stiff-link-freed.mark-link",
        "the mark spares a second search: without it the hand stays on the link that was found",
    ),
    (
        "drop step",
        "*-cable-disc-adjusted.spin-first",
        "a first look that spares work: the wheel is spun again at the end, and a rotor that rubs shows there too",
    ),
    *(
        (
            kind,
            f"body-angle.shift-to-smallest{what}",
            "on electronic shifting no later step starts from the smallest sprocket: the next selects one midway",
        )
        for kind, what in (("drop step", ""), ("remove leaves", " (selected-sprocket)"))
    ),
    *(
        (
            "remove caution",
            f"{step} (bike)",
            "the brakes are tried before it, by rule, and their test brings the same caution a few steps earlier",
        )
        for step in (
            "drive-under-load.firm-in-each-gear",
            "hub-gear-ride.ride-gears",
            "single-chain-and-sprocket-replaced.pedal-hard",
        )
    ),
    (
        "drop step",
        "*-disc-pads-replaced.measure-pads",
        "the old pads go whatever they measure: the reading is for the bike's file, and no act of the job hangs on it",
    ),
)


def reason_for(kind: str, where: str) -> str:
    """Why no rule finds this fault, '' where nobody has said."""
    return next((why for one, pattern, why in _NAMED if one == kind and fnmatchcase(where, pattern)), "")
