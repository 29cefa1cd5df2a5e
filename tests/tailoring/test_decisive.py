"""What a limit decides stays on the brief card; how a step is done does not."""

from __future__ import annotations

import pytest

from builder.tailoring.decisive import decisive


@pytest.mark.parametrize(
    ("limit", "stays"),
    [
        (
            "Below 1 mm the pair is replaced. That is common practice. The thinner of each pair counts.",
            "Below 1 mm the pair is replaced. That is common practice.",
        ),
        ("A fork without lips needs no turn. Filed or broken lips end the job.", "Filed or broken lips end the job."),
        ("The maker's figure or gauge goes first. 5 to 6 mm is typical.", "5 to 6 mm is typical."),
        (
            "A new chain jumps on hooked teeth. The chainring is then replaced too.",
            "A new chain jumps on hooked teeth. The chainring is then replaced too.",
        ),
        ("The value goes on this card.", ""),
        ("A telephone laid on the lever shows the angle.", ""),
        (
            "From here on nobody touches the lever. Its open hole stays covered.",
            "From here on nobody touches the lever.",
        ),
    ],
)
def test_a_sentence_stays_that_decides(limit: str, stays: str) -> None:
    assert decisive(limit) == stays


def test_where_the_line_says_what_must_be_so_its_verdict_needs_no_words_and_its_figure_does() -> None:
    assert decisive("A wet piston or a crack is a case for a mechanic.", proved=True) == ""
    assert decisive("More than 2 mm calls for new pulleys.", proved=True) == "More than 2 mm calls for new pulleys."
    assert decisive("Nobody stands on the pedals.", proved=True) == "Nobody stands on the pedals."
