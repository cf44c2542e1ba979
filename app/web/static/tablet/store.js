// What the tablet keeps, in the browser's own database: copies taken along, entries, photos.
// Every write is on the disk before it counts as done.

const NAME = "walked", VERSION = 1;
let opened;

function database() {
  opened ??= new Promise((done, failed) => {
    const asked = indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("copies", { keyPath: "id" });
      asked.result.createObjectStore("entries", { keyPath: "id" }).createIndex("copy", "copy");
      asked.result.createObjectStore("photos", { keyPath: "id" }).createIndex("copy", "copy");
    };
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  return opened;
}

async function within(stores, mode, work) {
  const held = await database();
  return new Promise((done, failed) => {
    const transaction = held.transaction(stores, mode, { durability: "strict" });
    let answer;
    transaction.oncomplete = () => done(answer);
    transaction.onabort = transaction.onerror = () => failed(transaction.error);
    work(transaction, (value) => { answer = value; });
  });
}

function asked(request, use) {
  request.onsuccess = () => use(request.result);
}

export function all(store) {
  return within([store], "readonly", (at, answer) => asked(at.objectStore(store).getAll(), answer));
}

export function one(store, id) {
  return within([store], "readonly", (at, answer) => asked(at.objectStore(store).get(id), answer));
}

export function ofCopy(store, copy) {
  return within([store], "readonly", (at, answer) =>
    asked(at.objectStore(store).index("copy").getAll(copy), answer));
}

export function put(store, record) {
  return within([store], "readwrite", (at) => at.objectStore(store).put(record));
}

// Read, change and write back in one piece: two windows never overwrite each other.
export function change(store, id, fresh, turn) {
  return within([store], "readwrite", (at, answer) => {
    const kept = at.objectStore(store);
    asked(kept.get(id), (found) => {
      const next = turn(found ?? fresh);
      if (next) kept.put(next);
      answer(next ?? found);
    });
  });
}

export function forget(copy) {
  return within(["copies", "entries", "photos"], "readwrite", (at) => {
    at.objectStore("copies").delete(copy);
    for (const store of ["entries", "photos"]) {
      const kept = at.objectStore(store);
      asked(kept.index("copy").getAllKeys(copy), (keys) => keys.forEach((key) => kept.delete(key)));
    }
  });
}
