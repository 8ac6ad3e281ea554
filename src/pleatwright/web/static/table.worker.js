/* Keeps the table's own page at hand while the workshop's machine cannot be reached.  It holds nothing else:
   no list, no measurement, no picture of another page. */
const HELD = "pleatwright-table-1";
const LOOK = /^\/static\/(table(\.\w+)?\.(js|css)|mark\.svg)$/;
const PAGE = /^\/orders\/\d+\/table$/;
const ours = (path) => LOOK.test(path) || PAGE.test(path);

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("message", (event) => {
  const paths = [...new Set(event.data)].filter(ours);
  event.waitUntil(Promise.all(paths.map((path) => freshOrHeld(new Request(path), PAGE.test(path)).catch(() => {}))));
});
self.addEventListener("fetch", (event) => {
  const path = new URL(event.request.url).pathname;
  if (event.request.method !== "GET" || !ours(path)) return;
  event.respondWith(freshOrHeld(event.request, PAGE.test(path)));
});

async function freshOrHeld(request, isPage) {
  const held = await caches.open(HELD);
  try {
    const fresh = await fetch(request);
    if (fresh.ok && !fresh.redirected) {
      if (isPage) await forgetOthers(held, request.url);
      await held.put(request.url, fresh.clone());
    }
    return fresh;
  } catch (error) {
    const kept = await held.match(request.url);
    if (kept) return kept;
    throw error;
  }
}

async function forgetOthers(held, url) {
  for (const request of await held.keys()) {
    if (PAGE.test(new URL(request.url).pathname) && request.url !== url) await held.delete(request);
  }
}
