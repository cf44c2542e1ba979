// The tablet form: from the list of copies to a card, and back; all of it works without a signal.

import { counts, showCopies, takeAlong } from "./copies.js";
import { byRow, isBlank, waits } from "./entries.js";
import { showPoint } from "./numbers.js";
import { showOrderCard } from "./order_card.js";
import { send } from "./sending.js";
import { one } from "./store.js";
import { showWalkCard } from "./walk_card.js";
import { element, say, word } from "./words.js";

const at = (id) => document.getElementById(id);
let copy, place = 0;

function tell(text, { signIn = false, bad = false } = {}) {
  const link = signIn ? [element("a", { class: "button main", href: "/sign-in?then=/tablet" }, say("sign in"))] : [];
  at("told").replaceChildren(element("p", { class: bad ? "note" : "" }, text), ...link);
}

function showSignal() {
  at("signal").textContent = say(navigator.onLine ? "signal" : "no signal");
}

async function showCounts() {
  if (!copy) return;
  const { unsent } = await counts(copy);
  at("unsent").textContent = unsent ? say("not sent", { count: unsent }) : say("all sent");
  const entries = await byRow(copy), row = copy.rows[place], entry = entries.get(row.row);
  at("jump").options[place].textContent = jumpWords(row, place, entries);
  const words = entry && (entry.refused ? [entry.refused] : entry.words);
  at("answers").replaceChildren(...(words ?? []).map((text) => element("li", {}, text)));
  at("kept").textContent = entry && !isBlank(entry) ? say(waits(entry) ? "kept on this tablet" : "sent") : "";
}

// A card that is being changed takes no input: nothing typed ever goes to another row.
async function showCard() {
  const row = copy.rows[place];
  at("card").inert = true;
  document.title = `${row.tag} · ${copy.number}`;
  at("card-tag").textContent = row.tag;
  at("card-place").textContent = say("card of", { card: place + 1, all: copy.rows.length });
  at("jump").value = String(place);
  at("before").disabled = place === 0;
  at("after").disabled = place === copy.rows.length - 1;
  at("walk").hidden = copy.kind !== "walkdown";
  at("order").hidden = copy.kind !== "work order";
  await (copy.kind === "walkdown" ? showWalkCard : showOrderCard)(copy, row, showCounts);
  await showCounts();
  at("card").inert = false;
}

function jumpWords(row, number, entries) {
  const noted = [...entries.values()].some((entry) => entry.noted && entry.tag === row.tag && !isBlank(entry));
  return `${noted ? "✓" : "·"} ${number + 1}. ${row.tag}`;
}

async function jumps() {
  const entries = await byRow(copy);
  at("jump").replaceChildren(...copy.rows.map((row, number) =>
    element("option", { value: number }, jumpWords(row, number, entries))));
}

function go(id, number) {
  location.hash = `copy/${encodeURIComponent(id)}/${number}`;
}

async function open(id, number) {
  copy = await one("copies", id);
  if (!copy) return list();
  place = Math.min(Math.max(0, number), copy.rows.length - 1);
  at("list").hidden = true;
  at("to-list").hidden = false;
  at("card").hidden = false;
  at("copy-name").textContent = `${copy.number} · ${say("copy of", { person: copy.person })}`;
  at("state-wanted").textContent = `${say("state wanted")}: ${word(copy.state_wanted)}`;
  await jumps();
  await showCard();
  at("card-tag").focus();
  return undefined;
}

async function list() {
  copy = undefined;
  document.title = say("tablet");
  at("card").hidden = true;
  at("list").hidden = false;
  at("to-list").hidden = true;
  at("copy-name").textContent = "";
  await showCopies((held) => go(held.id, 0));
}

async function sendNow() {
  const held = copy;
  at("send").disabled = true;
  tell(say("sending"));
  try {
    await send(held);
    tell(say("was sent"));
  } catch (error) {
    tell(error.message, { signIn: error.signIn, bad: true });
  }
  at("send").disabled = false;
  if (copy === held) await showCounts();
}

async function route() {
  tell("");
  const [what, ...rest] = location.hash.slice(1).split("/");
  if (what === "take") {
    try {
      go(await takeAlong(rest), 0);
    } catch (error) {
      tell(error.message, { signIn: error.signIn, bad: true });
      await list();
    }
  } else if (what === "copy") await open(decodeURIComponent(rest[0]), Number(rest[1]));
  else await list();
}

function bind() {
  at("before").onclick = () => go(copy.id, place - 1);
  at("card").addEventListener("input", () => { at("kept").textContent = ""; });
  at("after").onclick = () => go(copy.id, place + 1);
  at("jump").onchange = (event) => go(copy.id, Number(event.target.value));
  at("send").onclick = sendNow;
  at("fetch").onsubmit = (event) => {
    event.preventDefault();
    const { order, copy: number } = event.target.elements;
    location.hash = `take/work-orders/${encodeURIComponent(order.value.trim())}/${encodeURIComponent(number.value.trim())}`;
  };
  at("to-list").onclick = () => { location.hash = ""; };
  document.addEventListener("input", showPoint, { capture: true });
  window.addEventListener("hashchange", route);
  for (const event of ["online", "offline"]) window.addEventListener(event, showSignal);
}

async function begin() {
  bind();
  showSignal();
  if (!window.isSecureContext) {
    tell(say("not secure"), { bad: true });
    return;
  }
  await navigator.serviceWorker.register("/tablet/worker.js", { scope: "/tablet" });
  await navigator.serviceWorker.ready;
  document.documentElement.dataset.ready = "yes";
  await route();
}

begin();
