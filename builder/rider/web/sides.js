// A card on paper from the browser: its blocks are laid out here, the composer tells on which side each stands.

const MM_PER_PX = 25.4 / 96;

function framed(html, base) {
  const frame = document.createElement("iframe");
  frame.className = "unseen";
  frame.setAttribute("aria-hidden", "true");
  frame.tabIndex = -1;
  // The card's faces stand with those of the site.
  frame.srcdoc = html.replace("<head>", `<head><base href="${base}">`);
  const loaded = new Promise((resolve) => frame.addEventListener("load", resolve, { once: true }));
  for (const old of document.querySelectorAll("iframe.unseen")) old.remove();
  document.body.append(frame);
  return loaded.then(() => frame.contentDocument.fonts.ready).then(() => frame);
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

/** A frame with the card's sides, ready to print; `ask` asks the worker. The number of its sides stands in its data. */
export async function cardInFrame(found, ask, base) {
  const frame = await framed(found.html, base);
  const inside = frame.contentDocument;
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
