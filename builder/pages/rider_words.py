"""The fixed words of the rider's page and of the live form on a check's page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from builder.pages.form import Form
from builder.pages.paper import Paper

# What a rider has paper for.
PRINTED = (Paper.A5, Paper.A4, Paper.LETTER, Paper.A6)

_FAILURES = {
    "no-wasm": "This browser can not run the page: it has no WebAssembly, or it is switched off.",
    "missing": "A file of the page could not be fetched. Look whether there is a connection, and try again.",
    "damaged": "A file of the page did not come whole or is not the one that was built. Try again; if that does not "
    "help, tell whoever runs this site.",
    "refused": "This site or this browser refuses WebAssembly, so that the page can not run here.",
    "stuck": "The page did not start within two minutes. Close other programs, and try again.",
    "broken": "Something went wrong while this was worked out. What you told of your bike is kept.",
    "local": "The page can not run from a file on a disk. It needs an address that begins with http:// or https://.",
}
_STATES = {
    "ready": "Here is the guide for this bike.",
    "trouble": "Stop. Nothing that is known makes this fit. The reasons stand below.",
    "refused": "This guide is not for this bike.",
    "needs-part": "Choose the part that goes on; then the guide is worked out.",
    "contradicts": "What is told of this bike can not all be so. Take an answer back.",
}
_FORMS = {
    "brief": "Short, for a hand that knows the job",
    "steps": "A card to work along",
    "teaching": "Every reason and every drawing",
}
_WEARING = {
    "chain-wear": "Chain, longer by",
    "front-rotor": "Front rotor, thickness",
    "rear-rotor": "Rear rotor, thickness",
    "front-pads": "Front pads, thickness",
    "rear-pads": "Rear pads, thickness",
    "front-tread": "Front tyre, tread",
    "rear-tread": "Rear tyre, tread",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RiderWords:
    """English. Words in braces are filled in on the page."""

    title: str = "Fit a guide to my bike"
    fit_mine: str = "Fit this to my bike"
    lead: str = "Tell what you know of your bike. You get the guide for it, with its parts, torques and limits, and no "
    lead_more: str = "step that is not for it."
    private: str = "All of it is worked out in this browser. What you tell of your bike stays on this device."
    no_script: str = (
        "This page needs a script. Without one, the guides for any bike are on this site, and the card for "
    )
    no_script_more: str = "your bike can be made with the command:"
    commands: tuple[str, ...] = (
        "spannerleaf new bike my-bike --for GUIDE --workspace mine",
        "spannerleaf card GUIDE my-bike --workspace mine -o my-bike.html",
    )
    guide: str = "Guide"
    choose_guide: str = "Choose a guide"
    generic: str = "The guide for any bike"
    bike: str = "Bike"
    bike_name: str = "Its name"
    my_bike: str = "My bike"
    new_bike: str = "Another bike"
    delete_bike: str = "Delete this bike"
    really: str = "Delete this bike and all that is told of it? It can not be brought back."
    delete: str = "Delete it"
    keep: str = "Keep it"
    save_file: str = "Save as a file"
    save_file_is: str = "The file is one that a workshop keeps in its folder bikes."
    copy_link: str = "Make a link"
    link: str = "Link with this bike"
    link_copied: str = "The link is copied. It holds what you told; whoever has it can read that."
    link_shown: str = "Copy the link. It holds what you told; whoever has it can read that."
    not_kept: str = "This browser keeps nothing for this page, so that what you tell is gone when you close it."
    offered: str = "This link holds a bike called “{name}” with {count} answers. Nothing of yours is replaced."
    offered_take: str = "Add it to my bikes"
    offered_leave: str = "Leave it"
    loading: str = "Fetching the interpreter and the guides, once: {got} of {of} MB"
    starting: str = "Starting"
    busy: str = "Working it out"
    again: str = "Try again"
    take: str = "Take this answer"
    not_known: str = "I don't know"
    not_known_leads: str = "The guide then has a step to measure it, or shows both ways."
    span: str = "From {span}. Other units will do, and a tolerance such as ± 2 mm."
    span_bare: str = "From {span}."
    limit: str = "To fit without any other change, it must be: {limit}."
    for_checks: str = "Asked for: {checks}."
    told: str = "What is told of this bike ({count})"
    take_back: str = "Take back"
    left_open: str = "left open"
    parts: str = "What goes on"
    choose_part: str = "Choose a part"
    no_part: str = "None, or one like the old one"
    in_stock: str = "in stock"
    show_now: str = "Show the guide with what is told so far"
    done: str = "Nothing is left to ask for this guide."
    result: str = "What comes of it"
    not_judged: str = "Not judged"
    lacking: str = "{count} figures are not known yet. The guide says where each must be measured, and its limit."
    by_command: str = "The same with the command:"
    print: str = "Print"
    print_card: str = "Print the guide for this bike"
    paper: str = "Paper"
    form: str = "Form"
    forms: Mapping[str, str] = field(default_factory=lambda: MappingProxyType(_FORMS))
    sides: str = "{count} sides. In the print dialog choose this paper, no margins, and 100 %."
    no_photo: str = "A photograph could not be fetched; its place is empty."
    by_figures: str = "One that is not in the list: tell its figures"
    by_figures_take: str = "Work it out with these figures"
    open_file: str = "Open a file of a bike"
    opened: str = "“{name}” is among your bikes now."
    opened_but: str = "“{name}” is among your bikes now. What stays in its file and is not shown here: {left}."
    opened_not: str = "The file can not be opened. Mend what stands below, and open it again."
    too_large: str = "This file is more than anybody writes of a bike. Nothing was opened."
    bike_page: str = "The page of this bike"
    bike_page_is: str = "Gears now and after, hills with your own power, what is measured, and how it wears."
    show_bike_page: str = "Show the page of this bike"
    wear_note: str = "Note a reading in its wear book"
    wear_what: str = "What was measured"
    wear_date: str = "Day"
    wear_figure: str = "Reading, such as 0.4 % or 1.8 mm"
    wear_distance: str = "Distance so far, such as 2400 km; it may be left out"
    wear_take: str = "Note it"
    lower: str = "Find lower gears"
    lower_by: str = "How much easier must the lowest gear be, in per cent?"
    lower_find: str = "Find the cheapest sets of parts"
    lower_none: str = "No set of known parts does that and fits."
    lower_take: str = "Fit these"
    wearing: Mapping[str, str] = field(default_factory=lambda: MappingProxyType(_WEARING))
    offline: str = "This page now opens without a connection too."
    offline_checks: str = "Every check reckons without a connection too, from now on."
    reckon_title: str = "Reckon with your own figures"
    reckon: str = "Reckon"
    failures: Mapping[str, str] = field(default_factory=lambda: MappingProxyType(_FAILURES))
    states: Mapping[str, str] = field(default_factory=lambda: MappingProxyType(_STATES))

    @property
    def of_script(self) -> dict[str, object]:
        """Those that the scripts show."""
        names = (
            "my_bike loading starting span span_bare limit for_checks take not_known not_known_leads told take_back "
            "left_open choose_part no_part in_stock lacking print no_photo link_copied link_shown offered sides "
            "by_figures by_figures_take opened opened_but opened_not too_large lower_none lower_take"
        )
        plain: dict[str, object] = {name: getattr(self, name) for name in names.split()}
        papers = {form.value: [one.value for one in PRINTED if not form.refusal(one)] for form in Form}
        return {**plain, "papers": papers, "failures": dict(self.failures), "states": dict(self.states)}


RIDER_EN = RiderWords()
