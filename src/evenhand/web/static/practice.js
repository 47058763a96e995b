// The page of a round to practise on: one scene at a time, kept on this phone, without a connection once it is open.
"use strict";

const data = JSON.parse(document.getElementById("practice-data").textContent);
const PLACE = `evenhand practice ${data.person}`;
const at = (id) => document.getElementById(id);
const scenario = data.scenario;
let memory = null; // where the browser keeps nothing for a file, the page still does

function kept() {
  const empty = { name: data.name, language: data.language, given: [], begun: false, code: "", wanted: false, sent: false };
  try {
    return JSON.parse(localStorage.getItem(PLACE) || "null") || memory || empty;
  } catch {
    return memory || empty;
  }
}
function keep(change) {
  const now = { ...kept(), ...change };
  memory = now;
  try {
    localStorage.setItem(PLACE, JSON.stringify(now));
  } catch {} // it is kept as long as the page stays open
}
const tell = (text) => text[kept().language];
const word = (name) => tell(scenario.words[name]);

function element(name, text, attributes = {}) {
  const made = document.createElement(name);
  if (text) made.textContent = text;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}
function reason(label, text) {
  const line = element("p");
  line.append(element("strong", word(label)), ` ${text}`);
  return line;
}

function show(focused = true) {
  const now = kept();
  document.documentElement.lang = now.language;
  document.title = at("title").textContent = word("title");
  for (const link of document.querySelectorAll("[data-speak]")) {
    if (link.dataset.speak === now.language) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
  for (const place of document.querySelectorAll("[data-say]")) place.textContent = word(place.dataset.say);
  const played = play(scenario, now.given);
  at("step").textContent = now.begun && played.at ? progress(now.judging ? played.answers.at(-1).scene : played.at) : "";
  const parts = !now.begun ? opening() : now.judging ? judged(played.answers.at(-1)) : played.at ? scene(played.at) : ending(played);
  at("turn").replaceChildren(...parts);
  if (!focused) return;
  scrollTo(0, 0);
  at("turn").querySelector("h2").focus();
}

function progress(scene) {
  const main = scenario.scenes.filter((one) => !one.detour);
  const reached = scene.detour ? main.findIndex((one) => one.id === scene.then) : main.indexOf(scene) + 1;
  return `${word("step")} ${reached} ${word("of")} ${main.length}`;
}

function heading(text) {
  return element("h2", text, { tabindex: "-1" });
}

function opening() {
  const form = element("form");
  const field = element("p", "", { class: "field" });
  const name = element("input", "", { id: "name", required: "", maxlength: "80", autocomplete: "name" });
  name.value = kept().name;
  name.readOnly = Boolean(data.person);
  field.append(element("label", word("who"), { for: "name" }), name);
  form.append(field);
  if (!data.person) form.append(element("p", word("who_why"), { class: "small" }));
  form.append(element("button", word("begin"), { class: "good" }));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    keep({ name: name.value.trim(), begun: true, given: [], judging: false, code: "", wanted: false, sent: false });
    show();
  });
  return [heading(word("named")), element("p", word("lead")), form, element("p", word("caution"), { class: "small" })];
}

function scene(now) {
  const parts = [heading(now.person || word("here"))];
  if (now.picture) parts.push(picture(now.picture));
  if (now.sheet) parts.push(element("p", word("sheet"), { class: "small" }), element("p", now.sheet, { class: `digits n${now.sheet.length}` }));
  parts.push(element("p", tell(now.say)));
  if (now.steps && data.steps[now.steps]) parts.push(ownSteps(now.steps));
  parts.push(now.key ? keying() : choosing(now));
  return parts;
}

function picture(name) {
  const drawn = at(`picture-${name}`).content.firstElementChild.cloneNode(true);
  drawn.firstElementChild.setAttribute("aria-label", tell(scenario.pictures[name]));
  return drawn;
}

function ownSteps(name) {
  const own = element("details", "", { class: "own" });
  own.append(element("summary", word("own")));
  for (const kind of data.steps[name][kept().language]) {
    own.append(element("h3", kind.title));
    const list = element("ol");
    for (const step of kind.steps) {
      list.append(element("li", step.seconds ? `${step.text} (${word("within").replace("{}", step.seconds)})` : step.text));
    }
    own.append(list);
  }
  return own;
}

function choosing(now) {
  const list = element("div", "", { class: "choices" });
  now.choices.forEach((choice, place) => {
    const button = element("button", tell(choice.do), { type: "button" });
    button.addEventListener("click", () => give(place));
    list.append(button);
  });
  return list;
}

function keying() {
  const form = element("form");
  const field = element("p", "", { class: "field" });
  const keyed = element("input", "", { id: "keyed", required: "", inputmode: "numeric", pattern: "[0-9]*", maxlength: "10", autocomplete: "off" });
  field.append(element("label", word("key"), { for: "keyed" }), keyed);
  form.append(field, element("button", word("keyed"), { class: "good" }));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    give(keyed.value.trim());
  });
  return form;
}

function give(answer) {
  keep({ given: [...kept().given, answer], judging: true });
  show();
}

function reasons(answer) {
  const { scene: now, chosen } = answer;
  if (!chosen) {
    const lines = [reason("you_keyed", answer.keyed), reason("why", tell(now.why))];
    return answer.isRight ? lines : [lines[0], reason("better", now.key), lines[1], ...later(now)];
  }
  const lines = [reason("you", tell(chosen.do)), reason("why", tell(chosen.why))];
  if (answer.isRight) return lines;
  const right = now.choices.find((one) => one.right);
  return [...lines, ...later(chosen), reason("better", tell(right.do)), element("p", tell(right.why))];
}
const later = (of) => (of.later ? [reason("later", tell(of.later))] : []);

function judged(answer) {
  const box = element("section", "", { class: answer.isRight ? "verdict right" : "verdict" });
  box.append(heading(word(answer.isRight ? "yes" : "no")), ...reasons(answer));
  const on = element("button", word("on"), { type: "button", class: "good" });
  on.addEventListener("click", () => {
    keep({ judging: false });
    show();
  });
  return [box, on];
}

function ending(played) {
  if (!kept().code) {
    const drawn = crypto.getRandomValues(new Uint32Array(1))[0] & 0x3ffff;
    keep({ code: writeResult(scenario, played.well, new Date(), drawn) });
  }
  const parts = [heading(word("over")), element("p", kept().name, { class: "named" }), element("p", word("no_mark"), { class: "small" })];
  if (played.notWell.length) parts.push(...outcome("not_well", played.notWell, played, false));
  else parts.push(element("p", word("all_well")));
  if (played.well.length) parts.push(...outcome("well", played.well, played, true));
  else parts.push(element("p", word("none_well")));
  return [...parts, ...giving(), ...leaving()];
}

function outcome(title, themes, played, isRight) {
  const list = element("ul", "", { class: "outcome" });
  for (const theme of themes) {
    const item = element("li");
    item.append(element("h4", tell(scenario.themes.find((one) => one.id === theme))));
    for (const one of played.answers) {
      if (one.scene.theme === theme && one.isRight === isRight) item.append(...reasons(one));
    }
    list.append(item);
  }
  return [element("h3", word(title)), list];
}

function giving() {
  const now = kept();
  const parts = [element("h3", word("code")), element("p", now.code, { class: "code", id: "code" }), element("p", word("code_why"), { class: "small" })];
  if (!data.token) return parts;
  const line = element("p", now.sent ? word("sent") : now.wanted ? word(now.wanted) : "", { id: "line", role: "status" });
  if (now.sent) return [...parts, line];
  const button = element("button", word("send"), { type: "button", class: "good" });
  button.addEventListener("click", send);
  return [...parts, button, line];
}

async function send() {
  keep({ wanted: "unsent" });
  try {
    const now = kept();
    const body = new URLSearchParams({ form_token: data.token, code: now.code });
    const answer = await fetch(location.pathname, { method: "POST", body });
    keep(answer.ok ? { sent: true, wanted: false } : { wanted: "refused" });
  } catch {} // it stays wanted, and is sent once there is a connection
  show(false);
}

function leaving() {
  const again = element("button", word("again"), { type: "button" });
  again.addEventListener("click", () => {
    keep({ begun: false });
    show();
  });
  const forget = element("button", word("forget"), { type: "button" });
  forget.addEventListener("click", async () => {
    memory = null;
    try {
      localStorage.removeItem(PLACE);
    } catch {}
    if (data.person && "serviceWorker" in navigator) {
      for (const worker of await navigator.serviceWorker.getRegistrations()) {
        if (new URL(worker.scope).pathname === "/practice/") await worker.unregister();
      }
      await caches.delete("evenhand-practice");
    }
    show();
  });
  return [again, forget];
}

for (const link of document.querySelectorAll("[data-speak]")) {
  link.addEventListener("click", (event) => {
    event.preventDefault();
    keep({ language: link.dataset.speak });
    show(false);
  });
}

// A file needs nothing else, and whoever practises at the desk has it at hand; a phone keeps the page first.
async function keepAtHand() {
  if (!data.person) return;
  await navigator.serviceWorker.register("/practice-worker.js", { scope: "/practice/" });
  await navigator.serviceWorker.ready;
  // The worker sees only what is asked for after it has begun; this page was asked for before.
  const cache = await caches.open("evenhand-practice");
  const parts = [...document.querySelectorAll("link[href], script[src]")].map((part) => part.href || part.src);
  await cache.addAll([location.pathname, ...parts]);
}
function tellKept(name) {
  at("kept").dataset.say = name;
  at("kept").textContent = word(name);
}

// What is kept for times without a connection is the page as it is asked for alone: the language goes along.
try {
  if (data.person && !localStorage.getItem(PLACE)) keep({});
} catch {} // then the page speaks as it was fetched
at("read").hidden = true;
at("play").hidden = false;
window.addEventListener("online", () => kept().wanted === "unsent" && !kept().sent && send());
show(false);
keepAtHand().then(() => tellKept("offline"), () => tellKept("stay_open"));
