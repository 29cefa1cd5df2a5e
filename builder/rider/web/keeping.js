// What the rider's files need to open without a connection is kept, once something was shown: nobody waits for it.

/**
 * Let the service worker keep all of them; it tells when that is done.
 * @param {URL} root the folder of the rider's files
 * @returns {Promise<boolean>} whether they are kept
 */
export async function keptOffline(root) {
  if (!navigator.serviceWorker || !window.isSecureContext) return false;
  try {
    const { build, files, own } = await (await fetch(new URL("files.json", root))).json();
    const registered = await navigator.serviceWorker.register(new URL(`offline.js?build=${build}`, root), { scope: root.href });
    const worker = registered.installing ?? registered.waiting ?? registered.active;
    // What was fetched before the worker watched is kept as well.
    const used = performance.getEntriesByType("resource").map((one) => one.name.split("#")[0]);
    const addressOf = (one) => new URL(`${one.path}?${one.sha256.slice(0, 12)}`, root).href;
    const packed = Object.values(files).map(addressOf);
    const typeOf = (one) => (one === files.wasm ? "application/wasm" : "application/octet-stream");
    const unpack = ["wasm", "stdlib", "program", "shelf"]
      .map((name) => files[name])
      .map((one) => ({ from: addressOf(one), as: `${addressOf(one)}&plain`, sha256: one.sha256, type: typeOf(one) }));
    const keep = [...used, ...packed, ...own.map((name) => new URL(name, root).href)].filter((one) => one.startsWith(location.origin));
    const { port1, port2 } = new MessageChannel();
    const told = new Promise((resolve) => (port1.onmessage = ({ data }) => resolve(data.kept)));
    worker.postMessage({ keep: [...new Set(keep)], unpack }, [port2]);
    return await told;
  } catch {
    return false; // without it the page needs its connection, as any other
  }
}
