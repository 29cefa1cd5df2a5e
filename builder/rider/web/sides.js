// A card on paper from the browser: its blocks are laid out here, the composer tells on which side each stands.

const MM_PER_PX = 25.4 / 96;

function framed(html, root) {
  const frame = document.createElement("iframe");
  frame.className = "unseen";
  frame.setAttribute("aria-hidden", "true");
  frame.tabIndex = -1;
  // The card's faces stand with those of the site.
  frame.srcdoc = html.replace("<head>", `<head><base href="${new URL("assets/", root).href}">`);
  const loaded = new Promise((resolve) => frame.addEventListener("load", resolve, { once: true }));
  for (const old of document.querySelectorAll("iframe.unseen")) old.remove();
  document.body.append(frame);
  return loaded.then(() => frame.contentDocument.fonts.ready).then(() => frame);
}

const PHOTO = /<image href="(photos\/[^"]+)"/g;

async function photoWithin(name, root) {
  const response = await fetch(new URL(name, root));
  if (!response.ok) throw new Error(response.statusText);
  const bytes = new Uint8Array(await response.arrayBuffer());
  let letters = "";
  for (const byte of bytes) letters += String.fromCharCode(byte);
  return `data:image/jpeg;base64,${btoa(letters)}`;
}

/** The card with its photographs within it, so that each is there when it is printed; whether all could be fetched. */
async function withPhotos(html, root) {
  const names = [...new Set([...html.matchAll(PHOTO)].map(([, name]) => name))];
  const tried = await Promise.allSettled(names.map((name) => photoWithin(name, root)));
  const within = Object.fromEntries(names.map((name, number) => [name, tried[number].value]));
  const put = (_, name) => (within[name] ? `<image href="${within[name]}"` : "<image");
  return [html.replace(PHOTO, put), tried.every((one) => one.status === "fulfilled")];
}

function styled(inside, css) {
  const style = inside.createElement("style");
  style.textContent = css;
  inside.head.append(style);
}

const saysOf = (element) =>
  Object.fromEntries([...element.attributes].filter((one) => one.name.startsWith("data-")).map((one) => [one.name, one.value]));

/** How high a block stands: down to the lowest edge within it. */
function heightOf(block) {
  const top = block.getBoundingClientRect().top;
  const low = [block, ...block.querySelectorAll("*")].map((one) => one.getBoundingClientRect().bottom);
  return (Math.max(...low) - top) * MM_PER_PX;
}

/**
 * A frame with the card's sides, ready to print; `ask` asks the worker, `root` is where the site begins. The number of
 * its sides stands in its data, and that a photograph is lacking.
 */
export async function cardInFrame(found, ask, root) {
  const [html, complete] = await withPhotos(found.html, root);
  const frame = await framed(html, root);
  const inside = frame.contentDocument;
  if (!complete) frame.dataset.lacking = "photo";
  const blocks = [...inside.querySelectorAll("body.galleys > .galley")];
  if (!blocks.length) return frame; // laid out by its own stylesheet
  styled(inside, `body.galleys > .galley { display: flow-root; width: ${found.column}mm } body.galleys > .galley.wide { width: ${found.text}mm }`);
  await inside.fonts.ready;
  const told = await ask({
    do: "sides",
    card: saysOf(inside.body),
    blocks: blocks.map((block) => ({ says: saysOf(block), height: heightOf(block) })),
  });
  if (!told) return null;
  const bands = new DOMParser().parseFromString(told.html, "text/html");
  const sides = [...bands.querySelectorAll(".side")].map((side) => inside.importNode(side, true));
  for (const place of told.places) {
    const block = blocks[place.block];
    block.style.cssText = `position: absolute; left: ${place.left}mm; top: ${place.top}mm; width: ${place.width}mm`;
    sides[place.side].append(block);
  }
  for (const style of bands.querySelectorAll("style")) styled(inside, style.textContent);
  styled(
    inside,
    `@page { size: ${told.width}mm ${told.height}mm; margin: 0 }
     .side { position: relative; width: ${told.width}mm; height: ${told.height - 0.1}mm; overflow: hidden; break-after: page; page: auto }
     .side:last-child { break-after: auto }
     .side .galley { display: flow-root; break-before: auto; page: auto; margin: 0 }`,
  );
  inside.body.replaceChildren(...sides);
  inside.body.className = "sides";
  frame.dataset.sides = sides.length;
  return frame;
}

/** Print what stands in a frame, and take it away afterwards; the keyboard stays where it is. */
export function printed(frame) {
  frame.contentWindow.addEventListener("afterprint", () => setTimeout(() => frame.remove(), 1000));
  frame.contentWindow.print();
}
