// Numbers as people type them, and windows as the register issued them.

const SLACK = 1e-9;

// A blank is not a nought: null. What cannot be read is not a number: NaN.
export function number(text) {
  const plain = String(text ?? "").trim().replace("−", "-");
  if (!plain) return null;
  return /^[-+]?(\d+(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : NaN;
}

// A comma could mean two things: the box shows at once how it is understood, as a point.
export function showPoint({ target }) {
  if (target.inputMode !== "decimal" || !target.value.includes(",")) return;
  const place = target.selectionStart;
  target.value = target.value.replaceAll(",", ".");
  target.setSelectionRange(place, place);
}

// Exactly at an end is inside, as the register has it.
export function inside(value, [low, high]) {
  const slack = SLACK * Math.abs(high);
  return low - slack <= value && value <= high + slack;
}

export function written(value, digits = 2) {
  const plain = value.toLocaleString("en", { maximumFractionDigits: Math.abs(value) < 1000 ? digits : 0 });
  return plain.replace("-", "−").replaceAll(",", "\u202f");
}

// A window as it is told: rounded inwards, so that nobody reads it wider than it is judged.
export function span([low, high], unit) {
  const digits = Math.max(Math.abs(low), Math.abs(high)) < 1000 ? 2 : 0;
  const step = 10 ** digits;
  const ends = [Math.ceil(low * step - 1e-6) / step, Math.floor(high * step + 1e-6) / step];
  return `${ends.map((end) => written(end, digits)).join(" – ")} ${unit}`;
}
