// A check's page reckons with the reader's own figures: the same worker as the rider's page, started at the first use.

import { Dropped, Engine, hindrance } from "./engine.js";
import { keptOffline } from "./keeping.js";

const form = document.querySelector("[data-reckon]");
const words = JSON.parse(document.getElementById("rider-words").textContent);
const told = form.querySelector("[role=status]");
const answer = form.querySelector(".reckoned");
const offline = form.querySelector("[data-offline]");
const here = new URL("./", import.meta.url);
let keeping = null;

const engine = new Engine(here, {
  progress: (got, of) => (told.textContent = words.loading.replace("{got}", (got / 1e6).toFixed(1)).replace("{of}", (of / 1e6).toFixed(1))),
  starting: () => (told.textContent = words.starting),
  ready: () => (told.textContent = ""),
  failed: (why) => (told.textContent = words.failures[why] ?? words.failures.broken),
});

async function reckon() {
  if (!engine.worker) engine.start();
  const inputs = Object.fromEntries([...new FormData(form)].map(([name, text]) => [name, String(text)]));
  try {
    const found = await engine.ask("reckon", { do: "reckon", check: form.dataset.reckon, inputs });
    told.textContent = found.wrong ?? "";
    keeping ??= keptOffline(here).then((kept) => (offline.hidden = !kept));
    if (found.wrong) return;
    const read = new DOMParser().parseFromString(found.html, "text/html");
    answer.replaceChildren(...document.importNode(read.body, true).childNodes);
  } catch (error) {
    if (!(error instanceof Dropped)) throw error;
  }
}

if (!hindrance()) {
  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    reckon();
  });
  form.addEventListener("input", () => engine.worker && reckon());
}
