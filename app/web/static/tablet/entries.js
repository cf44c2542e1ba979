// Entries: what was noted of one row, with a revision that grows with every change.

import { change, ofCopy } from "./store.js";

export function entryId(copy, row) {
  return `${copy}|${row}`;
}

function fresh(copy, row, key) {
  return {
    id: entryId(copy.id, key), copy: copy.id, row: key, tag: row.tag, line: row.line ?? "",
    seal: row.seal, revision: 0, sent: 0, noted: false, noted_at: 0, written: {}, words: [],
    refused: "",
  };
}

// Keep what stands in the boxes. A reading is of the moment at which it was last changed.
export function keep(copy, row, key, written, { noted = true, reading = true } = {}) {
  return change("entries", entryId(copy.id, key), fresh(copy, row, key), (entry) => {
    if (entry.locked) return undefined;
    const next = { ...entry, written, noted, revision: entry.revision + 1, refused: "" };
    if (reading || !entry.noted_at) next.noted_at = Date.now();
    return next;
  });
}

// Lock an entry: what was read at a unit before or after it was turned is not typed over.
export function lock(copy, row, key, written, noted = true) {
  return change("entries", entryId(copy.id, key), fresh(copy, row, key), (entry) =>
    entry.locked ? undefined : {
      ...entry, written, noted, locked: true, revision: entry.revision + 1,
      noted_at: Date.now(), refused: "",
    });
}

export async function byRow(copy) {
  const found = await ofCopy("entries", copy.id);
  return new Map(found.map((entry) => [entry.row, entry]));
}

export function isBlank(entry) {
  return !entry || Object.values(entry.written).every((text) => !String(text).trim());
}

export function waits(entry) {
  return entry.noted && entry.revision > entry.sent && !(isBlank(entry) && !entry.sent);
}

// What was answered goes to the revision that was sent; what was typed since waits for the next time.
export function answered(entry, answer) {
  return change("entries", entry.id, entry, (now) => {
    const refused = answer.became === "refused";
    return {
      ...now,
      sent: refused ? now.sent : Math.max(now.sent, answer.revision),
      words: refused ? now.words : answer.words,
      refused: refused ? answer.words.join(" ") : "",
    };
  });
}
