// Whose turn it is, from what the server told and what was tapped here: the last outcome by the phone's clock counts.
"use strict";

const FINAL = ["enrolled", "removed", "cannot", "not_done"];
// After these, what the reader held under the number before is not known.
const TOUCHING = ["enrolled", "try_again", "stopped", "cannot", "not_done", "undone"];
// After these a hand was laid down; a turn put aside without any of them has changed nothing.
const LAID_DOWN = ["enrolled", "try_again", "stopped", "cannot"];
// After these nobody laid a hand down: whoever was called was not there for now.
const NOT_THERE = ["passed_over", "did_not_come"];
const LATER = { passed_over: 1, try_again: 1, stopped: 2, did_not_come: 2 };

function inOrder(tapped) {
  const before = (a, b) => a.made_at - b.made_at || (a.outcome < b.outcome ? -1 : 1);
  return tapped.filter((one) => !one.rejected).sort(before);
}

// `room` is how many places the reader had free before anything came of the items; null where that is not known.
function standing(items, tapped, room = null) {
  const told = Object.fromEntries(items.map((item) => [item.item, item]));
  const newer = (one) => told[one.item] && one.made_at > (told[one.item].at || 0);
  const here = inOrder(tapped);
  const stand = items.map((item) => {
    let last = item.at ? { result: item.result || "undone", made_at: item.at, outcome: "" } : null;
    for (const one of here) {
      if (one.item !== item.item) continue;
      if (!last || one.made_at > last.made_at || (one.made_at === last.made_at && one.outcome > last.outcome)) last = one;
    }
    const result = last && last.result !== "undone" ? last.result : null;
    const tried = here.find((one) => item.after.includes(one.item) && newer(one) && TOUCHING.includes(one.result));
    const owner = tried && told[tried.item];
    const since = here.filter((one) => one.item === item.item && newer(one));
    const isAlone = missing(item, told) !== null; // by what the server told; it may not be, after what was tapped here
    const isFull = item.waits && ["full", "undecided"].includes(item.waits.why); // it may not be, after what was tapped here
    return {
      ...item,
      result,
      at: last ? last.made_at : null,
      stopped: item.stopped + added(item, since, (one) => (one === "stopped" ? 1 : 0)),
      put_off: LATER[result] ? item.put_off + added(item, since, (one) => LATER[one] || 0) : 0,
      laid_down: item.laid_down + added(item, since, (one) => (LAID_DOWN.includes(one) ? 1 : 0)),
      waits: (!isFull && !isAlone && item.waits) || (owner ? { why: "unseen", name: owner.name || "", number: owner.number } : null),
    };
  });
  const stood = Object.fromEntries(stand.map((item) => [item.item, item]));
  for (const item of stand) {
    item.is_begun = displaced(ringOf(item, stood)).has(item.item);
    const gone = missing(item, stood);
    if (gone) item.waits = item.waits || { why: "unseen", name: gone.name || "", number: gone.number };
  }
  return withoutPlace(stand, room);
}

const ringOf = (item, items) => item.ring.map((name) => items[name]).filter(Boolean);

// Whose hand may have come off for another's turn.
const displaced = (ring) => new Set(ring.flatMap((one) => (one.laid_down ? one.takes : [])));

// Whom an item of a ring waits for. Before a hand was laid down all wait for whoever was called and was not there, or was
// put aside; afterwards those wait under whose number somebody's hand stands who is away, unless their own may be off.
function missing(item, items) {
  const ring = ringOf(item, items);
  const off = displaced(ring);
  const away = ring.filter((one) => [...NOT_THERE, "not_done"].includes(one.result) && !off.has(one.item));
  away.sort((a, b) => a.put_off - b.put_off || a.at - b.at || a.position - b.position);
  if (!ring.some((one) => one.laid_down)) return away.length && away[0] !== item ? away[0] : null;
  const missedBy = (one) =>
    off.has(one.item) || one.laid_down ? null : away.find((other) => one.takes.includes(other.item)) || null;
  const absent = away.filter((one) => NOT_THERE.includes(one.result));
  // they would wait for each other for good
  if (item === absent[0] && absent.every(missedBy)) return null;
  return missedBy(item);
}

// What the outcomes tapped here add to a count; what is undone at once counts for nothing.
function added(item, here, count) {
  let sum = 0;
  let before = item.result;
  for (const { result } of here) {
    sum += result === "undone" ? -count(before) : count(result);
    before = result;
  }
  return sum;
}

// On a full reader whoever finds no place waits until a number has come off.
function withoutPlace(items, room) {
  if (room === null) return items;
  const numbers = (of) => new Set(of.map((item) => item.number));
  const before = numbers(items.filter((item) => item.is_listed));
  const there = new Set(before);
  for (const item of items.filter((one) => one.at).sort((a, b) => a.at - b.at)) {
    if (item.result === "removed") there.delete(item.number);
    if (item.result === "enrolled") there.add(item.number);
  }
  const most = before.size + room;
  // Without who finds none the others may come in another order, so it is gone through again until everybody does.
  let left = items;
  for (;;) {
    const full = findingNone(inTurn(left), new Set(there), most);
    if (!full.size) return left;
    left = left.map((item) => (full.has(item.item) ? { ...item, waits: noPlace(item) } : item));
  }
}

// Of somebody undecided their word is wanted before any room.
function noPlace(item) {
  if (!item.is_unreleased) return { why: "full", name: "", number: "" };
  return { why: "undecided", name: item.name || item.number, number: item.number };
}

function findingNone(turns, there, most) {
  const full = new Set();
  for (const item of turns) {
    if (item.action === "remove") there.delete(item.number);
    else if (there.has(item.number) || there.size < most) there.add(item.number);
    else full.add(item.item);
  }
  return full;
}

const isLeft = (item) => !FINAL.includes(item.result);

function inTurn(items) {
  const waiting = items.filter((item) => isLeft(item) && !item.waits);
  const isFirst = (item) => item.is_begun && !item.result;
  waiting.sort(
    (a, b) =>
      isFirst(b) - isFirst(a) ||
      a.put_off - b.put_off ||
      (a.put_off ? a.at - b.at : 0) ||
      a.position - b.position,
  );
  // Whoever was just put off is not next again while somebody else waits.
  const last = Math.max(...items.map((item) => item.at || 0));
  if (waiting.length > 1 && waiting[0].put_off && waiting[0].at === last) waiting.splice(0, 2, waiting[1], waiting[0]);
  return waiting;
}

const turnOf = (items) => inTurn(items)[0] || null;
