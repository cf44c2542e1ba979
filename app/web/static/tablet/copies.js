// Copies on this tablet: taken along while there is a signal, given back when all is sent.

import { byRow, isBlank, waits } from "./entries.js";
import { photosToSend } from "./photos.js";
import { copyFrom } from "./sending.js";
import { all, forget, put } from "./store.js";
import { element, moment, occasionWords, say } from "./words.js";

const ROADS = { walkdowns: "walkdown", "work-orders": "work order" };

// '#take/walkdowns/WD-2031-001' or '#take/work-orders/WO-2031-001/1'
export async function takeAlong(road) {
  const [noun, number, copy = ""] = road.map(decodeURIComponent);
  const address = `/tablet/copies/${noun}/${encodeURIComponent(number)}${copy ? `/${copy}` : ""}`;
  const taken = await copyFrom(address);
  const id = [ROADS[noun], taken.form, taken.copy, taken.person].join(" ");
  const before = (await all("copies")).find((one) => one.id === id);
  await put("copies", {
    ...taken, id, tablet: before?.tablet ?? crypto.randomUUID(), lineFacts: before?.lineFacts ?? {},
    photosFrom: before?.photosFrom ?? taken.photos_from, taken: Date.now(),
  });
  await navigator.storage?.persist?.();
  return id;
}

export async function counts(copy) {
  const entries = [...(await byRow(copy)).values()].filter((entry) => entry.noted);
  return {
    noted: entries.filter((entry) => !isBlank(entry)).length,
    unsent: entries.filter(waits).length + (await photosToSend(copy)).length,
    refused: entries.filter((entry) => waits(entry) && entry.refused).length,
    told: entries.filter((entry) => entry.refused || entry.words.length),
  };
}

// A row of a walk has a number, one of a work order its unit and when it was read.
function placeOf(entry) {
  const [unit, occasion] = entry.row.split("|");
  return occasion ? `${unit} · ${occasionWords(occasion)}` : entry.tag;
}

async function listed(copy, open) {
  const { noted, unsent, refused, told } = await counts(copy);
  return element("li", { class: "copy" },
    element("div", {},
      element("p", { class: "big" }, element("strong", {}, copy.number), ` ${copy.title}`),
      element("p", {}, `${say("copy of", { person: copy.person })} · ${say("taken along")} ${moment(copy.taken)}`),
      element("p", {}, say("noted of", { noted, all: copy.rows.length }), unsent ? element("strong", { class: "unsent" }, ` · ${say("not sent", { count: unsent })}`) : ""),
      told.length > 0 && element("ul", { class: "note" }, told.map((entry) =>
        element("li", {}, element("strong", {}, `${placeOf(entry)}: `), entry.refused || entry.words.join(" · "))))),
    element("div", { class: "acts" },
      element("button", { type: "button", class: "main", on: { click: () => open(copy) } }, say("open")),
      element("button", { type: "button", disabled: unsent > refused, on: { click: () => giveBack(copy) } }, say("remove"))));
}

// What waits to be sent is never thrown away; what was refused only once a person has read so.
async function giveBack(copy) {
  const { unsent, refused } = await counts(copy);
  const asked = refused ? "remove refused" : "remove really";
  if (unsent > refused || !window.confirm(say(asked, { number: copy.number, count: refused }))) return;
  await forget(copy.id);
  location.hash = "";
  location.reload();
}

export async function showCopies(open) {
  const held = (await all("copies")).sort((one, other) => other.taken - one.taken);
  const items = await Promise.all(held.map((copy) => listed(copy, open)));
  document.getElementById("copies").replaceChildren(...items);
  document.getElementById("no-copies").hidden = held.length > 0;
}
