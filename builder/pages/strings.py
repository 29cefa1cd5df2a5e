"""The fixed words of pages and cards: one table a language, each of its words required."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.checks.result import Provenance, Verdict
from builder.model.bike import Wearing
from builder.model.catalogue import Preparation, SignalWord
from builder.model.guide import Level, TrialKind
from builder.pages.form import Form
from builder.pages.kind import Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Every fixed word. A language that lacks one can't be made, so that nothing falls back to another language."""

    language: str
    # --- card and guide: identification
    for_bike: str
    any_bike: str
    done_when: str
    level: str
    persons: str
    time: str
    prepare: str
    work: str
    mode: str
    read_do_how: str
    side: str
    of: str
    revision: str
    unverified: str
    not_tried: str
    tried: str
    why_revised: str
    issue: str
    # --- the card to work along
    get: str
    in_stock: str
    to_order: str
    at_least: str
    at_most: str
    more_fit: str
    brief_how: str
    brief_complete: str
    all_fit: str
    forced: str
    hill_title: str
    hill_reaches: str
    hill_cadence: str
    stop_if: str
    again: str
    tools_and: str
    signed_torques: str
    applied: str
    # --- before the job
    safety: str
    maker_first: str
    before: str
    not_when: str
    mechanic_when: str
    lay_out: str
    tools: str
    consumables: str
    parts: str
    none: str
    not_owned: str
    used_in: str
    for_steps: str
    # --- worked out
    worked_out: str
    check: str
    stop: str
    nothing_fits: str
    measure_first: str
    forces: str
    because: str
    must_have: str
    nothing_in_stock: str
    value: str
    limit: str
    margin: str
    working: str
    source: str
    # --- steps
    steps: str
    step: str
    tick: str
    do_one: str
    repeat_until: str
    step_limit: str
    shows: str
    typical: str
    on_carbon: str
    maker: str
    maker_figure: str
    by_feel: str
    no_wrench: str
    each_of: str
    left_hand: str
    write: str
    how: str
    wait: str
    start: str
    end: str
    pause: str
    pause_look: str
    # --- end of the job
    finish: str
    test: str
    complete: str
    sign_off: str
    done_by: str
    checked_by: str
    name: str
    date: str
    no_ride: str
    torques: str
    torque: str
    fastener: str
    faults: str
    symptom: str
    cause: str
    remedy: str
    back_to: str
    sources: str
    typical_key: str
    feedback: str
    # --- site
    skip: str
    menu: str
    guides: str
    bikes: str
    checks: str
    torque_chart: str
    tool_list: str
    glossary: str
    cautions: str
    home: str
    contents: str
    print_cards: str
    left_out: str
    left_out_why: str
    start_at: str
    go_on_at: str
    one_at_a_time: str
    print: str
    print_keys: str
    print_page: str
    about_job: str
    again_at_steps: str
    to_tick: str
    to_measure_count: str
    laid_out: str
    reading_on: str
    reading_back: str
    reading_next: str
    reading_done: str
    reading_close: str
    reading_keys: str
    reading_awake: str
    generic: str
    for_your_bike: str
    filter: str
    filter_none: str
    find: str
    find_hint: str
    find_how: str
    find_none: str
    find_count: str
    find_lists: str
    card_codes: str
    wrong: str
    wrong_how: str
    wrong_find: str
    mend_with: str
    changes: str
    changes_how: str
    feed: str
    lost: str
    stale: str
    lost_how: str
    lost_card: str
    printed_card: str
    card_current: str
    card_stale: str
    card_read_again: str
    card_same_steps: str
    card_withdrawn: str
    card_no_longer: str
    card_printed_on: str
    card_of_today: str
    card_changes: Mapping[str, str]
    edit_this: str
    cautions_how: str
    glossary_how: str
    drawn_at: str
    tools_how: str
    about_how: str
    clear_ticks: str
    # --- site: pages of their own
    about: str
    optional: str
    tagline: str
    choose_bike: str
    choose_bike_how: str
    choose_job: str
    choose_job_how: str
    choose_wrong: str
    prints_how: str
    prints_none: str
    prints_wall: str
    front_end: str
    rear_end: str
    any_guide: str
    any_guide_how: str
    fleet: str
    fleet_how: str
    reckoner: str
    reckoner_how: str
    for_bikes: str
    all_bikes: str
    and_more: str
    part_of: str
    part_before: str
    part_after: str
    not_for_count: str
    open_guide: str
    of_bike: str
    same_job: str
    progress: str
    measured: str
    rider: str
    climbs: str
    wear: str
    wear_how: str
    wearing: Mapping[Wearing, str]
    wearing_short: Mapping[Wearing, str]
    wear_last: str
    wear_limit_marked: str
    wear_limit_typical: str
    wear_no_limit: str
    wear_over: str
    wear_once: str
    wear_far: str
    wear_now: str
    wear_reached: str
    wear_reached_open: str
    wear_reached_twice: str
    wear_left: str
    wear_left_between: str
    wear_readings: str
    jobs: str
    due_next: str
    due_now: str
    due_about: str
    due_none: str
    due_how: str
    other_jobs: str
    job_details: str
    no_jobs: str
    not_on_bike: str
    gears: str
    gears_how: str
    gears_now: str
    gears_after: str
    hills: str
    hills_how: str
    hill: str
    gradient: str
    cadence_before: str
    cadence_after: str
    cadence_least: str
    steepest: str
    ring: str
    sprocket: str
    to_buy: str
    to_measure: str
    where_to_write: str
    refused: str
    what_for: str
    formula: str
    symbols: str
    inputs: str
    input_name: str
    meaning: str
    unit: str
    range: str
    default: str
    example: str
    worked_example: str
    answer: str
    more_results: str
    what_to_do: str
    drawing: str
    by_command: str
    how_known: str
    house_rules: str
    house_rules_how: str
    judged_on_sources: str
    judged: str
    judged_how: str
    judged_kind: str
    judged_fit: str
    judged_state: str
    typical_chart: str
    head: str
    thread: str
    preparation: str
    spread: str
    made_for_part: str
    use: str
    used_by: str
    amount: str
    terms: str
    others: str
    verbs: str
    verbs_how: str
    word_key: str
    sign_key: str
    sign_how: str
    all_cautions: str
    safety_first: str
    version: str
    made_by: str
    qualified: str
    typical_is: str
    unverified_is: str
    verdicts_are: str
    licence: str
    licence_of: str
    ticked_stays: str
    family: str
    name_of_bike: str
    tag: str
    not_known: str
    left: str
    # --- service sheets, wall charts, tool lists
    service_sheet: str
    sheets_how: str
    sheet_do: str
    sheet_value: str
    sheet_pass: str
    sheet_repair: str
    sheet_last: str
    sheet_safety: str
    sheet_repairs: str
    sheet_ready: str
    sheet_not_ready: str
    mechanic: str
    distance: str
    hand_how: str
    greased_how: str
    chart_for: str
    tools_for: str
    upkeep: str
    upkeep_how: str
    upkeep_link: str
    unsure: str
    no_guide: str
    tools_workshop: str
    tools_counted: str
    tools_lacking: str
    in_workshop: str
    home_kit: str
    home_kit_how: str
    home_lacks: str
    home_has_all: str
    yes: str
    no: str
    lacks: str
    there: str
    in_guides: str
    print_sheets: str
    print_chart: str
    print_tools: str
    print_upkeep: str
    # --- sets
    levels: Mapping[Level, str]
    trials: Mapping[TrialKind, str]
    verdicts: Mapping[Verdict, str]
    provenances: Mapping[Provenance, str]
    forms: Mapping[Form, str]
    kinds: Mapping[Kind, str]
    everyday: Mapping[str, str]
    preparations: Mapping[Preparation, str]
    signal_words: Mapping[SignalWord, str]
