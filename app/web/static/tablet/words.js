// Words in the language of the page: they stand in it, hidden, each under its English name.

function found(shelf, name) {
  const list = document.getElementById(shelf).content;
  return list.querySelector(`[data-word="${CSS.escape(name)}"]`)?.textContent ?? name;
}

export function say(name, values = {}) {
  return found("words", name).replace(/\{(\w+)\}/g, (whole, key) => (key in values ? values[key] : whole));
}

// A word that the register holds, in the language of the page; a stranger's stays as it is.
export function word(value) {
  return found("register-words", value);
}

// When at a unit something was read, in the language of the page: an occasion, or a round by number.
export function occasionWords(occasion) {
  return occasion.startsWith("round") ? say("round {number}", { number: occasion.split(" ").at(-1) }) : say(occasion);
}

// A moment of the tablet's own clock, written as everywhere: never a day that could be a month.
export function moment(milliseconds) {
  const at = new Date(milliseconds), two = (number) => String(number).padStart(2, "0");
  const day = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join("-");
  return `${day} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

export function element(name, attributes = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key === "on") for (const [event, act] of Object.entries(value)) made.addEventListener(event, act);
    else if (value === true) made.setAttribute(key, "");
    else if (value !== false && value != null) made.setAttribute(key, value);
  }
  made.append(...inside.flat().filter((one) => one != null && one !== false && one !== ""));
  return made;
}
