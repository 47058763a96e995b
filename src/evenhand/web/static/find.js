// The key / leads to the search of the page, unless it was switched off on the page Find: a key by itself must be one
// that can be switched off (WCAG 2.2, 2.1.4). Without this script the search serves as well.
"use strict";

const KEY = "/";
const OFF = "evenhand-find-key-off";
const search = document.getElementById("find");
const isWriting = (at) => at.isContentEditable || /^(input|select|textarea)$/i.test(at.tagName);

function isOff() {
  try {
    return localStorage.getItem(OFF) === "yes";
  } catch {
    return false; // a browser that keeps nothing
  }
}

function tell() {
  const on = !isOff();
  if (on) search.setAttribute("aria-keyshortcuts", KEY);
  else search.removeAttribute("aria-keyshortcuts");
  const told = document.getElementById("shortcut");
  if (!told) return;
  told.hidden = false;
  for (const part of told.querySelectorAll("span, button")) part.textContent = on ? part.dataset.on : part.dataset.off;
}

document.addEventListener("keydown", (pressed) => {
  if (pressed.key !== KEY || pressed.ctrlKey || pressed.metaKey || pressed.altKey || pressed.isComposing) return;
  if (isOff() || isWriting(pressed.target)) return;
  pressed.preventDefault();
  search.focus();
  search.select();
});

document.querySelector("#shortcut button")?.addEventListener("click", () => {
  localStorage.setItem(OFF, isOff() ? "no" : "yes");
  tell();
});

tell();
