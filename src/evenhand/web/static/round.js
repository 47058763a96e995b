// The page held at a reader: a tap is kept here at once and sent when there is a connection; sent twice, it counts once.
"use strict";

const data = JSON.parse(document.getElementById("round-data").textContent);
const form = document.getElementById("form");
const back = document.getElementById("back");
const PLACE = `evenhand round ${data.round} ${data.reader}`;
const MANY = 50;
const ASKED_AGAIN_MS = 60000;
let line = "";
let isSending = false;
let askedAt = 0;
let readOut = { item: "", language: "" };

function kept() {
  return JSON.parse(localStorage.getItem(PLACE) || "null") || { tapped: [], author: "", language: "" };
}
function keep(change) {
  const now = kept();
  change(now);
  localStorage.setItem(PLACE, JSON.stringify(now));
}
const told = () => ({ ...data, language: kept().language || data.language });
const say = (sentence) => data.words[told().language][sentence];

function name() {
  if (crypto.randomUUID) return crypto.randomUUID();
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

function tap(item, made) {
  const last = Math.max(0, ...kept().tapped.map((one) => one.made_at), ...data.items.map((one) => one.at || 0));
  // A second tap within a second comes after the first, whatever the clock says.
  const made_at = Math.max(Math.floor(Date.now() / 1000), last + 1);
  const outcome = { outcome: name(), item, author: at("author").value.trim(), made_at, ...made };
  keep((now) => {
    now.tapped.push(outcome);
    now.author = outcome.author;
  });
  at("undoing").open = false;
  forgetWrong();
  emptyChoices();
  show();
  send();
}

// What was wrong with a name that was keyed is over once something is tapped.
function forgetWrong() {
  if (!at("wrong")) return;
  at("wrong").remove();
  for (const mark of ["aria-invalid", "aria-describedby"]) at("stranger").removeAttribute(mark);
  at("stranger").value = "";
}

function show() {
  const { tapped } = kept();
  const items = standing(data.items, tapped, data.room);
  const turn = turnOf(items);
  showWords(told());
  at("done").textContent = items.filter((item) => FINAL.includes(item.result)).length;
  at("total").textContent = items.length;
  at("turn").hidden = at("choices").hidden = !turn;
  at("over").hidden = Boolean(turn);
  if (turn) {
    showTurn(turn, told(), readOut.item === turn.item ? readOut.language : "");
    at("read").href = `?read=${encodeURIComponent(turn.item)}&speak=${turn.language}`;
    const takesOver = turn.stands && at("author").value.trim() !== turn.stands;
    at("hand-over").hidden = !takesOver;
    at("hand-over").querySelector("b").textContent = turn.stands || "";
  } else {
    at("to-person").hidden = at("steps").hidden = true;
  }
  showStays(items);
  showTapped(items);
  showLine(tapped);
  at("forget").hidden = Boolean(turn) || tapped.some((one) => !one.sent);
}

function showStays(items) {
  const stays = items.filter((item) => isLeft(item) && item.waits);
  at("stays").hidden = !stays.length;
  const lines = stays.map((item) => {
    const why = filled(say(data.waits[item.waits.why]), item.waits);
    const made = element("li", "");
    made.append(element("b", item.number, { class: "figures" }), ` ${item.name || ""}: ${why}`);
    return made;
  });
  at("stays").querySelector("ul").replaceChildren(...lines);
}

function showTapped(items) {
  const done = items.filter((item) => item.result).sort((a, b) => b.at - a.at);
  at("undoing").hidden = at("aside").hidden = !done.length;
  at("stop").hidden = !done.length || done[0].result !== "stopped";
  at("aside").querySelector("ul").replaceChildren(...done.map(putBack));
  if (!done.length) return;
  back.elements.item.value = done[0].item;
  at("last-name").textContent = at("stop-name").textContent = done[0].name || done[0].number;
  at("last-result").textContent = say(CAME[done[0].result]);
}

function putBack(item) {
  const made = element("li", "");
  const says = element("span", "");
  const reason = item.reason && FINAL.includes(item.result) ? `, ${say(item.reason) || item.reason}` : "";
  says.append(element("b", item.name || item.number), `: ${say(CAME[item.result])}${reason}`);
  const button = element("button", say("Put back"), { type: "button" });
  button.append(element("span", ` ${item.name || item.number}`, { class: "unseen" }));
  button.addEventListener("click", () => at("author").reportValidity() && tap(item.item, { result: "undone" }));
  made.append(says, " ", button);
  return made;
}

function showLine(tapped) {
  const left = tapped.filter((one) => !one.sent).length;
  // What was not taken is told until something else is tapped for the same turn.
  const isOpen = (one, place) => one.rejected && !tapped.slice(place + 1).some((later) => later.item === one.item);
  const rejected = tapped.filter(isOpen).at(-1);
  let says = left ? `${say("Kept on this phone, not sent yet:")} ${left}` : say("Everything is sent.");
  if (line) says = `${say(line)} ${says}`;
  if (rejected) {
    const item = data.items.find((one) => one.item === rejected.item);
    says = `${item ? item.name || item.number : rejected.item}: ${rejected.rejected}`;
  }
  if (at("line").textContent !== says) at("line").textContent = says;
  at("line").className = left || line || rejected ? "open" : "";
}

async function send() {
  const left = kept().tapped.filter((one) => !one.sent).slice(0, MANY);
  // What stays on the reader for now may go once a punch has come in, which only the server knows.
  const asks = !at("stays").hidden && Date.now() - askedAt > ASKED_AGAIN_MS;
  if (isSending || (!left.length && !line && !asks)) return;
  isSending = true;
  askedAt = Date.now();
  try {
    const outcomes = left.map(({ sent, rejected, ...outcome }) => outcome);
    const body = new URLSearchParams({
      form_token: form.elements.form_token.value,
      outcomes: JSON.stringify(outcomes),
      speak: kept().language, // what was chosen here; nothing where nothing was
    });
    const answer = await fetch(location.pathname, { method: "POST", body });
    if (answer.ok) take(await answer.json());
    else line = sentence("Not let in any more: open the pages anew, then this round.");
  } catch {
    line = sentence("No connection.");
  }
  isSending = false;
  show();
  if (!line && kept().tapped.some((one) => !one.sent)) send();
}

function take(answer) {
  line = "";
  data.items = answer.items;
  data.room = answer.room;
  keep((now) => {
    for (const one of now.tapped) {
      if (answer.rejected[one.outcome]) one.rejected = answer.rejected[one.outcome];
      if (one.rejected || answer.kept.includes(one.outcome)) one.sent = true;
    }
  });
}

form.noValidate = true; // what is missing is told at its place, and keeps no other button from being tapped
form.addEventListener("submit", (event) => {
  event.preventDefault();
  if (!at("author").reportValidity()) return;
  const made = choiceMade(event.submitter, told());
  if (made) tap(at("item").value, made);
});
back.addEventListener("submit", (event) => {
  event.preventDefault();
  if (!at("author").reportValidity()) return;
  tap(back.elements.item.value, { result: "undone" });
});
at("add").addEventListener("submit", (event) => {
  // It is sent as a form of its own, by whoever stands at the reader.
  if (!at("author").reportValidity()) event.preventDefault();
  event.target.elements.author.value = at("author").value.trim();
});
at("hand-over").addEventListener("click", () => {
  at("author").value = at("standing").textContent;
  keep((now) => (now.author = at("author").value));
  show();
});
at("author").addEventListener("input", () => {
  keep((now) => (now.author = at("author").value.trim()));
  show();
});
for (const link of document.querySelectorAll("[data-speak]")) {
  link.addEventListener("click", (event) => {
    event.preventDefault();
    keep((now) => (now.language = link.dataset.speak));
    show();
  });
}
for (const link of document.querySelectorAll("[data-tell]")) {
  link.addEventListener("click", (event) => {
    event.preventDefault();
    readOut = { item: at("item").value, language: link.dataset.tell };
    show();
  });
}
at("forget").addEventListener("click", async () => {
  localStorage.removeItem(PLACE);
  for (const worker of await navigator.serviceWorker.getRegistrations()) await worker.unregister();
  await caches.delete("evenhand-round");
  location.href = `/rounds/${encodeURIComponent(data.round)}`;
});

async function keepAtHand() {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register("/rounds/worker.js", { scope: "/rounds/" });
  // The worker sees only what is asked for after it has begun; this page was asked for before.
  const cache = await caches.open("evenhand-round");
  const parts = [...document.querySelectorAll("link[href], script[src]")].map((part) => part.href || part.src);
  await cache.addAll([location.pathname, ...parts]);
}

if (kept().author) at("author").value = kept().author;
window.addEventListener("online", send);
window.addEventListener("storage", (event) => event.key === PLACE && show());
document.addEventListener("visibilitychange", () => document.hidden || send());
setInterval(send, 10000);
show();
send();
keepAtHand().catch(() => {}); // without it the page works as long as it stays open
