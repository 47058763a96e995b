// Whose turn it is, from what the server told and what was tapped here: the last outcome by the phone's clock counts.
"use strict";

const FINAL = ["enrolled", "removed", "cannot", "not_done"];
// After these, what the reader held under the number before is not known.
const TOUCHING = ["enrolled", "try_again", "stopped", "cannot", "not_done", "undone"];
const LATER = { passed_over: 1, try_again: 1, stopped: 2, did_not_come: 2 };

function inOrder(tapped) {
  const before = (a, b) => a.made_at - b.made_at || (a.outcome < b.outcome ? -1 : 1);
  return tapped.filter((one) => !one.rejected).sort(before);
}

function standing(items, tapped) {
  const told = Object.fromEntries(items.map((item) => [item.item, item]));
  const newer = (one) => told[one.item] && one.made_at > (told[one.item].at || 0);
  const here = inOrder(tapped);
  return items.map((item) => {
    let last = item.at ? { result: item.result || "undone", made_at: item.at, outcome: "" } : null;
    for (const one of here) {
      if (one.item !== item.item) continue;
      if (!last || one.made_at > last.made_at || (one.made_at === last.made_at && one.outcome > last.outcome)) last = one;
    }
    const result = last && last.result !== "undone" ? last.result : null;
    const tried = here.find((one) => item.after.includes(one.item) && newer(one) && TOUCHING.includes(one.result));
    const owner = tried && told[tried.item];
    return {
      ...item,
      result,
      at: last ? last.made_at : null,
      stopped: item.stopped + stops(item, here.filter((one) => one.item === item.item && newer(one))),
      waits: item.waits || (owner ? { why: "unseen", name: owner.name || "", number: owner.number } : null),
    };
  });
}

// How often five presentations did not agree in what was tapped here; what is undone at once counts for nothing.
function stops(item, here) {
  let count = 0;
  let before = item.result;
  for (const { result } of here) {
    if (result === "stopped") count += 1;
    if (result === "undone" && before === "stopped") count -= 1;
    before = result;
  }
  return count;
}

const isLeft = (item) => !FINAL.includes(item.result);

function turnOf(items) {
  const rank = (item) => LATER[item.result] || 0;
  const waiting = items.filter((item) => isLeft(item) && !item.waits);
  waiting.sort((a, b) => rank(a) - rank(b) || a.position - b.position);
  return waiting[0] || null;
}
