"""The forms of a card that are made from one guide."""

from __future__ import annotations

from enum import StrEnum

from builder.pages.paper import Paper


class Form(StrEnum):
    """What a card is for: to confirm a job one knows, to work along step by step, or to learn it with every reason."""

    BRIEF = "brief"
    STEPS = "steps"
    TEACHING = "teaching"

    def name_of(self, guide: str, paper: Paper) -> str:
        """The file of a guide's card in this form, without its ending."""
        return f"{guide}-{paper.value}" if self is Form.STEPS else f"{guide}-{self.value}-{paper.value}"

    def refusal(self, paper: Paper, *, turned: bool = False) -> str:
        """Why the form is not made on a paper; '' where it is. `turned` is one across, or for more distance."""
        if self is Form.TEACHING and turned:
            return "a card with every reason is laid out upright, at its own distance; take --form steps or brief"
        if self is Form.STEPS and paper is Paper.A6:
            return (
                "a card to work along does not fit A6, since its steps would part from their drawings; "
                "take A5, or --form brief"
            )
        if self is Form.TEACHING and paper not in TEACHING_PAPERS:
            return f"a card with every reason is not laid out for {paper.label}; take A5, A4 or Letter"
        return ""


# The pages that the theme lays a teaching card out on.
TEACHING_PAPERS = (Paper.A5, Paper.A4, Paper.LETTER)


def read_name(name: str) -> tuple[str, Form, Paper] | None:
    """The guide, the form and the paper that a file is named after; None where no card is named so."""
    rest, _, paper = name.rpartition("-")
    if paper not in list(Paper):
        return None
    for form in Form:
        if form is not Form.STEPS and rest.endswith(f"-{form.value}"):
            return rest.removesuffix(f"-{form.value}"), form, Paper(paper)
    return rest, Form.STEPS, Paper(paper)
