// The card of one unit on a work order: one gate after the other, turns only behind the first.

import { byRow, entryId, keep, lock } from "./entries.js";
import { FOUND, HOLD, LEFT, STOPPED, key, roundKey, standing } from "./gate.js";
import { draw } from "./gauge.js";
import { number, span } from "./numbers.js";
import { one } from "./store.js";
import { element, moment, occasionWords, say, word } from "./words.js";

const at = (id) => document.getElementById(id);

function told(row) {
  const facts = [["place", row.place], ["kind", word(row.kind)], ["serial", row.serial],
    ["travel stop in", row.stop_numbers], ["together with", row.partners.join(", ")]];
  const windows = [["before", row.present], ["as found", toldWindow(row.found_window, row)], ["as left", toldWindow(row.left_window, row)]];
  return [
    element("dl", { class: "facts" }, facts.filter(([, text]) => text).map(([name, text]) =>
      element("div", {}, element("dt", {}, say(name)), element("dd", {}, text)))),
    element("div", { class: "wanted" }, windows.filter(([, text]) => text).map(([name, text]) =>
      element("p", { class: "big" }, `${say(name)} `, element("strong", {}, text)))),
    row.notes.length > 0 && element("ul", { class: "note" }, row.notes.map((text) => element("li", {}, text))),
  ].filter(Boolean);
}

function toldWindow(ends, row) {
  return ends ? span(ends, row.load_unit) : "";
}

function noted(row, entries) {
  const [first, ...others] = (row.job?.rounds ?? []).map((round) => `round no. ${round.number}`);
  const steps = [FOUND, first, HOLD, ...others, LEFT, STOPPED];
  return steps.map((step) => entries.get(key(row, step))).filter((entry) => entry?.locked).map((entry) => {
    const occasion = entry.row.split("|").at(-1);
    if (occasion === HOLD) return element("li", {}, say("hold released", { person: entry.written.released_by }));
    const pointer = entry.written.pointer ? `, ${entry.written.pointer} ${entry.written.pointer_unit}` : "";
    return element("li", {}, `${occasionWords(occasion)}: `, element("strong", {}, `${entry.written.load} ${entry.written.load_unit}${pointer}`),
      ` · ${moment(entry.noted_at)}`);
  });
}

function turning(row, round) {
  const { job } = row;
  return element("div", { class: "turn" },
    row.waits_for && element("p", { class: "note" }, `${say("waits for")} ${row.waits_for}`),
    element("p", { class: "huge" }, round.turns),
    element("p", { class: "big" }, element("strong", {}, job.plate_words), ` · ${say(job.way)}`),
    element("p", {}, `${word(job.part)}, ${job.where}. ${say("turns are per bolt", { bolts: job.bolts })}`),
    job.take_up && element("p", {}, job.take_up),
    element("p", { class: "note" }, job.locked),
    row.partners.length > 0 && element("p", { class: "note" }, `${say("together with")} ${row.partners.join(", ")}`),
    element("p", {}, `${say("expected")} ${round.expected} · ${say("stop outside")} ${toldWindow(round.window, row)}`),
    round.then && element("p", {}, round.then),
    round.number === 1 && row.near_nozzle && element("p", { class: "note" }, say("a hold comes")));
}

function stopSign(reached) {
  return element("div", { class: "stop", role: "alert" },
    element("p", { class: "huge" }, say("STOP")),
    element("p", { class: "big" }, say(reached.stop)),
    element("p", { class: "big" }, say("call the engineer")),
    reached.reasons.length > 0 && element("ul", {}, reached.reasons.map((text) => element("li", {}, word(text)))));
}

function headline(reached) {
  if (reached.stage === "round") return say("round {number}", { number: reached.round.number });
  return say(`note ${reached.stage}`);
}

const SHOWN = {
  [FOUND]: ["load", "pointer", "plant_state", "remarks"],
  round: ["load", "pointer"],
  [HOLD]: ["released_by"],
  [LEFT]: ["load", "pointer", "plant_state", "second_reader", "turns", "flats", "remarks"],
  [STOPPED]: ["load", "pointer", "plant_state", "second_reader", "turns", "flats", "remarks"],
};
const NEEDED = { [FOUND]: [], round: [], [HOLD]: ["released_by"], [LEFT]: ["second_reader"], [STOPPED]: ["second_reader", "remarks"] };

function gather(row) {
  const values = { load_unit: row.load_unit, pointer_unit: row.pointer_unit };
  for (const box of at("order-form").elements) {
    if (box.name && !box.closest("[hidden]")) values[box.name] = box.value.trim();
  }
  return values;
}

function faults(stage, values) {
  const load = number(values.load);
  if (stage === HOLD) return values.released_by ? "" : say("needed released_by");
  if (load === null) return say("a load is read");
  if (Number.isNaN(load) || Number.isNaN(number(values.pointer))) return say("not a number");
  const missing = NEEDED[stage].find((name) => !values[name]);
  return missing ? say(`needed ${missing}`) : "";
}

async function showForm(copy, row, stage, name) {
  const form = at("order-form");
  const draft = (await one("entries", entryId(copy.id, `${name}|draft`)))?.written ?? {};
  for (const field of form.querySelectorAll("[data-field]")) field.hidden = !SHOWN[stage].includes(field.dataset.field);
  for (const box of form.elements) if (box.name) box.value = draft[box.name] ?? (box.name === "plant_state" ? copy.state_wanted : "");
  for (const unit of form.querySelectorAll("[data-unit]")) unit.textContent = row[unit.dataset.unit];
  at("order-fault").textContent = "";
}

// Who let the work go on is told with the reading as left.
function withHold(stage, values, hold) {
  if (![LEFT, STOPPED].includes(stage) || !hold?.locked) return values;
  const words = say("hold released", { person: hold.written.released_by });
  return { ...values, remarks: [values.remarks, words].filter(Boolean).join("; ") };
}

// Ask once more, with the number large: what is noted here is not typed over afterwards.
function confirmed(values, row) {
  const sheet = at("confirm");
  at("confirm-words").textContent = `${values.load} ${row.load_unit}`;
  sheet.returnValue = "";
  sheet.showModal();
  return new Promise((done) => sheet.addEventListener("close", () => done(sheet.returnValue === "yes"), { once: true }));
}

export async function showOrderCard(copy, row, changed, stopping = false) {
  at("order").inert = true;
  await showStage(copy, row, changed, stopping);
  at("order").inert = false;
}

async function showStage(copy, row, changed, stopping) {
  const entries = await byRow(copy);
  const reached = standing(copy, row, entries);
  const stage = stopping ? STOPPED : reached.stage;
  const name = stage === "round" ? roundKey(row, reached.round) : key(row, stage ?? "");
  const again = () => showOrderCard(copy, row, changed).then(changed);
  at("order-told").replaceChildren(...told(row), ...(row.gauge ? [draw(row.gauge)] : []));
  at("order-noted").replaceChildren(...noted(row, entries));
  const form = at("order-form");
  form.hidden = Boolean(reached.stop) || stage === "done";
  at("stop-here").hidden = stopping || row.action !== "re-set" || !["round", HOLD, LEFT].includes(reached.stage);
  const words = reached.stop ? stopSign(reached)
    : stage === "done" ? element("p", { class: "big done" }, say("done here"))
      : element("h2", {}, stopping ? say("note stopped") : headline(reached));
  at("order-stage").replaceChildren(words, ...(stage === "round" ? [turning(row, reached.round)] : []));
  if (form.hidden) return;
  await showForm(copy, row, stage, name);
  form.oninput = async () => {
    await keep(copy, row, `${name}|draft`, gather(row), { noted: false });
    changed();
  };
  form.onsubmit = async (event) => {
    event.preventDefault();
    const values = gather(row);
    at("order-fault").textContent = faults(stage, values);
    if (at("order-fault").textContent || !(stage === HOLD || (await confirmed(values, row)))) return;
    await lock(copy, row, name, withHold(stage, values, entries.get(key(row, HOLD))), stage !== HOLD);
    await again();
    at("order-stage").focus();
  };
  at("stop-here").onclick = () => showOrderCard(copy, row, changed, true);
}
