// Finds as one types, over the whole site, without asking a server. What can be found is fetched when it is first asked
// for. Without this file the field leads to the page of lists.
"use strict";

{
  const assets = new URL("./", document.currentScript.src);
  const MOST = 12;
  // A longer list begins with what a reader most likely came for.
  const WEIGHT = { guide: 1.7, fault: 1.5, bike: 1.3, card: 1, tool: 1, fastener: 0.8, part: 0.7, term: 0.9, check: 0.7, step: 0.5 };
  const EMPTY = new Set("a an and as at by for from i in is it its my of on or so that the this to what when with".split(" "));

  // Words are compared without accents and without the endings of plain English; 'skipping' meets 'skips'.
  const stem = (word) => {
    const plain = word.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
    if (EMPTY.has(plain)) return null;
    if (plain.length < 4 || /\d/.test(plain)) return plain;
    return plain.replace(/(?:ing|ed|es|s)$/, "").replace(/([^aeioulsf])\1$/, "$1").replace(/e$/, "");
  };

  let ready = null;
  const fetched = (name) =>
    new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = new URL(name, assets);
      script.onload = resolve;
      script.onerror = reject;
      document.head.append(script);
    });
  const prepare = () => {
    ready ??= Promise.all([fetched("vendor/minisearch.js"), fetched("find-index.js")]).then(() => {
      const search = new MiniSearch({
        fields: ["title", "text", "also"],
        storeFields: ["kind", "title", "text", "path", "share"],
        processTerm: stem,
        searchOptions: {
          boost: { title: 3, also: 2 },
          prefix: (term) => term.length > 1,
          fuzzy: (term) => (term.length > 3 && !/\d/.test(term) ? 0.25 : false),
          maxFuzzy: 2,
          weights: { fuzzy: 0.3, prefix: 0.6 },
          // What few of the bikes here have is less likely meant.
          boostDocument: (id, term, stored) => (WEIGHT[stored.kind] ?? 1) * (0.25 + 0.75 * stored.share),
        },
      });
      const seen = new Set();
      const add = (rows) => {
        for (const [kind, title, text, path, also, share] of rows) {
          const id = `${path} ${kind} ${title} ${text}`;
          if (!seen.has(id)) search.add({ id, kind, title, text, path, also, share });
          seen.add(id);
        }
      };
      add(self.spannerleafIndex);
      return { search, add, parts: new Set(self.spannerleafParts) };
    });
    return ready;
  };
  // What is about single bikes of a large fleet is fetched by how the words begin; what can't be fetched isn't found.
  const beginnings = (words) =>
    (words.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [])
      .map((word) => [...word].slice(0, 2).map((sign) => sign.codePointAt(0).toString(16)).join("-"));
  const widen = async ({ add, parts }, words) => {
    const wanted = beginnings(words).filter((key) => parts.delete(key));
    await Promise.all(wanted.map((key) => fetched(`find/${key}.js`).then(() => add(self.spannerleafMore[key])).catch(() => {})));
  };

  const found = (search, words, only) => {
    const filter = only ? (one) => one.kind === only : undefined;
    const all = search.search(words, { combineWith: "AND", filter });
    return all.length ? all : search.search(words, { filter });
  };

  const line = (one, kinds) => {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = new URL("../" + one.path, assets);
    const title = document.createElement("b");
    title.textContent = one.title.charAt(0).toUpperCase() + one.title.slice(1);
    const detail = document.createElement("span");
    detail.className = "detail";
    detail.textContent = `${kinds[one.kind] ?? one.kind} · ${one.text}`;
    link.append(title, detail);
    item.append(link);
    return item;
  };

  for (const form of document.querySelectorAll(".finder")) {
    const field = form.querySelector("input");
    const box = form.querySelector(".found");
    const list = box.querySelector("ul");
    const status = box.querySelector("[role=status]");
    const kinds = JSON.parse(form.dataset.kinds);
    const links = () => [...list.querySelectorAll("a")];

    const show = async () => {
      const words = field.value.trim();
      if (words.length < 2) {
        box.hidden = true;
        return;
      }
      let search;
      try {
        const all = await prepare();
        await widen(all, words);
        search = all.search;
      } catch {
        return; // the lists are still there: Enter leads to them
      }
      if (field.value.trim() !== words) return; // typed on meanwhile
      const all = found(search, words, form.dataset.only);
      list.replaceChildren(...all.slice(0, MOST).map((one) => line(one, kinds)));
      status.textContent = all.length ? form.dataset.count.replace("{count}", all.length) : form.dataset.none;
      box.hidden = false;
    };
    const close = () => {
      box.hidden = true;
    };

    field.addEventListener("focus", () => prepare().catch(() => {}), { once: true });
    field.addEventListener("input", show);
    form.addEventListener("submit", (event) => {
      const first = !box.hidden && links()[0];
      if (!first) return;
      event.preventDefault();
      first.click();
    });
    form.addEventListener("keydown", (event) => {
      const all = links();
      const at = all.indexOf(document.activeElement);
      if (event.key === "Escape" && !box.hidden) {
        close();
        field.focus();
      } else if (event.key === "ArrowDown" && !box.hidden && at + 1 < all.length) {
        all[at + 1].focus();
      } else if (event.key === "ArrowUp" && at >= 0) {
        (at ? all[at - 1] : field).focus();
      } else return;
      event.preventDefault();
    });
    if (!form.hasAttribute("data-stays")) {
      document.addEventListener("pointerdown", (event) => form.contains(event.target) || close());
    }
    const asked = form.closest("main") && new URLSearchParams(location.search).get("q");
    if (asked) {
      field.value = asked;
      show();
    }
  }
}
