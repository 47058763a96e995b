// Keeps the pages held at readers, and what they need, at hand without a connection. What was tapped is kept by the page.
"use strict";

importScripts("/static/at_hand.js");

const isHeld = (url) => /^\/rounds\/(?!(?:queues|steps)\/)[^/]+\/[^/]+$/.test(url.pathname) && !url.searchParams.has("read");

// Who is not let in any more keeps no names here; taps not sent yet are kept by the page, not by this worker.
keepAtHand("evenhand-round", isHeld, { forgets: true });
