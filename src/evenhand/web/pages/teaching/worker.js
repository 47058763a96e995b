// Keeps the round to practise on, and what it needs, at hand without a connection.
"use strict";

importScripts("/static/at_hand.js");

const isRound = (url) => /^\/practice\/[^/]+$/.test(url.pathname) && !url.searchParams.has("own");

// Practising holds nothing of anybody but the own name, so it stays although the phone is let in no longer.
keepAtHand("evenhand-practice", isRound, { forgets: false });
