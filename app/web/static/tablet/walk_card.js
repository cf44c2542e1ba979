// The card of one support on a walk: what is expected there, and boxes for what is seen.

import { byRow, isBlank, keep } from "./entries.js";
import { draw } from "./gauge.js";
import { number } from "./numbers.js";
import { addPhoto, photosOf } from "./photos.js";
import { change } from "./store.js";
import { element, say, word } from "./words.js";

const LINE_BOXES = ["plant_state", "pipe_temperature", "temperature_unit"];
const READ = new Set(["seen", "pointer", "load", "stop", "rod_angle", "gap", "divisions", "pointer_unit", "load_unit", "read_from"]);
const NUMBERS = ["pointer", "load", "rod_angle", "gap", "divisions", "pipe_temperature"];

const form = () => document.getElementById("walk-form");

function boxes() {
  return [...form().elements].filter((box) => box.name);
}

function lineFacts(copy, row) {
  return { plant_state: copy.state_wanted, temperature_unit: "°C", ...copy.lineFacts?.[row.line] };
}

function fill(values) {
  form().reset();
  for (const box of boxes()) {
    const value = values[box.name] ?? "";
    if (box.type === "radio") box.checked = box.value === value;
    else if (box.type !== "file") box.value = value;
  }
}

function typed(names) {
  const values = {};
  for (const box of boxes()) {
    if (!names(box.name) || box.type === "file") continue;
    if (box.type !== "radio") values[box.name] = box.value.trim();
    else if (box.checked) values[box.name] = box.value;
  }
  return values;
}

function facts(row) {
  const told = [
    ["place", row.place], ["kind", word(row.kind)], ["serial", row.serial], ["class", row.class],
    ["moves", row.way], ["hangs on", row.stack.join(" · ")], ["travel stop in", row.stops_in.join(", ")],
  ];
  return element("dl", { class: "facts" }, told.filter(([, text]) => text).map(([name, text]) =>
    element("div", {}, element("dt", {}, say(name)), element("dd", {}, text))));
}

function wanted(row) {
  const rows = [["pointer", row.expected.pointer], ["load", row.expected.load]].filter(([, text]) => text);
  const last = [["last cold", row.last.cold], ["last hot", row.last.hot]];
  return element("div", { class: "wanted" },
    rows.map(([name, text]) => element("p", { class: "big" }, `${say("expected")} ${say(name)} `, element("strong", {}, text))),
    row.is_spring && element("p", {}, last.map(([name, text]) => `${say(name)}: ${text}`).join(" · ")),
    row.changed && element("p", { class: "note" }, row.changed),
    row.findings.length > 0 && element("ul", { class: "note" }, row.findings.map((text) => element("li", {}, text))));
}

function reading(gauge, name) {
  const values = typed(() => true);
  const value = number(values[name]);
  if (value === null || Number.isNaN(value)) return undefined;
  if (values[`${name}_unit`] && values[`${name}_unit`] !== gauge.unit) return undefined;
  const turned = name === "pointer" && gauge.zero_at && values.read_from && values.read_from !== gauge.zero_at;
  return turned ? gauge.high - value : value;
}

function drawGauges(row) {
  document.getElementById("walk-gauges").replaceChildren(...Object.entries(row.gauges).map(([name, gauge]) =>
    element("figure", {}, element("figcaption", {}, say(name)), draw(gauge, reading(gauge, name)))));
}

function showDoubts(row) {
  for (const name of NUMBERS) {
    const box = form().elements[name];
    const unread = Number.isNaN(number(box.value));
    box.setAttribute("aria-invalid", String(unread));
  }
  const aside = Object.entries(row.gauges).filter(([name, gauge]) => {
    const value = reading(gauge, name);
    return gauge.window && value !== undefined && (value < gauge.window[0] || value > gauge.window[1]);
  });
  const unread = NUMBERS.some((name) => Number.isNaN(number(form().elements[name].value)));
  const unsafe = form().elements.grade.value === "unsafe now";
  const told = [
    unsafe && element("p", { class: "stop" }, say("unsafe now")),
    unread && element("p", { class: "note" }, say("not a number")),
    aside.length > 0 && element("p", { class: "note" }, say("not as expected")),
  ].filter(Boolean);
  document.getElementById("walk-doubts").replaceChildren(...told);
  form().querySelector("#f-divisions-field").hidden = form().elements.pointer_unit.value !== "divisions";
  form().querySelector("#f-why-field").hidden = form().elements.seen.value !== "no";
}

async function showPhotos(copy, row) {
  const held = await photosOf(copy, row.row);
  document.getElementById("walk-pictures").replaceChildren(...held.map((photo) =>
    element("li", {}, `${photo.number} · ${word(photo.subject)}${photo.sent ? ` · ${say("sent")}` : ""}`)));
}

// What a whole line shares goes with every row noted on it, as on paper.
async function keepLineFacts(copy, row) {
  const facts = typed((name) => LINE_BOXES.includes(name));
  const next = await change("copies", copy.id, copy, (held) => ({ ...held, lineFacts: { ...held.lineFacts, [row.line]: facts } }));
  copy.lineFacts = next.lineFacts;
  const noted = await byRow(copy);
  for (const other of copy.rows.filter((one) => one.line === row.line)) {
    const entry = noted.get(other.row);
    if (!isBlank(entry)) await keep(copy, other, other.row, { ...entry.written, ...facts }, { reading: false });
  }
}

async function keepRow(copy, row, reading) {
  const own = typed((name) => !LINE_BOXES.includes(name));
  const said = Object.values(own).some((text) => text) ? { ...own, ...typed((name) => LINE_BOXES.includes(name)) } : {};
  await keep(copy, row, row.row, said, { reading });
}

// Show a card; `changed` is told after each write.
export async function showWalkCard(copy, row, changed) {
  const entry = (await byRow(copy)).get(row.row);
  const line = copy.lines.find((one) => one.number === row.line);
  document.getElementById("walk-told").replaceChildren(facts(row), wanted(row));
  document.getElementById("walk-line").textContent = [row.line, line?.service, line?.temperature].filter(Boolean).join(" · ");
  const sketch = document.getElementById("walk-sketch");
  sketch.hidden = !line?.sketch;
  if (line?.sketch) {
    sketch.querySelector("img").src = URL.createObjectURL(new Blob([line.sketch], { type: "image/svg+xml" }));
    sketch.querySelector("img").alt = line.told;
  }
  fill({ ...row.known, ...lineFacts(copy, row), ...(isBlank(entry) ? {} : entry.written) });
  const refresh = () => { drawGauges(row); showDoubts(row); };
  form().oninput = async (event) => {
    if (event.target.type === "file") return;
    refresh();
    await (LINE_BOXES.includes(event.target.name) ? keepLineFacts(copy, row) : keepRow(copy, row, READ.has(event.target.name)));
    changed();
  };
  form().elements.picture.onchange = async (event) => {
    const names = await addPhoto(copy, row, event.target.files[0], form().elements.subject.value);
    if (names) form().elements.photos.value = names;
    event.target.value = "";
    await keepRow(copy, row, false);
    await showPhotos(copy, row);
    changed();
  };
  refresh();
  await showPhotos(copy, row);
}
