// The rider's bikes: kept on this device alone, and one of them in a link's fragment, which no browser sends anywhere.

const PLACE = "spannerleaf bikes";
const MOST = 50;

/** @typedef {{key: string, name: string, answers: Record<string, string>, parts: Record<string, Record<string, string>>,
 *            described: Record<string, Record<string, Record<string, string>>>, ticks: Record<string, string>}} Bike */

const isTexts = (held) =>
  held && typeof held === "object" && !Array.isArray(held) && Object.values(held).every((one) => typeof one === "string");

/** A bike from anywhere, with nothing in it but what a bike has; null where it is none. */
export function tidied(held) {
  if (!held || typeof held !== "object" || typeof held.name !== "string" || !isTexts(held.answers)) return null;
  const within = (one) => (one && typeof one === "object" && !Array.isArray(one) ? Object.entries(one) : []);
  const told = within(held.described).map(([guide, places]) => [guide, Object.fromEntries(within(places).filter(([, one]) => isTexts(one)))]);
  const answers = Object.entries(held.answers).slice(0, 400);
  const parts = held.parts && typeof held.parts === "object" ? Object.entries(held.parts).filter(([, one]) => isTexts(one)) : [];
  return {
    key: typeof held.key === "string" ? held.key : "",
    name: held.name.slice(0, 120),
    answers: Object.fromEntries(answers.map(([name, said]) => [name.slice(0, 120), said.slice(0, 400)])),
    parts: Object.fromEntries(parts),
    described: Object.fromEntries(told),
    ticks: isTexts(held.ticks) ? { ...held.ticks } : {},
  };
}

/** A bike of which nothing is known yet. */
export function newBike(name) {
  return { key: `${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`, name, answers: {}, parts: {}, described: {}, ticks: {} };
}

/** What is kept on this device; `kept` is false where nothing can be. */
export function keptBikes() {
  try {
    const held = JSON.parse(localStorage.getItem(PLACE) || "{}");
    const bikes = (Array.isArray(held.bikes) ? held.bikes : []).map(tidied).filter((one) => one?.key).slice(0, MOST);
    return { bikes, current: String(held.current || ""), kept: true };
  } catch {
    return { bikes: [], current: "", kept: false };
  }
}

/** Keep them; where none is left, nothing is. Whether it could be done. */
export function keep(bikes, current) {
  try {
    if (bikes.length) localStorage.setItem(PLACE, JSON.stringify({ bikes, current }));
    else localStorage.removeItem(PLACE);
    return true;
  } catch {
    return false;
  }
}

/** A bike as letters for a link. */
export function asLetters({ name, answers, parts, described }) {
  const bytes = new TextEncoder().encode(JSON.stringify({ name, answers, parts, described }));
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

/** The bike of a link's letters; null where there is none. */
export function fromLetters(letters) {
  if (!letters || letters.length > 60_000) return null;
  try {
    const text = atob(letters.replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(text, (sign) => sign.charCodeAt(0));
    return tidied(JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes)));
  } catch {
    return null;
  }
}
