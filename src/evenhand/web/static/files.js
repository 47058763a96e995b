// The page that files are put on: shows how far they are. Without it the form is sent as any other.
"use strict";

const form = document.getElementById("drop");
const at = (id) => document.getElementById(id);
const said = at("drop-progress").dataset; // in the language of the page

function fail(sentence) {
  at("drop-fault").textContent = sentence;
  at("drop-progress").hidden = true;
  form.querySelector("button").disabled = false;
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  const sent = new XMLHttpRequest();
  sent.open("POST", form.action);
  sent.setRequestHeader("accept", "text/plain");
  sent.upload.addEventListener("progress", (now) => {
    if (!now.lengthComputable) return;
    const part = Math.round((100 * now.loaded) / now.total);
    at("drop-bar").value = part;
    at("drop-said").textContent = part < 100 ? `${part} %` : said.kept;
  });
  sent.addEventListener("load", () => {
    if (sent.status === 200) {
      location.assign(sent.responseText);
      return;
    }
    const page = new DOMParser().parseFromString(sent.responseText, "text/html");
    fail(page.querySelector(".trouble p")?.textContent || said.failed);
  });
  sent.addEventListener("error", () => fail(said.broken));
  at("drop-fault").textContent = "";
  at("drop-progress").hidden = false;
  form.querySelector("button").disabled = true;
  sent.send(new FormData(form));
});

// What was chosen is looked at, as what is dropped is; nothing is taken before somebody says so.
at("drop-at-once").hidden = false;
at("file").addEventListener("change", () => at("file").files.length && form.requestSubmit());

for (const name of ["dragenter", "dragover"]) form.addEventListener(name, (event) => {
  event.preventDefault();
  form.classList.add("over");
});
for (const name of ["dragleave", "drop"]) form.addEventListener(name, () => form.classList.remove("over"));
form.addEventListener("drop", (event) => {
  event.preventDefault();
  if (!event.dataTransfer.files.length) return;
  at("file").files = event.dataTransfer.files;
  form.requestSubmit();
});
