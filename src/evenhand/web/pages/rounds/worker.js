// Keeps the pages held at readers, and what they need, at hand without a connection. What was tapped is kept by the page.
"use strict";

const KEPT = "evenhand-round";
const PATIENCE_MS = 5000;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const held = /^\/rounds\/(?!(?:queues|steps)\/)[^/]+\/[^/]+$/.test(url.pathname) && !url.searchParams.has("read");
  if (event.request.method === "GET" && url.origin === self.location.origin && (held || url.pathname.startsWith("/static/"))) {
    event.respondWith(answer(event.request));
  }
});

async function answer(request) {
  const kept = await caches.open(KEPT);
  const before = () => kept.match(request, { ignoreSearch: true, ignoreVary: true });
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (fresh.status === 403) {
      // Who is not let in any more keeps no names here; taps not sent yet are kept by the page, not by this worker.
      await kept.delete(request, { ignoreSearch: true, ignoreVary: true });
      return fresh;
    }
    if (!fresh.ok) return (await before()) || fresh;
    await kept.put(request, fresh.clone());
    return fresh;
  } catch (unreachable) {
    const page = await before();
    if (page) return page;
    throw unreachable;
  }
}
