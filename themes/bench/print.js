// The keys that print: where a card set was made for paper, it is printed and not the page.
"use strict";

const set = document.querySelector("a[data-steps]");
if (set) {
  document.querySelector("[data-print-keys]").hidden = false;
  let frame;
  const print = () => {
    // A browser without a viewer of its own, or one that keeps it shut off from the page, opens the file instead.
    try {
      frame.contentWindow.print();
    } catch {
      location.assign(set.href);
    }
  };
  addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.shiftKey || event.key.toLowerCase() !== "p") return;
    event.preventDefault();
    if (frame) return print();
    if (navigator.pdfViewerEnabled === false) return location.assign(set.href);
    frame = document.createElement("iframe");
    frame.className = "unseen";
    frame.title = set.textContent;
    frame.tabIndex = -1;
    frame.addEventListener("load", print, { once: true });
    frame.src = set.href;
    document.body.append(frame);
  });
}
