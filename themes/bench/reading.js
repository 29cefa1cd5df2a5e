// One step at a time: large targets, by finger or by key, the screen kept on, the place remembered on this device.
// The page holds everything without this file; here only what is not at hand is put out of sight.
"use strict";

const bar = document.querySelector("[data-reader]");
const opener = document.querySelector("[data-read]");
if (bar && opener) {
  const panes = [...document.querySelectorAll("[data-pane]")];
  const status = bar.querySelector("[role=status]");
  const forward = bar.querySelector("[data-go=next]");
  const key = "place " + location.pathname + " " + bar.dataset.reader;
  const firstStep = panes.findIndex((pane) => pane.classList.contains("step"));
  const steps = panes.filter((pane) => pane.classList.contains("step"));
  let now = 0;
  let lock = null;
  let folded = [];

  const stored = () => {
    try {
      return panes.findIndex((pane) => pane.id && pane.id === localStorage.getItem(key));
    } catch {
      return -1; // Private windows may have no storage.
    }
  };
  const store = () => {
    try {
      localStorage.setItem(key, panes[now].id);
    } catch {
      // As above.
    }
  };
  const nameOf = (pane) =>
    pane.classList.contains("step")
      ? pane.querySelector(".number").lastChild.textContent.trim()
      : pane.querySelector("summary h2")?.textContent || "";

  // Not every browser has the lock, and one that has it may refuse it when the battery is low.
  const stayAwake = async () => {
    try {
      lock = await navigator.wakeLock.request("screen");
      bar.classList.add("awake");
      lock.addEventListener("release", () => bar.classList.remove("awake"));
    } catch {
      lock = null;
    }
  };

  const show = (number) => {
    now = Math.max(0, Math.min(panes.length - 1, number));
    for (const one of document.querySelectorAll("article .now")) one.classList.remove("now");
    const pane = panes[now];
    pane.classList.add("now");
    pane.closest(".section")?.classList.add("now");
    const place = steps.indexOf(pane);
    status.textContent = place < 0 ? nameOf(pane) : `${nameOf(pane)} · ${place + 1} / ${steps.length}`;
    forward.textContent = place < 0 ? forward.dataset.next : forward.dataset.done;
    forward.disabled = now === panes.length - 1;
    bar.querySelector("[data-go=back]").disabled = now === 0;
    pane.tabIndex = -1;
    pane.focus({ preventScroll: true });
    scrollTo(0, 0);
    store();
  };
  const next = () => {
    const box = panes[now].classList.contains("step") && panes[now].querySelector("input[data-tick]");
    if (box && !box.checked) box.click();
    show(now + 1);
  };
  const open = () => {
    folded = panes.flatMap((pane) => [...pane.querySelectorAll(":scope > details:not([open])")]);
    for (const fold of folded) fold.open = true;
    document.body.classList.add("reading");
    bar.hidden = false;
    stayAwake();
    show(Math.max(0, stored()));
  };
  const close = () => {
    for (const fold of folded) fold.open = false;
    document.body.classList.remove("reading");
    bar.hidden = true;
    lock?.release();
    lock = null;
    opener.textContent = labelOf();
    panes[now].scrollIntoView();
    opener.focus({ preventScroll: true });
  };
  const labelOf = () => {
    const place = stored();
    return place < firstStep || place < 0 || !nameOf(panes[place])
      ? opener.dataset.read
      : opener.dataset.on.replace("{label}", nameOf(panes[place]));
  };

  opener.addEventListener("click", open);
  for (const [name, act] of [["back", () => show(now - 1)], ["next", next], ["close", close]]) {
    bar.querySelector(`[data-go=${name}]`).addEventListener("click", act);
  }
  addEventListener("keydown", (event) => {
    if (bar.hidden || event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input[type=search]")) return;
    const act = { ArrowRight: next, ArrowLeft: () => show(now - 1), Escape: close }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  });
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden && !bar.hidden) stayAwake(); // a browser lets go of the lock when the page is out of sight
  });
  opener.textContent = labelOf();
  opener.hidden = false;
}
