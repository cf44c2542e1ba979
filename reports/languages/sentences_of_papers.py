"""Sentences that papers of lines, walks, changes, plans and turnarounds hold ready-made in English.

They come from rules, frozen records and calculations; each is read back by its pattern.
"""

from __future__ import annotations

OF_LINES = (
    "By screening: {words}.",
    "nozzle {names} over limits",
    "nozzle {names} cannot be judged (missing: limits)",
    "no nozzle is on record at the ends of the line",
    "no nozzle over its limit in any state, {share} % at most",
    "{tags} on a stop",
    "{tags} lifted off",
    "Nozzle {nozzle}, {what}: {states} of its limit ({source})",
    "before {share} %",
    "added, nothing re-set {share} %",
    "as planned {share} %",
    "source of the limit not stated",
    "On a stop ({state}): {tags}",
    "Lifted off ({state}): {tags}",
    "A full analysis is mandatory.",
    "Cannot judge whether a full analysis is mandatory: facts are missing.",
    "No reason on the list makes a full analysis mandatory.",
    "{reason} (not known)",
    "a machine, heater, turbine or other load-limited nozzle is within reach",
    "the line works in the creep range or is a high-energy line",
    "the net added weight is a large share of the line's weight",
    "the load of a support changes by a large share",
    "a required load lies outside its unit's range",
    "a centre of gravity lies off the pipe axis",
    "a pump, branch, anchor or other restraint is new or changed",
    "temperature or contents change",
    "relief, hammer, slug, earthquake or vibration loads act",
    "a rigid support unloads",
    "several constants stand in the influenced stretch",
    "the line as found differs from its calculation",
    "there is no calculation of a known revision",
    "Modulus of the cold pipe; no friction at rests and guides; beam theory, elastic.",
    "Springs hang from rigid steel; rods stay plumb.",
    "Valves and flanges are taken as stiff; their contents and insulation are not added.",
    "Ends are taken as rigid.",
    "Ends are taken as not moving when hot: no movement is on record.",
    "Nozzle {nozzle}: its limits stand at no end of the route and are not used.",
    "{tag} is {state} and is left out.",
    "{tag}: a {kind} holds nothing slow and is left out.",
    "{tag}: a travel stop is in by the register; taken as out.",
    "{tag}: mass of {count} hanging pieces not known, none taken off.",
    "{tag}: its node on the route",
    "the nozzle cannot be judged (missing: limits)",
    "{what} in state '{state}'",
    "{load} N, pipe {movement} mm",
    "line {line}, change {change}",
    "line {line}, change {change}: {kind}",
    "line {line} as it stands",
    "order of the register",
)

OF_CHANGES = (
    "{meaning} by {person} ({role}) on {day}",
    "{meaning} by {person} ({role}) on {day} - {reason}",
    "{meaning} by {person} ({role}) on {day}: void, changed since: {parts}",
    "{meaning} by {person} ({role}) on {day}: void, changed since: {parts} - {reason}",
    "The first that does not is batch {number}, '{action}', by {person}.",
    "{person}, in the register on {day}",
    "a {kind} carries no weight",
    (
        "{rules} rules spoke of {supports} supports: {fails} answers fail, {unjudged} cannot be "
        "judged, {passes} pass (rules version {version})"
    ),
    (
        "The loads above are those of the calculation named. Whether a full analysis by a "
        "qualified engineer must confirm them is for the site's own list and the local code to "
        "say."
    ),
    "the order of {number}",
    "mixed state: {count} re-set, not yet {names}",
    "made safe, to be taken through by {day}",
    "temporary and past its date ({day})",
    "setting not known since {day}",
    "not known: the unit that hangs there",
    "prop {number}",
    "travel stop {number} is in {unit}, put in by {person} on {day} ({reason})",
    "prop {number} is in at {along} m of {line}, put in by {person} on {day} ({reason})",
    "in at {along} m of {line}, put in by {person} on {day} ({reason})",
)

OF_DEEDS = (
    "release hold {number}",
    "prove: {proof}",
    "refused: {action}",
)

OF_WALKS = (
    "pointer {read} on a scale of {length}, load {load}",
    "pointer {read} of {length}",
    "pointer {read} of {length}: {end}",
    "at an end, which one is not known",
    "topped out",
    "bottomed out",
    "room to the nearer end {room}, least {least}",
    "pointer {read}, expected {wanted} ± {slack}",
    "load {read}, last setting makes {wanted} ± {slack}",
    "moved {read} from shut down to operating, predicted {wanted} (up is positive)",
    (
        "moved {read} from shut down to operating, predicted {wanted} (up is positive); as if "
        "the two walks' readings were exchanged"
    ),
    "no drift beyond the limits",
    "pointer {slope} a year over {count} readings in {years} years, {state}",
    "load {slope} over {count} readings in {years} years, {state}",
    "rod {angle} out of plumb, expected in that state {wanted}, may differ by {slack}",
    "rod {angle} out of plumb, limit {limit}",
    "travel stop {state}",
    "travel stop {state}, line operating",
    "travel stop {names}: in or out",
    "gap under the pipe {gap}",
    "nameplate not readable",
    "serial read {read}, on record {kept}",
    "act by date by {day}: {fault}",
    "no fault named",
    "seen, no pointer and no load read",
    "a value was read",
    "photos {numbers}",
    "no photo number on the form",
    "the row is blank",
    "nobody ever read it; not seen this time because: {why}",
    "state found: {state}",
    "state found: {state}, {share} % of the temperature rise; left out of trends",
    "no reading of the other half since the last setting",
    "what to expect in state '{state}' (pipe temperature)",
    "what to expect in that plant state",
    "shut-down and operating marks",
    "rate, movement or plant state of the setting",
    "sideways movement in operation",
    "predicted movement",
    "movement read on a pair",
    "serial on record",
    "condition grade",
    "read from the {end}, length of the scale not known",
    "unit of the pointer not stated",
    "read in divisions, number of divisions not stated",
    "read in divisions, length of the scale not known",
    "floor not known",
    "row not known",
    "a newer form is issued",
    "for good, frozen",
    "a newer report is made",
    "Walkdown package",
    "Walkdown close-out",
    "Walkdown as it stands",
    (
        "A blank is not a nought. Write the number that you see, in the unit on the scale, and "
        "tick the end that you counted from. Marks without a unit: write how many the whole "
        "scale has. Not seen is an answer: say why."
    ),
)

OF_PLAN_PAPERS = (
    "{count} unit turned; every limit is kept at the end, the most used: {worst}",
    "{count} units turned; every limit is kept at the end, the most used: {worst}",
    "nothing needs turning; every limit is kept at the end, the most used: {worst}",
    "these loads break a limit: {worst}",
    "cannot be done: {clashes}",
    "no set of turns keeps every limit",
    "not decided within the time allowed",
    "nothing is planned",
    "{limit} would be passed by {amount}",
    "No replacement of a unit and no added support that was tried puts it right.",
    "Add a constant support in place of the {name}, set to {load}.",
    "Replace {name} by a unit that takes {load}.",
    "Replace {name} by a unit that takes {load}, {short} beyond the range of this one.",
    "An as-left elsewhere in its window moves the use of limits that is told here.",
    (
        "{name} stands {standing} ({state}) before the weight is added: what is turned there is "
        "not felt by the pipe; another line state is better."
    ),
    "{names}: an anchor, no nozzle; no limit is held against it.",
    "{tag} does not carry ({state}) before any turn.",
    "Height above floor not known at {names}: access there is counted without it.",
    "its beam's other unit {name} is not turned",
    "not judged by the assessment",
    "in tag order",
    "in reverse tag order",
    "a state on the way has no answer: {trouble}",
    (
        "{count} states solved in full; largest difference from the prediction {share} of a "
        "limit; order sought again {again} times"
    ),
    "cannot judge (missing: {missing}). What is known: {words}",
    "units touched, weighed by access",
    "worst use of any limit",
    "turns in all",
    "lever method",
    "nozzle limits",
    "nozzle limits of {names}",
    "friction band",
    "load by one step",
    "a newer plan, assessment or reading",
    "Re-set plan",
    "Assessment",
    "revision {number}",
    "After plan",
    "Readings of",
    "Followed by",
    "stress engineer, prepared",
    "stress engineer, checked by another",
    "responsible engineer, accepted",
)

OF_TURNAROUNDS = (
    "{aim}: proved best",
    "{aim}: not proved best; at most {share} % could be saved",
    "end",
    "peak of fitters",
    "scaffolds standing",
)
