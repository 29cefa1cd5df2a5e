"""Whole answers of `fit`, `card` and `lower`, as they were read and found right: the files in approved/.

Each begins with the command and its exit status. `python -m tests.cli.test_answers` writes them anew; read the
difference before it is kept.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.calling import call

APPROVED = Path(__file__).parent / "approved"
_COMMAND, _STATUS = "$ spannerleaf ", "# exit status "


def answer(command: str) -> str:
    """The command, its status and all that it says."""
    result = call(*command.split())
    return f"{_COMMAND}{command}\n{_STATUS}{result.exit_code}\n{result.output}"


def command_of(text: str) -> str:
    return text.partition("\n")[0].removeprefix(_COMMAND)


@pytest.mark.parametrize("path", sorted(APPROVED.glob("*.txt")), ids=lambda path: path.stem)
def test_a_command_answers_as_it_was_approved(path: Path) -> None:
    approved = path.read_text(encoding="utf-8")
    assert answer(command_of(approved)) == approved


def test_nothing_that_does_not_fit_or_was_not_judged_ends_with_success() -> None:
    texts = [path.read_text(encoding="utf-8") for path in APPROVED.glob("*.txt")]
    assert texts
    for text in texts:
        if "Not judged:" in text or "nothing that is known cures it" in text or "is not for" in text:
            assert f"{_STATUS}0" not in text


if __name__ == "__main__":
    for file in sorted(APPROVED.glob("*.txt")):
        file.write_text(answer(command_of(file.read_text(encoding="utf-8"))), encoding="utf-8")
