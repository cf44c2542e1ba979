// Keeps the page of the tablet form and its files at hand, so that it opens without a signal.
// FILES and SHELF are written above by the desk; they change with any of the files.

const SHELL = "/tablet", PATIENCE = 2500;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(SHELF)
    .then((shelf) => shelf.addAll([SHELL, ...FILES].map((one) => new Request(one, { cache: "reload" }))))
    .then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter((name) => name !== SHELF).map((name) => caches.delete(name))))
    .then(() => self.clients.claim()));
});

function late() {
  return new Promise((_, failed) => { setTimeout(() => failed(new Error("late")), PATIENCE); });
}

// The page itself: fresh if the desk answers soon, else as it was kept.
async function page() {
  const shelf = await caches.open(SHELF);
  try {
    const answer = await Promise.race([fetch(SHELL, { cache: "no-store" }), late()]);
    if (!answer.ok) throw new Error("not well");
    // A page of a newer shelf waits for its own worker, which brings its files along.
    if (answer.headers.get("x-shelf") === SHELF) await shelf.put(SHELL, answer.clone());
    return answer;
  } catch {
    return (await shelf.match(SHELL)) ?? Response.error();
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { pathname, origin } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  if (pathname === SHELL) event.respondWith(page());
  else if (FILES.includes(pathname)) event.respondWith(caches.match(pathname).then((kept) => kept ?? fetch(request)));
});
