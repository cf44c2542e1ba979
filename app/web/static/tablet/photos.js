// Photos stay on the tablet until they are sent; each has a number that no other tablet gives.

import { all, change, ofCopy, put } from "./store.js";

const SUBJECTS = ["plate", "scale", "pointer", "assembly", "other"];

export async function photosOf(copy, row) {
  const held = await ofCopy("photos", copy.id);
  return held.filter((photo) => photo.row === row).sort((one, other) => one.number - other.number);
}

export async function photosToSend(copy) {
  return (await ofCopy("photos", copy.id)).filter((photo) => !photo.sent);
}

// Keep a picture; return the numbers of the row's photos as they are written on the form.
export async function addPhoto(copy, row, file, subject) {
  if (!file) return "";
  const held = await ofCopy("photos", copy.id);
  const number = copy.photosFrom + held.length + 1;
  const mine = held.filter((photo) => photo.row === row.row);
  await put("photos", {
    id: `${copy.id}|${number}`, copy: copy.id, row: row.row, tag: row.tag, line: row.line, seal: row.seal,
    number, subject: subject || SUBJECTS[Math.min(mine.length, SUBJECTS.length - 1)], picture: file, sent: false,
    taken_at: Date.now(),
  });
  return [...mine.map((photo) => photo.number), number].join(", ");
}

export function photoSent(photo) {
  return change("photos", photo.id, photo, (held) => ({ ...held, sent: true }));
}

export async function photosUnsent() {
  return (await all("photos")).filter((photo) => !photo.sent).length;
}
