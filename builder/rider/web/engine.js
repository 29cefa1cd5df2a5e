// The page's side of the worker: one request at a time, and of those that wait for one place the newest alone.
//
// page → worker   {type: "start", life}  {type: "request", id, act, body}
// worker → page   {type: "alive"}  {type: "progress", got, of}  {type: "starting"}  {type: "ready"}  {type: "answer", id, body}
//                 {type: "failed", why, what}      why: no-wasm, missing, damaged, refused, stuck, broken, local

/** A request that a newer one took the place of, or that ended with the worker. */
export class Dropped extends Error {}

/** The interpreter in a worker of its own. */
export class Engine {
  /**
   * @param {URL} root the folder of the rider's files
   * @param {{progress?: (got: number, of: number) => void, starting?: () => void, ready?: () => void,
   *          failed?: (why: string, what: string) => void}} told
   */
  constructor(root, told = {}) {
    this.root = root;
    this.told = told;
    this.waiting = new Map();
    this.asked = null;
    this.number = 0;
    this.isReady = false;
  }

  /** Fetch and start it; again after a failure. */
  start() {
    this.stop();
    this.worker = new Worker(new URL("worker.js", this.root), { type: "module" });
    let heard = false;
    this.worker.onmessage = ({ data }) => {
      heard = true;
      this.#hear(data);
    };
    // Its script did not come, where nothing was heard and nothing is told.
    this.worker.onerror = (event) => (heard || event.message ? this.#fail("broken", event.message || "") : this.#fail("missing", "worker.js"));
    const life = `spannerleaf rider ${Date.now()} ${Math.random()}`;
    this.worker.postMessage({ type: "start", life });
    this.#watch(this.worker, life);
  }

  /** A worker that ends without a word lets go of the lock that it holds while it lives. */
  #watch(worker, life) {
    worker.addEventListener("message", ({ data }) => {
      if (data.type === "alive") navigator.locks.request(life, () => this.worker === worker && this.#fail("broken", ""));
    });
  }

  /** End the worker; what it was asked is dropped. */
  stop() {
    this.worker?.terminate();
    this.worker = null;
    this.isReady = false;
    this.asked?.reject(new Dropped());
    this.asked = null;
  }

  /**
   * Ask; a request for the same place that still waits is dropped.
   * @param {string} place
   * @param {object} body
   * @returns {Promise<any>}
   */
  ask(place, body) {
    return new Promise((resolve, reject) => {
      this.waiting.get(place)?.reject(new Dropped());
      this.waiting.delete(place);
      this.waiting.set(place, { body, resolve, reject });
      this.#next();
    });
  }

  #next() {
    if (!this.isReady || this.asked || !this.waiting.size) return;
    const [place, request] = this.waiting.entries().next().value;
    this.waiting.delete(place);
    this.asked = request;
    this.number += 1;
    this.worker.postMessage({ type: "request", id: this.number, act: request.body.do, body: JSON.stringify(request.body) });
  }

  #hear(data) {
    if (data.type === "progress") this.told.progress?.(data.got, data.of);
    else if (data.type === "starting") this.told.starting?.();
    else if (data.type === "failed") this.#fail(data.why, data.what);
    else if (data.type === "ready") {
      this.isReady = true;
      this.told.ready?.();
      this.#next();
    } else if (data.type === "answer" && this.asked && data.id === this.number) {
      const { resolve } = this.asked;
      this.asked = null;
      resolve(JSON.parse(data.body));
      this.#next();
    }
  }

  #fail(why, what) {
    this.stop();
    this.told.failed?.(why, what);
  }
}

/** Whether this browser and this address can run it at all; else why not. */
export function hindrance() {
  if (location.protocol === "file:") return "local";
  if (typeof Worker !== "function" || typeof WebAssembly !== "object") return "no-wasm";
  if (typeof DecompressionStream !== "function") return "no-wasm";
  return "";
}
