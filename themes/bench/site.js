// Ticks that stay, and lists that can be searched. Everything works without this file.
"use strict";

const line = document.querySelector("[data-ticks]");
if (line) {
  const boxes = [...document.querySelectorAll("input[data-tick]")];
  const steps = boxes.filter((box) => box.dataset.tick.startsWith("step-"));
  const start = document.querySelector("a.start");
  const words = start?.textContent;
  const key = "ticks " + location.pathname + " " + line.dataset.ticks;
  const count = () => {
    line.querySelector("output").textContent = steps.filter((box) => box.checked).length;
    // Who comes back goes on where the ticks end.
    const next = steps.find((box) => !box.checked);
    if (!start || !next) return;
    const label = next.closest(".tick").querySelector(".number").lastChild.textContent.trim();
    start.href = "#" + next.dataset.tick;
    start.textContent = next === steps[0] ? words : start.dataset.on.replace("{label}", label);
  };
  const keep = () => {
    try {
      localStorage.setItem(key, boxes.filter((box) => box.checked).map((box) => box.dataset.tick).join(" "));
    } catch {
      // Private windows may have no storage; the ticks then last as long as the page.
    }
    count();
  };
  try {
    const ticked = new Set((localStorage.getItem(key) || "").split(" "));
    for (const box of boxes) box.checked = ticked.has(box.dataset.tick);
  } catch {
    // As above.
  }
  for (const box of boxes) box.addEventListener("change", keep);
  line.querySelector("button").addEventListener("click", () => {
    for (const box of boxes) box.checked = false;
    keep();
  });
  line.hidden = false;
  count();
}

// A link to what is folded away opens it.
const unfold = () => {
  const aim = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!aim) return;
  for (const fold of [aim.closest("details"), aim.querySelector(":scope > details")]) if (fold) fold.open = true;
};
addEventListener("hashchange", unfold);
unfold();

for (const field of document.querySelectorAll("[data-filter]")) {
  const list = document.getElementById(field.dataset.filter);
  const items = [...list.querySelectorAll(list.querySelector("[data-group]") ? "[data-group] > ul > li" : ":scope > *")];
  const status = field.closest(".filter").querySelector("[role=status]");
  field.closest(".filter").hidden = false;
  field.addEventListener("input", () => {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    let left = 0;
    for (const item of items) {
      const text = item.textContent.toLowerCase();
      item.hidden = !words.every((word) => text.includes(word));
      left += item.hidden ? 0 : 1;
    }
    for (const group of list.querySelectorAll("[data-group]")) {
      group.hidden = ![...group.querySelectorAll(":scope > ul > li")].some((item) => !item.hidden);
    }
    status.textContent = left ? "" : status.dataset.none;
  });
}

// A site that comes from a host is kept for when there is no network, and can be installed; one in a folder needs neither.
if (location.protocol.startsWith("http")) {
  const site = new URL("../", document.querySelector('script[src$="assets/site.js"]').src);
  const link = document.createElement("link");
  link.rel = "manifest";
  link.href = new URL("site.webmanifest", site);
  document.head.append(link);
  // Kept after the page is there, so that it does not wait; a browser that forbids it reads the site all the same.
  addEventListener("load", () => navigator.serviceWorker?.register(new URL("sw.js", site), { scope: site.pathname }).catch(() => {}));
}
