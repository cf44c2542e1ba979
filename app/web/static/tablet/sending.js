// Sending: what was not sent goes in small lots; an answer that is lost is asked for again.

import { answered, byRow, waits } from "./entries.js";
import { photoSent, photosToSend } from "./photos.js";
import { say } from "./words.js";

const LOT = 40;
const ROADS = { walkdown: "/tablet/send/walkdowns", "work order": "/tablet/send/work-orders" };

export class NotSent extends Error {}

async function asked(address, settings) {
  let answer;
  try {
    answer = await fetch(address, { ...settings, redirect: "manual", cache: "no-store" });
  } catch {
    throw new NotSent(say("no signal"));
  }
  if (answer.status === 401 || answer.type === "opaqueredirect") {
    const error = new NotSent(say("sign in again"));
    error.signIn = true;
    throw error;
  }
  const said = await answer.json().catch(() => ({}));
  if (!answer.ok) throw new NotSent(said.error ?? `${say("not taken")} (${answer.status})`);
  return said;
}

export function who() {
  return asked("/tablet/who", {});
}

export function copyFrom(address) {
  return asked(address, {});
}

function rowOf({ row, tag, line, seal, revision, noted_at: noted, written }) {
  const said = Object.fromEntries(Object.entries(written).map(([name, text]) => [name, String(text)]));
  return { row, tag, line, seal, revision, noted_at: noted, written: said };
}

async function sendRows(copy, visitor) {
  const waiting = [...(await byRow(copy)).values()].filter(waits).sort((one, other) => one.noted_at - other.noted_at);
  for (let start = 0; start < waiting.length; start += LOT) {
    const lot = waiting.slice(start, start + LOT);
    const answer = await asked(ROADS[copy.kind], {
      method: "POST",
      headers: { "content-type": "application/json", "x-form-key": visitor.form_key },
      body: JSON.stringify({
        number: copy.number, form: copy.form, tablet: copy.tablet, person: copy.person,
        clock: Date.now(), rows: lot.map(rowOf),
      }),
    });
    const byName = new Map(answer.rows.map((one) => [`${one.row}@${one.revision}`, one]));
    for (const entry of lot) {
      const one = byName.get(`${entry.row}@${entry.revision}`);
      if (one) await answered(entry, one);
    }
  }
}

async function sendPhotos(copy, visitor) {
  for (const photo of await photosToSend(copy)) {
    const body = new FormData();
    for (const name of ["row", "tag", "line", "seal", "number", "subject"]) body.append(name, photo[name]);
    body.append("campaign", copy.number);
    body.append("form", copy.form);
    body.append("person", copy.person);
    body.append("picture", photo.picture, `${photo.number}.jpg`);
    await asked("/tablet/photos", { method: "POST", headers: { "x-form-key": visitor.form_key }, body });
    await photoSent(photo);
  }
}

// One person's entries never go under another's name: the copy's person signs in and sends.
export async function send(copy) {
  const visitor = await who();
  if (visitor.person !== copy.person) {
    throw new NotSent(say("of another person", { person: copy.person, other: visitor.person }));
  }
  await sendRows(copy, visitor);
  await sendPhotos(copy, visitor);
}
