// Whose turn it is, from what the server told and what was tapped here: the last outcome by the phone's clock counts.
"use strict";

const FINAL = ["enrolled", "removed", "cannot"];

function standing(items, tapped) {
  return items.map((item) => {
    let last = item.at ? { result: item.result || "undone", made_at: item.at, outcome: "" } : null;
    for (const one of tapped) {
      if (one.item !== item.item || one.rejected) continue;
      if (!last || one.made_at > last.made_at || (one.made_at === last.made_at && one.outcome > last.outcome)) last = one;
    }
    const result = last && last.result !== "undone" ? last.result : null;
    return { ...item, result, at: last ? last.made_at : null };
  });
}

function turnOf(items) {
  const rank = (item) => ({ try_again: 1, did_not_come: 2 })[item.result] || 0;
  const waiting = items.filter((item) => !FINAL.includes(item.result));
  waiting.sort((a, b) => rank(a) - rank(b) || a.position - b.position);
  return waiting[0] || null;
}
