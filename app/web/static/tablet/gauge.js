// A scale drawn large: ends, window, marks, and where the reading stands that is being typed.

import { written } from "./numbers.js";
import { say } from "./words.js";

const SPACE = "http://www.w3.org/2000/svg";
const WIDTH = 640, HEIGHT = 178, SIDE = 46, AXIS = 92, LEVEL = 28;

function svg(name, attributes, text) {
  const made = document.createElementNS(SPACE, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  return made;
}

function axisOf(gauge) {
  const reach = gauge.high - gauge.low || 1;
  return (value) => {
    const share = Math.min(1.03, Math.max(-0.03, (value - gauge.low) / reach));
    return SIDE + share * (WIDTH - 2 * SIDE);
  };
}

// Signs differ by shape: a full wedge for what is wanted, hollow ones for what was, bars for the plate.
const WANTED = ["expected", "required"], WAS = ["last cold", "last hot", "present"];

function mark(name, x, value, level) {
  const group = svg("g", { class: `mark ${WANTED.includes(name) ? "wanted" : WAS.includes(name) ? "was" : "plate"}` });
  const above = WANTED.includes(name) || WAS.includes(name);
  if (above) group.append(svg("path", { d: `M${x - 9} ${AXIS - 24}h18l-9 20z` }));
  else group.append(svg("path", { d: `M${x} ${AXIS - 6}v22`, class: "bar" }));
  const y = above ? AXIS - 32 - LEVEL * level : AXIS + 36 + LEVEL * level;
  const anchor = x < 110 ? "start" : x > WIDTH - 110 ? "end" : "middle";
  const at = anchor === "start" ? Math.max(4, x - 12) : anchor === "end" ? Math.min(WIDTH - 4, x + 12) : x;
  group.append(svg("text", { x: at, y, "text-anchor": anchor }, `${say(name)} ${written(value)}`));
  return group;
}

// Labels that would run into each other go to the next level.
function levels(marks, axis) {
  const ends = { above: [], below: [] };
  return marks.map(([name, value]) => {
    const side = WANTED.includes(name) || WAS.includes(name) ? "above" : "below";
    const half = 6.5 * (say(name).length + 7);
    const x = Math.min(WIDTH - half, Math.max(half, axis(value)));
    let level = ends[side].findIndex((end) => x - half > end);
    if (level < 0) level = ends[side].length;
    ends[side][level] = x + half;
    return level;
  });
}

export function draw(gauge, reading) {
  const axis = axisOf(gauge);
  const marks = Object.entries(gauge.marks).sort((one, other) => one[1] - other[1]);
  const high = levels(marks, axis);
  const top = LEVEL * Math.max(0, ...marks.map(([name], at) => (WANTED.includes(name) || WAS.includes(name) ? high[at] : 0)));
  const foot = LEVEL * Math.max(0, ...marks.map(([name], at) => (WANTED.includes(name) || WAS.includes(name) ? 0 : high[at])));
  const told = marks.map(([name, value]) => `${say(name)} ${written(value)} ${gauge.unit}`).join(", ");
  const drawn = svg("svg", { viewBox: `0 ${-top} ${WIDTH} ${HEIGHT + top + foot}`, class: "gauge", role: "img", "aria-label": told });
  if (gauge.window) {
    const [left, right] = gauge.window.map(axis);
    drawn.append(svg("rect", { x: left, y: AXIS - 12, width: Math.max(3, right - left), height: 24, class: "window" }));
  }
  drawn.append(svg("path", { d: `M${SIDE} ${AXIS}H${WIDTH - SIDE}`, class: "axis" }));
  for (let tick = 0; tick <= 20; tick += 1) {
    const x = SIDE + ((WIDTH - 2 * SIDE) * tick) / 20;
    drawn.append(svg("path", { d: `M${x} ${AXIS - 5}v${tick % 5 ? 10 : 18}`, class: "tick" }));
  }
  marks.forEach(([name, value], at) => drawn.append(mark(name, axis(value), value, high[at])));
  const ends = `${written(gauge.low)} – ${written(gauge.high)} ${gauge.unit}`;
  const from = gauge.zero_at ? ` · ${say(`zero at the ${gauge.zero_at}`)}` : "";
  drawn.append(svg("text", { x: WIDTH / 2, y: HEIGHT + foot - 8, "text-anchor": "middle", class: "foot" }, ends + from));
  if (Number.isFinite(reading)) {
    const x = axis(reading);
    drawn.append(svg("path", { d: `M${x} ${AXIS - 22}V${AXIS + 22}`, class: "read" }));
    drawn.append(svg("circle", { cx: x, cy: AXIS, r: 9, class: "read" }));
  }
  return drawn;
}
