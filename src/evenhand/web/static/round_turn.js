// One turn at a reader, shown where rounds/turn.html has its places. Nothing here keeps or sends anything, so that a
// round that is only practised shows the same.
//
// `told` is what a page knows: words (by language), language, read_out, waits, together, most_stops, steps (or null).
"use strict";

const DO = {
  enrol_supervisor: "Enrol as supervisor",
  enrol: "Enrol",
  enrol_again: "Enrol again",
  remove: "Take this number off",
};
const CAME = {
  enrolled: "Enrolled",
  removed: "Taken off",
  try_again: "Try again",
  stopped: "Stopped after five",
  did_not_come: "Did not come",
  passed_over: "Passed over",
  not_done: "Not done",
  cannot: "Cannot be enrolled",
};
const sentence = (english) => english; // marks what the catalogue holds
const at = (id) => document.getElementById(id);
const filled = (said, values) => said.replace(/\{(\w+)\}/g, (_, name) => values[name]);

function element(name, text, attributes = {}) {
  const made = document.createElement(name);
  made.textContent = text;
  for (const [attribute, value] of Object.entries(attributes)) made.setAttribute(attribute, value);
  return made;
}

function showWords(told) {
  const say = told.words[told.language];
  document.documentElement.lang = told.language;
  for (const place of document.querySelectorAll("[data-say]")) place.textContent = say[place.dataset.say];
  markCurrent("speak", told.language);
}

function markCurrent(kind, language) {
  for (const link of document.querySelectorAll(`[data-${kind}]`)) {
    if (link.dataset[kind] === language) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
}

// The turn itself; `readOut` is the language to read out in, where somebody chose another than the person's.
function showTurn(turn, told, readOut) {
  const isRemoving = turn.action === "remove";
  const isResting = turn.stopped >= told.most_stops;
  at("item").value = turn.item;
  at("what").textContent = told.words[told.language][DO[turn.action]];
  at("name").textContent = turn.name || "";
  at("number").textContent = turn.number;
  at("number").className = `digits n${turn.number.length}`;
  at("time").textContent = turn.time;
  at("stands").hidden = !turn.stands;
  at("standing").textContent = turn.stands || "";
  const isUnreleased = turn.is_unreleased && !isRemoving;
  at("together").hidden = !turn.beside;
  at("together").textContent = filled(told.words[told.language][told.together], { names: turn.beside });
  at("again").hidden = turn.action !== "enrol_again" || isUnreleased;
  at("once").hidden = isRemoving || turn.stopped !== 1;
  at("enrolling").hidden = isRemoving;
  // Nothing is said of a hand, and no step shown, before the person has decided.
  at("unreleased").hidden = !isUnreleased;
  at("resting").hidden = isUnreleased || !isResting;
  at("released").hidden = isUnreleased || isResting;
  at("try-again").hidden = isUnreleased;
  at("removing").hidden = !isRemoving;
  at("to-person").hidden = isRemoving || isUnreleased;
  showReadOut(told, readOut || turn.language);
  showSteps(turn, told);
}

function showReadOut(told, language) {
  at("told").lang = language;
  at("told").replaceChildren(...told.read_out.map((line) => element("li", told.words[language][line])));
  for (const caption of document.querySelectorAll("[data-told]")) {
    caption.lang = language;
    caption.textContent = told.words[language][caption.dataset.told];
  }
  markCurrent("tell", language);
}

// The workplace's own steps for what is to be done, in the supervisor's language or the first they are written in.
function showSteps(turn, told) {
  const isShown = told.steps && (turn.action === "remove" || !turn.is_unreleased);
  const parts = isShown ? told.steps.in_turn[turn.action] : [];
  const spoken = told.steps && (told.steps.words[told.language] ? told.language : Object.keys(told.steps.words)[0]);
  const key = `${turn.action} ${spoken} ${told.language}`;
  const place = at("steps-here");
  const written = parts.filter((part) => told.steps.words[spoken][part.heading].length);
  at("steps").hidden = !written.length;
  if (place.dataset.shows === key && place.dataset.item === turn.item) return; // a countdown that runs stays
  Object.assign(place.dataset, { shows: key, item: turn.item });
  stopCountdown();
  place.replaceChildren();
  for (const { heading, title } of written) {
    const quick = told.steps.quick[heading];
    const list = element("ol", "", { lang: spoken });
    told.steps.words[spoken][heading].forEach((says, index) => {
      const step = element("li", says);
      if (quick && quick.step === index + 1) step.append(...quickly(quick.seconds, told));
      list.append(step);
    });
    place.append(element("h3", told.words[told.language][title]), list);
  }
}

function quickly(seconds, told) {
  const say = told.words[told.language];
  const within = element("strong", filled(say[sentence("within {seconds} s")], { seconds }), { class: "within", lang: told.language });
  const start = element("button", filled(say[sentence("Start {seconds} s")], { seconds }), { type: "button", class: "count", lang: told.language });
  const left = element("span", "", { class: "left", role: "status", lang: told.language });
  start.addEventListener("click", () => countDown(seconds, left, say[sentence("Time is up: start this person again.")]));
  return [" ", within, " ", start, " ", left];
}

let ticking = null;
function stopCountdown() {
  clearInterval(ticking);
  ticking = null;
}
function countDown(seconds, place, isUp) {
  stopCountdown();
  const ends = performance.now() + seconds * 1000;
  const tick = () => {
    const left = Math.ceil((ends - performance.now()) / 1000);
    place.textContent = left > 0 ? String(left) : isUp;
    if (left <= 0) stopCountdown();
  };
  tick();
  ticking = setInterval(tick, 100);
}

// The scores written down, in their order; null where none is, undefined where one is missing or is no figure.
function scoresWritten() {
  const written = [1, 2, 3, 4, 5].map((n) => at(`score-${n}`).value.trim().replaceAll(",", "."));
  const found = written.filter(Boolean);
  if (written.slice(0, found.length).some((one) => !/^\d{1,6}(\.\d*)?$/.test(one))) return undefined;
  return found.length ? found.join(" ") : null;
}

function emptyChoices() {
  for (const n of [1, 2, 3, 4, 5]) at(`score-${n}`).value = "";
  for (const id of ["reason", "other_way", "why"]) at(id).value = "";
  for (const id of ["cannot", "not-done", "scored"]) at(id).open = false;
}

// Whether something was chosen; where not, it is said at its place.
function isChosen(id, told) {
  const place = at(id);
  place.setCustomValidity(place.value ? "" : told.words[told.language][sentence("Choose one first.")]);
  return place.reportValidity();
}

// What a button of the choices says, as an outcome without its item; null where something is missing, told at its place.
function choiceMade(button, told) {
  const [result, presentations] = button.value.split(" ");
  const made = { result };
  if (presentations) made.presentations = Number(presentations);
  if (result === "cannot") {
    if (!isChosen("reason", told) || !isChosen("other_way", told)) return null;
    Object.assign(made, { reason: at("reason").value, other_way: at("other_way").value });
  }
  if (result === "not_done") {
    if (!isChosen("why", told)) return null;
    made.reason = at("why").value;
  }
  if (result !== "enrolled") return made;
  const scores = scoresWritten();
  at("score-1").setCustomValidity(scores === undefined ? told.words[told.language][sentence("Write the figures from the first on, each from 0 up, or none.")] : "");
  if (scores === undefined) {
    at("scored").open = true;
    at("score-1").reportValidity();
    return null;
  }
  if (scores) made.scores = scores;
  return made;
}
