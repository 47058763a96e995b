// Keeps the round to practise on, and what it needs, at hand without a connection.
"use strict";

const KEPT = "evenhand-practice";
const PATIENCE_MS = 5000;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const isRound = /^\/practice\/[^/]+$/.test(url.pathname) && !url.searchParams.has("own");
  if (event.request.method === "GET" && url.origin === self.location.origin && (isRound || url.pathname.startsWith("/static/"))) {
    event.respondWith(answer(event.request));
  }
});

async function answer(request) {
  const kept = await caches.open(KEPT);
  const before = () => kept.match(request, { ignoreSearch: true, ignoreVary: true });
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    // Practising holds nothing of anybody but the own name, so it stays although the phone is let in no longer.
    if (!fresh.ok) return (await before()) || fresh;
    await kept.put(request, fresh.clone());
    return fresh;
  } catch (unreachable) {
    const page = await before();
    if (page) return page;
    throw unreachable;
  }
}
