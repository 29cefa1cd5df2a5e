// The rider's page: a talk about one bike, what comes of it, and the bikes that are kept. It reckons nothing itself.

import { Dropped, Engine, hindrance } from "./engine.js";
import { keptOffline } from "./keeping.js";
import { asLetters, fromLetters, keep, keptBikes, newBike } from "./bikes.js";
import { cardInFrame, printed } from "./sides.js";

const words = JSON.parse(document.getElementById("rider-words").textContent);
const at = (name) => document.getElementById(name);
const here = new URL("./", import.meta.url);
const root = new URL("../", here);
const state = { ...keptBikes(), guide: "", lacks: [], question: null, places: [], shown: null, error: "" };

/** An element with its text and what else it has; no text is ever read as markup. */
function element(name, { text, on, ...rest } = {}, ...children) {
  const made = document.createElement(name);
  if (text !== undefined) made.textContent = text;
  for (const [key, value] of Object.entries(rest)) {
    if (key in made && typeof value !== "string") made[key] = value;
    else made.setAttribute(key, value);
  }
  for (const [event, act] of Object.entries(on ?? {})) made.addEventListener(event, act);
  made.append(...children);
  return made;
}
const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
// What is shown first comes before what a later visit needs.
const KEEP_AFTER_MS = 2000;
// Stands for a part that is told of by its figures, among those of the list.
const BY_FIGURES = " ";
const megabytes = (bytes) => (bytes / 1e6).toFixed(1);

// --- the bikes ---------------------------------------------------------------------------------------

const bike = () => state.bikes.find((one) => one.key === state.current) ?? null;

function save() {
  state.kept = keep(state.bikes, state.current);
  at("not-kept").hidden = state.kept;
}

function add(made) {
  state.bikes.push(made);
  state.current = made.key;
  save();
}

function freeName() {
  const taken = new Set(state.bikes.map((one) => one.name));
  let name = words.my_bike;
  for (let number = 2; taken.has(name); number += 1) name = `${words.my_bike} ${number}`;
  return name;
}

function showBikes() {
  at("bike").replaceChildren(...state.bikes.map((one) => element("option", { text: one.name, value: one.key, selected: one.key === state.current })));
  at("bike-name").value = bike().name;
}

// --- the worker --------------------------------------------------------------------------------------

const engine = new Engine(here, {
  progress(got, of) {
    at("bar").max = of;
    at("bar").value = got;
    at("loading-words").textContent = fill(words.loading, { got: megabytes(got), of: megabytes(of) });
  },
  starting() {
    at("bar").removeAttribute("value");
    at("loading-words").textContent = words.starting;
  },
  ready() {
    const focus = document.activeElement === at("loading");
    at("loading").hidden = true;
    if (focus) (state.guide ? at("show-now") : at("guide")).focus();
  },
  failed(why, what) {
    at("loading").hidden = true;
    at("failed-words").textContent = words.failures[why] ?? words.failures.broken;
    at("failed-what").textContent = what;
    at("failed").hidden = false;
    at("busy").hidden = true;
  },
});

function startEngine() {
  at("failed").hidden = true;
  at("loading").hidden = false;
  engine.start();
  talk();
}

/** As `startEngine`; the button that was pressed is gone then. */
function startAgain() {
  const focus = !at("failed").hidden;
  startEngine();
  if (focus) at("loading").focus();
}

/** What the worker needs for one bike, one guide and the parts named for it. */
const asked = () => ({
  guide: state.guide,
  bike: { name: bike().name, answers: bike().answers },
  parts: Object.entries(bike().parts[state.guide] ?? {}).filter(([, part]) => part !== BY_FIGURES).map(([role, part]) => `${role}=${part}`),
  described: Object.fromEntries(
    Object.entries(bike().parts[state.guide] ?? {}).filter(([, part]) => part === BY_FIGURES).map(([role]) => [role, bike().described[state.guide]?.[role] ?? {}]),
  ),
});

async function ask(place, body) {
  at("busy").hidden = false;
  try {
    const found = await engine.ask(place, body);
    at("busy").hidden = true;
    setTimeout(keepOffline, KEEP_AFTER_MS);
    if (!found.wrong) return found;
    say(found.wrong);
  } catch (error) {
    if (!(error instanceof Dropped)) throw error;
  }
  return null;
}

// --- the talk ----------------------------------------------------------------------------------------

async function talk({ focus = false } = {}) {
  if (!state.guide) return;
  state.lacks = [];
  const found = await ask("talk", { do: "talk", ...asked() });
  if (!found) return;
  takeBack(found["wrong-answers"]);
  state.question = found.question;
  state.places = found.places;
  showTold(found.told);
  showPlaces();
  showQuestion(focus);
  if (!state.question) await fit({ focus });
}

async function fit({ focus = false } = {}) {
  const found = await ask("fit", { do: "fit", ...asked() });
  if (!found) return;
  const wrong = takeBack(found["wrong-answers"]);
  state.shown = found;
  state.lacks = found.lacks ?? [];
  showResult(found);
  if (wrong || !state.question) {
    state.question = state.lacks[0] ?? null;
    showQuestion(focus);
  }
}

/** Answers that could not be taken are forgotten, and the reason of the first is told beside the question. */
function takeBack(wrong) {
  const names = Object.keys(wrong ?? {});
  for (const name of names) delete bike().answers[name];
  if (names.length) {
    state.error = wrong[names[0]];
    save();
  }
  return names.length > 0;
}

function answer(text) {
  const { id } = state.question;
  bike().answers[id] = text;
  save();
  const ofChecks = state.lacks.some((one) => one.id === id);
  if (!ofChecks) return talk({ focus: true });
  // What a check lacks hangs on no other answer, so that the next is put at once.
  state.lacks = state.lacks.filter((one) => one.id !== id);
  state.question = state.lacks[0] ?? null;
  showQuestion(true);
  const retell = () => engine.ask("told", { do: "talk", ...asked() }).then((found) => showTold(found.told), () => {});
  // A figure left open changes nothing: the guide that is shown asks for it already.
  return text ? fit().then(retell) : retell();
}

function showQuestion(focus) {
  const box = at("question");
  const question = state.question;
  at("done").hidden = Boolean(question);
  at("show-now").hidden = !question;
  box.hidden = !question;
  if (!question) {
    box.replaceChildren();
    if (focus) (at("result").hidden ? at("done") : at("result-title")).focus();
    return;
  }
  const legend = element("legend", { text: question.words, tabindex: "-1", id: "question-words" });
  const inside = [legend];
  if (question.how.length) inside.push(element("ul", { class: "how" }, ...question.how.map((text) => element("li", { text }))));
  if (question.limit) inside.push(element("p", { text: fill(words.limit, { limit: question.limit }) }));
  if (question.checks.length) inside.push(element("p", { class: "fine", text: fill(words.for_checks, { checks: question.checks.join("; ") }) }));
  if (question.kind === "choice") {
    inside.push(
      element("div", { class: "choices" }, ...question.cases.map(([value, text]) => element("button", { type: "button", class: "choice", text, on: { click: () => answer(value) } }))),
    );
  } else {
    const field = element("input", { type: "text", id: "said", autocomplete: "off", maxlength: "200", "aria-labelledby": "question-words", "aria-describedby": "said-help said-wrong" });
    const take = () => (field.value.trim() ? answer(field.value.trim()) : field.focus());
    field.addEventListener("keydown", (event) => event.key === "Enter" && (event.preventDefault(), take()));
    inside.push(
      element("p", { class: "fine", id: "said-help", text: question.span ? fill(question["has-unit"] ? words.span : words.span_bare, { span: question.span }) : "" }),
      element("p", { class: "said" }, field, element("button", { type: "button", text: words.take, on: { click: take } })),
    );
  }
  inside.push(
    element("p", { class: "wrong", id: "said-wrong", role: "alert", text: state.error }),
    element("p", {}, element("button", { type: "button", id: "not-known", text: words.not_known, on: { click: () => answer("") } }), element("span", { class: "fine", text: words.not_known_leads })),
  );
  box.replaceChildren(element("fieldset", {}, ...inside));
  if (question.kind !== "choice" && question.id.includes(".")) showFigure(question);
  if (focus || state.error) (state.error ? at("said") ?? legend : legend).focus();
  state.error = "";
}

/** How it is measured, as a drawing, where there is one and the question still stands. */
async function showFigure(question) {
  let found;
  try {
    found = await engine.ask("figure", { do: "figure", question: question.id });
  } catch {
    return;
  }
  if (!found.svg || state.question !== question) return;
  const read = new DOMParser().parseFromString(found.svg, "text/html").querySelector("svg");
  const figure = element("figure", {}, document.importNode(read, true));
  if (found.legend.length) figure.append(element("ol", { class: "fine" }, ...found.legend.map((text) => element("li", { text }))));
  at("question").querySelector("legend").after(figure);
}

function showTold(told) {
  at("told").hidden = !told.length;
  at("told-count").textContent = fill(words.told, { count: told.length });
  at("told-list").replaceChildren(
    ...told.map((one) =>
      element(
        "li",
        {},
        element("span", { text: one.words }),
        element("b", { text: one.answer || words.left_open }),
        element("button", {
          type: "button",
          text: words.take_back,
          "aria-label": `${words.take_back}: ${one.words}`,
          on: {
            click() {
              delete bike().answers[one.id];
              save();
              talk({ focus: true });
            },
          },
        }),
      ),
    ),
  );
}

function showPlaces() {
  const chosen = bike().parts[state.guide] ?? {};
  at("wanted").hidden = !state.places.length;
  at("places").replaceChildren(...state.places.map((place) => showPlace(place, chosen)));
}

function showPlace({ role, words: name, required, parts, figures }, chosen) {
  const options = parts.map(([id, text, stocked]) => element("option", { value: id, text: stocked ? `${text} (${words.in_stock})` : text, selected: chosen[role] === id }));
  const change = ({ target }) => {
    const named = { ...(bike().parts[state.guide] ?? {}) };
    if (target.value) named[role] = target.value;
    else delete named[role];
    bike().parts[state.guide] = named;
    save();
    showPlaces();
    at(target.id).focus();
    if (target.value !== BY_FIGURES && (!state.question || state.shown)) fit();
  };
  const select = element(
    "select",
    { id: `part-${role}`, on: { change } },
    element("option", { value: "", text: required ? words.choose_part : words.no_part }),
    ...options,
    element("option", { value: BY_FIGURES, text: words.by_figures, selected: chosen[role] === BY_FIGURES }),
  );
  const place = element("div", {}, element("p", {}, element("label", { for: `part-${role}`, text: name }), select));
  if (chosen[role] === BY_FIGURES) place.append(...figures.map((one) => showPartFigure(role, one)), element("button", { type: "button", text: words.by_figures_take, on: { click: () => fit() } }));
  return place;
}

/** One figure of a part that is told of by its figures. */
function showPartFigure(role, { key, words: name, cases, span }) {
  const held = bike().described[state.guide]?.[role]?.[key] ?? "";
  const change = ({ target }) => {
    const guide = (bike().described[state.guide] ??= {});
    (guide[role] ??= {})[key] = target.value.trim();
    save();
  };
  const id = `figure-${role}-${key}`;
  const field = cases.length
    ? element("select", { id, on: { change } }, element("option", { value: "", text: words.not_known }), ...cases.map((one) => element("option", { value: one, text: one.replaceAll("-", " "), selected: one === held })))
    : element("input", { id, type: "text", value: held, autocomplete: "off", maxlength: "120", "aria-describedby": `${id}-span`, on: { change } });
  return element("p", {}, element("label", { for: id, text: name }), field, element("span", { class: "fine", id: `${id}-span`, text: span }));
}

// --- what comes of it --------------------------------------------------------------------------------

function say(text) {
  at("result-state").textContent = text;
  at("result").hidden = false;
}

function listed(into, texts) {
  at(into).replaceChildren(...(texts ?? []).map((text) => element("li", { text })));
  at(into).hidden = !texts?.length;
}

function showResult(found) {
  at("result").hidden = false;
  at("result-state").textContent = words.states[found.state];
  listed("reasons", found.reasons);
  listed("not-judged", found["not-judged"]);
  at("not-judged-title").hidden = !found["not-judged"]?.length;
  at("command").textContent = found.command;
  const isGuide = Boolean(found.html);
  at("printing").hidden = found.state !== "ready";
  at("lacking").hidden = !state.lacks.length;
  at("lacking").textContent = state.lacks.length ? fill(words.lacking, { count: state.lacks.length }) : "";
  at("guide-of-bike").hidden = !isGuide;
  at("guide-of-bike").replaceChildren(...(isGuide ? contentOf(found.html, found.path) : []));
  const ticked = bike().ticks[state.guide] ?? "";
  for (const box of ticks()) box.checked = ticked.split(" ").includes(box.dataset.tick);
}

const ticks = () => [...at("guide-of-bike").querySelectorAll("input[data-tick]")];

/** What is done is kept with the bike, and goes with it. */
function keepTicks() {
  bike().ticks[state.guide] = ticks().filter((box) => box.checked).map((box) => box.dataset.tick).join(" ");
  save();
}

/** What stands in the main part of a page of the site, with its links as they lead from here. */
function contentOf(html, path) {
  const page = new DOMParser().parseFromString(html, "text/html");
  const own = new URL(path, root);
  const folder = own.href.replace(/\/[^/]*$/, "");
  for (const link of page.querySelectorAll("#content a[href]")) {
    const written = link.getAttribute("href");
    if (written.startsWith("#")) continue;
    const leads = new URL(written, own);
    // A page of the rider's bike is nowhere but here.
    if (leads.href === `${folder}.html` || leads.href.startsWith(`${folder}/`)) {
      if (link.classList.contains("button")) link.remove();
      else link.replaceWith(...link.childNodes);
    }
    else link.href = leads.href;
  }
  for (const over of page.querySelectorAll("#content .over")) if (!over.querySelector("a")) over.remove();
  for (const photo of page.querySelectorAll("#content image")) photo.setAttribute("href", new URL(photo.getAttribute("href"), own).href);
  for (const line of page.querySelectorAll("#content [data-ticks]")) line.remove();
  // The page has a heading of its own; what stands within it begins a level lower.
  for (const heading of page.querySelectorAll("#content h1")) {
    const lower = page.createElement("h2");
    lower.className = "as-title";
    lower.replaceChildren(...heading.childNodes);
    heading.replaceWith(lower);
  }
  const content = page.getElementById("content");
  return content ? [...document.adoptNode(content).childNodes] : [];
}

/** A link to a place in the guide leads there, and leaves the address of the page as it is. */
function leadWithin(event) {
  const link = event.target.closest("a[href^='#']");
  const place = link && document.getElementById(link.getAttribute("href").slice(1));
  if (!place) return;
  event.preventDefault();
  place.setAttribute("tabindex", "-1");
  place.focus({ preventScroll: true });
  place.scrollIntoView();
}

function showPapers() {
  const form = at("form").value;
  for (const option of at("paper").options) option.disabled = !words.papers[form].includes(option.value);
  if (at("paper").selectedOptions[0]?.disabled !== false) at("paper").value = words.papers[form][0];
}

async function print() {
  const body = { do: "card", ...asked(), form: at("form").value, paper: at("paper").value };
  const found = await ask("card", body);
  if (!found) return;
  const frame = await cardInFrame(found, (request) => ask("sides", request), root);
  if (!frame) return;
  frame.title = words.print;
  const told = [frame.dataset.sides && fill(words.sides, { count: frame.dataset.sides }), frame.dataset.lacking && words.no_photo];
  at("sides").textContent = told.filter(Boolean).join(" ");
  printed(frame);
}

// --- the bike's own page, its wear book, and lower gears ----------------------------------------------

async function showBikePage() {
  const found = await ask("bike", { do: "bike", ...asked(), guide: state.guide });
  if (!found) return;
  at("bike-page").replaceChildren(...contentOf(found.html, found.path));
  at("bike-page").hidden = false;
}

async function noteReading(event) {
  event.preventDefault();
  const date = at("wear-date").value;
  const given = { [at("wear-what").value]: at("wear-figure").value.trim(), distance: at("wear-distance").value.trim() };
  for (const [fact, text] of Object.entries(given)) if (text) bike().answers[`wear.${date}.${fact}`] = text;
  const found = await ask("bike", { do: "bike", ...asked(), guide: state.guide });
  const wrong = Object.entries(found?.["wrong-answers"] ?? {});
  for (const [name] of wrong) delete bike().answers[name];
  at("wear-wrong").textContent = wrong.map(([, why]) => why).join("; ");
  save();
  if (!wrong.length) event.target.reset();
  await showBikePage();
}

async function findLower(event) {
  event.preventDefault();
  const found = await ask("lower", { do: "lower", ...asked(), by: at("lower-by").value });
  if (!found) return (at("lower-none").textContent = at("result-state").textContent);
  at("lower-none").textContent = found.sets.length ? "" : words.lower_none;
  at("lower-sets").replaceChildren(
    ...found.sets.map(({ parts, guide, lines }) =>
      element(
        "li",
        {},
        element("b", { text: lines[0] }),
        element("ul", {}, ...lines.slice(1).map((text) => element("li", { text }))),
        element("button", {
          type: "button",
          hidden: !guide,
          text: words.lower_take,
          on: {
            click() {
              chooseGuide(guide);
              bike().parts[state.guide] = parts;
              save();
              talk({ focus: true });
            },
          },
        }),
      ),
    ),
  );
  return null;
}

// --- files -------------------------------------------------------------------------------------------

async function openFile(event) {
  const [file] = event.target.files;
  event.target.value = "";
  if (!file) return;
  at("opened").hidden = false;
  at("opened-diagnostics").textContent = "";
  at("opened-diagnostics").parentElement.hidden = true;
  if (file.size > 50_000) {
    at("opened-words").textContent = words.too_large;
    return;
  }
  const found = await ask("open", { do: "open", name: file.name, text: await file.text() });
  if (!found) return (at("opened-words").textContent = at("result-state").textContent);
  at("opened-diagnostics").textContent = found.diagnostics;
  at("opened-diagnostics").parentElement.hidden = !found.diagnostics;
  if (!found.bike) return (at("opened-words").textContent = words.opened_not);
  const left = found["left-out"];
  at("opened-words").textContent = fill(left.length ? words.opened_but : words.opened, { name: found.bike.name, left: left.join("; ") });
  add({ ...newBike(found.bike.name), answers: found.bike.answers, parts: found.bike.parts });
  showBikes();
  chooseGuide(state.guide);
  talk();
}

async function saveFile() {
  const found = await ask("file", { do: "file", ...asked() });
  if (!found) return;
  const address = URL.createObjectURL(new Blob([found.text], { type: "application/yaml" }));
  const link = element("a", { href: address, download: found.name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

// --- links, and what the page is opened with ---------------------------------------------------------

const inFragment = () => new URLSearchParams(location.hash.slice(1));

function offered() {
  const given = fromLetters(inFragment().get("bike"));
  at("offered").hidden = !given;
  if (!given) return;
  at("offered-words").textContent = fill(words.offered, { name: given.name, count: Object.keys(given.answers).length });
  listed("offered-list", Object.entries(given.answers).map(([name, said]) => `${name}: ${said || words.left_open}`));
  const end = () => {
    history.replaceState(null, "", `#for=${encodeURIComponent(state.guide)}`);
    at("offered").hidden = true;
    at("guide").focus();
  };
  at("offered-take").onclick = () => {
    add({ ...newBike(given.name), answers: given.answers, parts: given.parts, described: given.described });
    end();
    showBikes();
    talk();
  };
  at("offered-leave").onclick = end;
}

function chooseGuide(name) {
  const known = [...at("guide").options].some((one) => one.value === name);
  state.guide = known ? name : "";
  at("guide").value = state.guide;
  at("talk").hidden = !state.guide;
  at("result").hidden = true;
  state.shown = null;
  at("generic").hidden = !state.guide;
  at("generic").href = new URL(`guides/${state.guide}.html`, root).href;
}

/** Once, when something was shown. */
async function keepOffline() {
  if (state.keeping) return;
  state.keeping = true;
  at("offline").hidden = !(await keptOffline(here));
}

function begin() {
  const why = hindrance();
  if (why) {
    at("failed-words").textContent = words.failures[why];
    at("failed").hidden = false;
    at("again").hidden = true;
    return;
  }
  if (!bike()) {
    if (state.bikes.length) state.current = state.bikes[0].key;
    else add(newBike(freeName()));
  }
  at("page").hidden = false;
  at("not-kept").hidden = state.kept;
  showBikes();
  chooseGuide(inFragment().get("for") ?? "");
  offered();

  at("guide").addEventListener("change", (event) => {
    chooseGuide(event.target.value);
    history.replaceState(null, "", state.guide ? `#for=${encodeURIComponent(state.guide)}` : "#");
    talk();
  });
  at("bike").addEventListener("change", (event) => {
    state.current = event.target.value;
    save();
    chooseGuide(state.guide);
    showBikes();
    talk();
  });
  at("bike-name").addEventListener("change", (event) => {
    bike().name = event.target.value.trim() || freeName();
    save();
    showBikes();
    talk();
  });
  at("new-bike").addEventListener("click", () => {
    add(newBike(freeName()));
    showBikes();
    chooseGuide(state.guide);
    talk();
    at("bike-name").select();
    at("bike-name").focus();
  });
  at("delete-bike").addEventListener("click", () => at("really").showModal());
  at("really").addEventListener("close", () => {
    if (at("really").returnValue !== "delete") return;
    at("really").returnValue = "";
    state.bikes = state.bikes.filter((one) => one.key !== state.current);
    state.current = state.bikes[0]?.key ?? "";
    save();
    if (!state.bikes.length) state.bikes.push(newBike(words.my_bike));
    state.current = state.bikes[0].key;
    showBikes();
    chooseGuide(state.guide);
    talk();
  });
  at("save-file").addEventListener("click", saveFile);
  at("copy-link").addEventListener("click", async () => {
    const link = new URL(`#for=${encodeURIComponent(state.guide)}&bike=${asLetters(bike())}`, location.href).href;
    at("link").value = link;
    at("link-line").hidden = false;
    at("link").select();
    try {
      await navigator.clipboard.writeText(link);
      at("link-words").textContent = words.link_copied;
    } catch {
      at("link-words").textContent = words.link_shown;
    }
  });
  at("show-now").addEventListener("click", () => fit().then(() => at("result-title").focus()));
  at("guide-of-bike").addEventListener("click", leadWithin);
  at("guide-of-bike").addEventListener("change", keepTicks);
  at("print-card").addEventListener("click", print);
  at("form").addEventListener("change", showPapers);
  showPapers();
  at("show-bike-page").addEventListener("click", showBikePage);
  at("wear-form").addEventListener("submit", noteReading);
  at("lower-form").addEventListener("submit", findLower);
  at("open-file").addEventListener("change", openFile);
  at("again").addEventListener("click", startAgain);
  window.addEventListener("hashchange", () => {
    const wanted = inFragment().get("for");
    if (wanted !== null && wanted !== state.guide) {
      chooseGuide(wanted);
      talk();
    }
    offered();
  });
  startEngine();
}

begin();
