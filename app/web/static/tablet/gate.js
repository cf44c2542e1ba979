// What may be done next at a unit that is re-set, judged by the windows that the register issued.
// Turns are told only behind an as-found reading inside its window; anything else calls the engineer.

import { inside, number } from "./numbers.js";

export const FOUND = "as found", LEFT = "as left", STOPPED = "stopped part-way";

export const HOLD = "hold after round 1";

export function key(row, occasion) {
  return `${row.tag}|${occasion}`;
}

export function roundKey(row, round) {
  return key(row, `round no. ${round.number}`);
}

function load(entry) {
  return number(entry.written.load);
}

function locked(entries, name) {
  const entry = entries.get(name);
  return entry?.locked ? entry : undefined;
}

function stop(why, ...reasons) {
  return { stop: why, reasons };
}

// As found: inside its window and in the state of the order, or work does not begin.
function found(copy, row, entries) {
  const entry = locked(entries, key(row, FOUND));
  if (!entry) return row.may === "turn" ? {} : { stage: FOUND };
  if (row.action !== "re-set") return { stage: "done" };
  const state = entry.written.plant_state;
  if (state && state !== "unknown" && state !== copy.state_wanted) {
    return stop("the line is not in the state of the order", copy.state_wanted);
  }
  if (!row.found_window || !inside(load(entry), row.found_window)) {
    return stop("as found outside its window");
  }
  return {};
}

function rounds(row, entries) {
  for (const round of row.job?.rounds ?? []) {
    const entry = locked(entries, roundKey(row, round));
    if (!entry && round.number in row.rounds_read) continue;
    if (!entry) return { stage: "round", round };
    if (round.window && !inside(load(entry), round.window)) return stop("the step was not as expected");
    if (round.number === 1 && row.near_nozzle && !locked(entries, key(row, HOLD))) return { stage: HOLD };
  }
  return {};
}

function left(row, entries) {
  const entry = locked(entries, key(row, LEFT));
  if (!entry) return { stage: LEFT };
  if (row.left_window && !inside(load(entry), row.left_window)) return stop("as left outside its window");
  return { stage: "done" };
}

// Return the stage reached: what is to be noted next, or why work stops here.
export function standing(copy, row, entries) {
  if (row.may === "done") return { stage: "done" };
  if (row.action === "re-set") {
    if (row.refused) return stop("not to be turned", ...row.reasons);
    if (row.may === "stop") return stop("the unit stands still", row.stands_at);
    if (locked(entries, key(row, STOPPED))) return stop("stopped part-way");
  }
  for (const next of [() => found(copy, row, entries), () => rounds(row, entries), () => left(row, entries)]) {
    const reached = next();
    if (reached.stage || reached.stop) return reached;
  }
  return { stage: "done" };
}
