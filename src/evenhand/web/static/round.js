// The page held at a reader: a tap is kept here at once and sent when there is a connection; sent twice, it counts once.
"use strict";

const data = JSON.parse(document.getElementById("round-data").textContent);
const form = document.getElementById("form");
const back = document.getElementById("back");
const PLACE = `evenhand round ${data.round} ${data.reader}`;
const MANY = 50;
const DO = {
  enrol_supervisor: "Enrol as supervisor",
  enrol: "Enrol",
  enrol_again: "Take off, then enrol again",
  remove: "Take this number off",
};
const CAME = {
  enrolled: "Enrolled",
  removed: "Taken off",
  try_again: "Try again",
  did_not_come: "Did not come",
  cannot: "Cannot be enrolled",
};
const sentence = (english) => english; // marks what the catalogue holds
const at = (id) => document.getElementById(id);
let line = "";
let isSending = false;

function kept() {
  return JSON.parse(localStorage.getItem(PLACE) || "null") || { tapped: [], author: "", language: "" };
}
function keep(change) {
  const now = kept();
  change(now);
  localStorage.setItem(PLACE, JSON.stringify(now));
}
const language = () => kept().language || data.language;
const say = (sentence) => data.words[language()][sentence];

function name() {
  if (crypto.randomUUID) return crypto.randomUUID();
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

function tap(item, result, more) {
  const last = Math.max(0, ...kept().tapped.map((one) => one.made_at), ...data.items.map((one) => one.at || 0));
  // A second tap within a second comes after the first, whatever the clock says.
  const made_at = Math.max(Math.floor(Date.now() / 1000), last + 1);
  const outcome = { outcome: name(), item, result, author: at("author").value.trim(), made_at, ...more };
  keep((now) => {
    now.tapped.push(outcome);
    now.author = outcome.author;
  });
  at("cannot").open = at("undoing").open = false;
  at("scores").value = "";
  show();
  send();
}

function show() {
  const { tapped } = kept();
  const items = standing(data.items, tapped);
  const turn = turnOf(items);
  document.documentElement.lang = language();
  for (const place of document.querySelectorAll("[data-say]")) place.textContent = say(place.dataset.say);
  for (const link of document.querySelectorAll("[data-speak]")) {
    if (link.dataset.speak === language()) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
  at("done").textContent = items.filter((item) => FINAL.includes(item.result)).length;
  at("total").textContent = items.length;
  at("turn").hidden = at("choices").hidden = !turn;
  at("over").hidden = Boolean(turn);
  if (turn) showTurn(turn);
  showLast(items);
  showLine(tapped);
  at("forget").hidden = Boolean(turn) || tapped.some((one) => !one.sent);
}

function showTurn(turn) {
  at("item").value = turn.item;
  at("what").textContent = say(DO[turn.action]);
  at("name").textContent = turn.name || "";
  at("number").textContent = turn.number;
  at("number").className = `digits n${turn.number.length}`;
  at("time").textContent = turn.time;
  at("stands").hidden = !turn.stands;
  at("standing").textContent = turn.stands || "";
  at("to-person").hidden = turn.action === "remove";
  at("to-person").lang = turn.language;
  at("to-person").textContent = data.words[turn.language]["Lay your hand flat, close your fingers on the posts, hold still."];
  at("enrolling").hidden = turn.action === "remove";
  at("released").hidden = turn.is_unreleased;
  at("unreleased").hidden = !turn.is_unreleased;
  at("read").href = `?read=${encodeURIComponent(turn.item)}&speak=${turn.language}`;
  at("removing").hidden = turn.action !== "remove";
  const takesOver = turn.stands && at("author").value.trim() !== turn.stands;
  at("hand-over").hidden = !takesOver;
  at("hand-over").querySelector("b").textContent = turn.stands || "";
}

function showLast(items) {
  const done = items.filter((item) => item.result).sort((a, b) => b.at - a.at);
  at("undoing").hidden = !done.length;
  if (!done.length) return;
  back.elements.item.value = done[0].item;
  at("last-name").textContent = done[0].name || done[0].number;
  at("last-result").textContent = say(CAME[done[0].result]);
}

function showLine(tapped) {
  const left = tapped.filter((one) => !one.sent).length;
  const rejected = tapped.filter((one) => one.rejected).at(-1);
  let says = left ? `${say("Kept on this phone, not sent yet:")} ${left}` : say("Everything is sent.");
  if (line) says = `${say(line)} ${says}`;
  if (rejected) says = `${says} ${rejected.rejected}`;
  if (at("line").textContent !== says) at("line").textContent = says;
  at("line").className = left || line ? "open" : "";
}

async function send() {
  const left = kept().tapped.filter((one) => !one.sent).slice(0, MANY);
  if (isSending || (!left.length && !line)) return;
  isSending = true;
  try {
    const outcomes = left.map(({ sent, rejected, ...outcome }) => outcome);
    const body = new URLSearchParams({
      form_token: form.elements.form_token.value,
      outcomes: JSON.stringify(outcomes),
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
  keep((now) => {
    for (const one of now.tapped) {
      if (answer.rejected[one.outcome]) one.rejected = answer.rejected[one.outcome];
      if (one.rejected || answer.kept.includes(one.outcome)) one.sent = true;
    }
  });
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  const [result, presentations] = event.submitter.value.split(" ");
  const more = {};
  if (presentations) more.presentations = Number(presentations);
  if (result === "enrolled" && at("scores").value.trim()) more.scores = at("scores").value.trim().replaceAll(",", ".");
  if (result === "cannot") Object.assign(more, { reason: at("reason").value, other_way: at("other_way").value });
  tap(at("item").value, result, more);
});
back.addEventListener("submit", (event) => {
  event.preventDefault();
  if (!at("author").reportValidity()) return;
  tap(back.elements.item.value, "undone", {});
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
