"""Every fixed word of pages and sheets, by what it is for. Another language is another `Labels`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType


def _fixed(words: dict[str, str]) -> Mapping[str, str]:
    return MappingProxyType(words)


@dataclass(frozen=True, slots=True)
class Labels:
    """Fixed words. Those that end in `_word` stand after a number that is not one."""

    # What every sheet and page says of itself
    disclaimer: str = (
        "Follow your site's lockout programme and local codes. "
        "Work that needs a licensed person is done by a licensed person."
    )
    stop_if_different: str = "If this sheet and the machine disagree, stop and ask."
    made_from: str = "Made from"
    content: str = "Content"
    changed: str = "Changed"
    revision: str = "Revision"
    written_by: str = "Written by"
    approved_by: str = "Released by"
    page: str = "Page"
    page_of: str = "of"
    issue_day: str = "Day"
    not_issued: str = "not issued"
    issues: str = "Revisions"
    what_changed: str = "What changed"
    since_bar: str = "A bar at the margin marks what changed since"
    since_out: str = "Taken out here:"
    since_here: str = "Changed since revision"
    printed_check: str = "Is this the newest print? Compare the content mark with the page."
    printed_scan: str = "Newest print? Scan."
    code_of_page: str = "Code that leads to the page of this sheet:"
    shop: str = "Workshop"
    alert_mark: str = "safety alert symbol"

    # Finding the way
    skip_to_work: str = "Skip to the work"
    search: str = "Find"
    search_hint: str = "job, machine, part or tool"
    machine: str = "Machine"
    machines: str = "Machines"
    every_machine: str = "every machine"
    every_model: str = "every model"
    any_tool: str = "any tool"
    needs_tool: str = "Needs the tool"
    changed_since: str = "Changed since"
    narrow: str = "By machine, model, tool or day"
    show_more: str = "Show more"
    many_procedures: str = (
        "{n} procedures. Type what you look for, or begin with the machine below."
    )
    no_machine: str = "No machine"
    model: str = "Model"
    models: str = "Models"
    pick_model: str = "Which model is it?"
    pick_model_first: str = "Pick the model first: that step is not the same on each of them."
    all_models: str = "show all"
    only: str = "Only"
    procedure: str = "Procedure"
    procedures: str = "Procedures"
    visit: str = "Visit"
    visits: str = "Visits"
    crib: str = "Tool crib"
    sheet: str = "Sheet to print"
    contents: str = "Contents"
    location: str = "Stands"
    follows: str = "Follows"
    followed_by: str = "Followed by"
    where: str = "where?"

    # Before, during and after the work
    before_start: str = "Before you start"
    needs: str = "The machine must be like this"
    wear: str = "Wear"
    energies: str = "Isolate"
    energy: str = "Energy"
    isolate_at: str = "Isolate at"
    let_out: str = "Let out what is stored"
    prove: str = "Prove"
    tools: str = "Tools to lay out"
    supplies: str = "Parts and supplies to bring"
    torques: str = "Torques"
    lifted_by_hand: str = "Lifted by hand"
    work: str = "The work"
    after: str = "After the work"
    left_so: str = "Left like this on purpose"
    signatures: str = "Signatures"
    work_done: str = "Work done as written"
    technician: str = "technician"
    rules: str = "House rules"
    time: str = "Time"
    people: str = "People"
    due: str = "Due"
    purpose: str = "When"
    safety: str = "Safety"
    notes: str = "Remarks"
    remark_hint: str = "What was unclear, what was different?"

    # Steps
    step: str = "Step"
    steps: str = "Steps"
    done: str = "done"
    by: str = "by"
    why: str = "Why?"
    why_here: str = "Why is this here?"
    note: str = "Note"
    only_if: str = "Only if"
    side_by_side: str = "At the same time:"
    go_there: str = "Go there"
    start_timer: str = "Start the clock:"
    timer: str = "Clock"
    next_open: str = "Next open step"
    one_at_a_time: str = "One step at a time"
    start_over: str = "Start over"
    more_below: str = "There is more below"
    step_before: str = "Step before"
    step_after: str = "Step after"
    step_done: str = "Done"
    this_job: str = "This job"
    your_name: str = "Your name"
    machine_serial: str = "Machine number"
    begin_job: str = "Begin this job"
    another_job: str = "Begin another job"
    begun_here: str = "Begun on this device, and not finished:"
    begun_on_older: str = (
        "Begun on an older issue of this page. The steps may differ, so they do not go on here. "
        "Save their records before you discard them:"
    )
    pick_job_first: str = "Several jobs are open here. Pick one, or begin another, then go on."
    closing: str = "Close the job"
    finish: str = "Finish the job"
    save_record: str = "Save the record"
    print_record: str = "Print the record"
    throw_away: str = "Discard this job"
    remark: str = "Remark"
    unclear: str = "This step is unclear"
    round_word: str = "round"
    switch_units: str = "Other units"
    picture: str = "Picture"
    order: str = "Order"
    hold_point: str = "Hold point"
    end_of_work: str = "The work ends here"
    reading: str = "Reading"
    limits: str = "Limits"
    good: str = "Good"
    not_good: str = "Not good"
    date: str = "Date"
    clock_time: str = "Time of day"
    name: str = "Name"
    initials: str = "Initials"
    signature: str = "Signature"
    serial: str = "Serial number"

    # Records that came back
    records_title: str = "Records"
    records_faults: str = "To look into"
    records_seal: str = (
        "A seal shows that a file was changed after the page saved it. It does not prove who saved "
        "it, or that the work was done: for that, ask the people whose names are in it."
    )
    records_clean: str = "Nothing: all values are within limits, and all is signed."
    records_values: str = "Values against their limits"
    records_times: str = "Time from beginning to end, breaks included"
    records_begun: str = "Begun"
    records_took: str = "Took"
    records_estimate: str = "The procedure says"
    records_remarks: str = "Remarks for the author"
    mean: str = "mean"
    deviation: str = "standard deviation"
    no_capability: str = "too few for a capability (from {n})"
    unclear_to: str = "unclear to {n}"
    records_word: str = "records"
    readings_word: str = "readings"

    # Tables
    part: str = "Part"
    parts: str = "Parts"
    fastener: str = "Fastener"
    fasteners: str = "Fasteners"
    tool: str = "Tool"
    count: str = "How many"
    mass: str = "Mass"
    number: str = "Number"
    facts: str = "What else"
    renew: str = "New each time."
    torque: str = "Torque"
    window: str = "From – to"
    stages: str = "Stages"
    sequence: str = "Sequence"
    thread: str = "Thread"
    wrench: str = "Torque wrench"
    drive: str = "With"
    set_to: str = "set to"
    designation: str = "Designation"
    quantity: str = "Quantity"
    condition: str = "Only if"
    tag: str = "Tag"
    not_in_crib: str = "not in the crib"
    needed_in: str = "Needed in"
    needed_nowhere: str = "No procedure needs it."
    needed_for: str = "Needed for"
    none: str = "none"
    as_needed: str = "as needed"
    left_hand: str = "left-hand thread"
    from_house: str = "from the house table"
    plus_running: str = "set to this plus the running torque measured"
    running_torque: str = "running torque"
    worked_out: str = "How this was worked out"
    all_worked_out: str = "How the numbers were worked out"
    on_its_own_sheet: str = "the job's own sheet names"
    comes_along: str = "this one does as well and comes along anyway"
    run_out_by_then: str = "its calibration has run out by then"
    no_wrench: str = "no torque wrench in the crib can do this"

    # Machines and tools
    conditions: str = "Conditions"
    fluids: str = "Fluids"
    connections: str = "Connections"
    places: str = "Places"
    special_tools: str = "Special tools"
    aids: str = "Aids"
    sizes: str = "Sizes"
    range: str = "Range"
    square: str = "Square drive"
    accuracy: str = "Accuracy"
    length: str = "Length"
    extends: str = "Extends by"
    lifts: str = "Lifts"
    ends: str = "Ends"
    calibrated_until: str = "Calibrated until"

    # Visits
    job: str = "Job"
    jobs: str = "Jobs"
    crew: str = "Crew"
    after_job: str = "after job"
    plan: str = "Order and time"
    plan_key: str = "A full bar: any delay of this job delays the end. Times count from the start."
    jobs_in_a_row: str = "All jobs, one after the other"
    as_planned: str = "From start to end"
    starts: str = "Starts"
    takes: str = "Takes"

    # What hangs at the machine, what the store works from
    picking_list: str = "Picking list"
    taken: str = "Out"
    back: str = "Back"
    taken_by: str = "Taken by"
    back_by: str = "Brought back by"
    for_jobs: str = "For job"
    lockout_tag: str = "Lockout tags"
    do_not_operate: str = "Do not operate"
    at_work: str = "People are at work on this machine."
    telephone: str = "Telephone"
    tag_rule: str = (
        "Only the one named here takes this tag off. A tag holds nothing by itself: it hangs with "
        "a lock."
    )
    tag_of: str = "Tag {n} of {all}"
    part_labels: str = "Part labels"
    label_for: str = "for"
    torque_chart: str = "Torques"
    chart_rule: str = (
        "For who knows the job. The sheet of the job tells the order, and what else to mind."
    )
    chart_from: str = "Taken from"
    chart_machine: str = "the machine's own list"

    # After a number that is not one
    jobs_word: str = "jobs"
    steps_word: str = "steps"
    people_word: str = "people"
    procedures_word: str = "procedures"
    uses_word: str = "uses"

    signal: Mapping[str, str] = field(
        default_factory=lambda: _fixed(
            {"danger": "DANGER", "warning": "WARNING", "caution": "CAUTION", "notice": "NOTICE"}
        )
    )
    weights: Mapping[str, str] = field(
        default_factory=lambda: _fixed({"error": "Error:", "warning": "Warning:"})
    )
    answers: Mapping[str, str] = field(default_factory=lambda: _fixed({"yes": "Yes", "no": "No"}))
    singular: Mapping[str, str] = field(
        default_factory=lambda: _fixed(
            {
                "jobs": "job",
                "steps": "step",
                "people": "person",
                "procedures": "procedure",
                "uses": "use",
                "records": "record",
                "readings": "reading",
            }
        )
    )
    script: Mapping[str, str] = field(
        default_factory=lambda: _fixed(
            {
                "progress": "{n} of {all} done",
                "found": "{n} of {all} found",
                "keeping": "writing …",
                "kept_disk": "kept",
                "kept_lazy": "kept, as far as this browser can",
                "kept_none": "This browser keeps nothing. What you enter is lost with the page.",
                "start_over_asks": "Take all ticks of this visit off?",
                "ticks_older": "Ticks made before this page was changed are not taken over.",
                "not_kept": "Not kept: the device has no room, or refuses. Write it down.",
                "printed_good": "Your print is the newest.",
                "printed_old": "Your print is old. Do not work from it.",
                "printed_garbled": "Which print you have cannot be told.",
                "printed_unread": "The address was cut or changed on its way; it says: {text}",
                "printed_other": "Your print is {print}.",
                "printed_alike": "Your print is {print}. The content was changed since.",
                "printed_page": "This page is {page}.",
                "printed_change": "Changed in revision {n}: {text}",
                "printed_unsaid": "There is a revision {n}; what changed in it is not said.",
                "printed_new": "Open the new sheet",
                "printed_behind": "Printed only today? Then ask whether these pages are behind.",
                "printed_revision": "revision {n}, ",
                "printed_content": "content {n}",
                "done": "Done",
                "undo": "Not done after all",
                "one_at_a_time": "One step at a time",
                "all_steps": "All steps",
                "which_step": "Step {n}, {at} of {all}",
                "job_of": "Machine {serial}, {who}, begun {begun}",
                "job_without": "Begun {begun}, {who}, no machine number",
                "nobody": "no name",
                "go_on": "Go on",
                "save_record": "Save the record",
                "discard": "Discard",
                "throw_away": "Discard this job with all its ticks and entries? {job}",
                "finish": "Finish the job",
                "reopen": "Open the job again",
                "still_open": "Still open:",
                "all_there": "All is laid out.",
                "all_done": "All steps are ticked and all entries made.",
                "no_model": "the model is not picked",
                "no_name": "no name",
                "no_serial": "no machine number",
                "one_not_ticked": "one thing to lay out is not ticked",
                "not_ticked": "{n} things to lay out are not ticked",
                "one_step_open": "one step",
                "steps_open": "{n} steps",
                "one_round_open": "one round",
                "rounds_open": "{n} rounds",
                "one_entry_empty": "one entry",
                "entries_empty": "{n} entries",
                "record_revision": "Revision",
                "record_machine": "Machine",
                "record_serial": "Machine number",
                "record_model": "Model",
                "record_people": "Done by",
                "record_begun": "Begun",
                "record_ended": "Finished",
                "record_not_ended": "not finished",
                "record_content": "Content",
                "record_unclear": "Unclear.",
                "record_entries": "Entries",
                "record_entry_heads": "What|Entered|Limits|Verdict|When|By",
                "record_rounds": "Rounds",
                "record_round_heads": "Round|Done|When|By",
                "record_remarks": "Remarks",
                "record_remark_heads": "Step|Remark|When|By",
                "record_steps": "Steps",
                "record_step_heads": "No.|Step|Done|When|By",
                "record_seal": "Seal of this record:",
                "larger": "Larger",
                "close": "Close",
                "bolt_next": "Next is bolt {n}.",
                "bolt_not_yet": "Not that one: next is bolt {n}.",
                "bolt_done": "Bolt {n} done",
                "bolt_back": "One back",
                "bolt_group": "Group {n} of {all}.",
                "bolts_done": "All are tight.",
                "time_is_up": "The time is up.",
                "stays_in": "Begun in {unit}, and goes on so. Empty it to go on in the other unit.",
                "verdict_in": "within limits",
                "verdict_out": "out of limits",
                "verdict_below": "below the limit",
                "verdict_above": "above the limit",
                "verdict_unread": "This is no number.",
                "verdict_own_hand": "Another person signs here than the one who does the work.",
                "not_confirmed": "Do not go on.",
                "ends_here": "The work ends at step {n}.",
            }
        )
    )

    def counted(self, count: int, word: str) -> str:
        """Return `1 step`, `3 steps`; `word` is one of the `…_word` labels."""
        return f"{count} {self.singular.get(word, word) if count == 1 else word}"

    def in_steps(self, numbers: Sequence[str]) -> str:
        """Return `step 3`, `steps 3, 9`."""
        word = self.singular["steps"] if len(numbers) == 1 else self.steps_word
        return f"{word} {', '.join(numbers)}"


LABELS = Labels()
"""The words of the pages and sheets, in English."""
