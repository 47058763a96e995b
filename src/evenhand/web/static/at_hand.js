// What a worker does that keeps a page, and what it needs, at hand without a connection.
"use strict";

const PATIENCE_MS = 5000;

// `cache` is where things are kept, `isHeld` tells of an address whether its page is; where `forgets`, nothing stays of
// a page whose phone is let in no longer.
function keepAtHand(cache, isHeld, { forgets }) {
  self.addEventListener("install", () => self.skipWaiting());
  self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
  self.addEventListener("fetch", (event) => {
    const url = new URL(event.request.url);
    const kept = isHeld(url) || url.pathname.startsWith("/static/");
    if (event.request.method === "GET" && url.origin === self.location.origin && kept) {
      event.respondWith(answer(event.request));
    }
  });

  async function answer(request) {
    const kept = await caches.open(cache);
    const before = () => kept.match(request, { ignoreSearch: true, ignoreVary: true });
    try {
      const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
      if (forgets && fresh.status === 403) {
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
}
