// The worker: fetches interpreter, program and library, holds each against its digest, and answers requests.
// The messages stand in engine.js.

class Failed extends Error {
  constructor(why, what = "") {
    super(why);
    this.why = why;
    this.what = what;
  }
}

const here = new URL("./", self.location.href);
const fetched = self.fetch.bind(self);
// The smallest module that there is: where it is refused, so is every other.
const NOTHING = new Uint8Array([0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00]);
// The interpreter's own start never ends where something stops it without a word.
const LONGEST_START_MS = 120_000;
// How often it is told how far the fetching is.
const TOLD_EVERY_MS = 60;
// What the first question needs; the rest is brought while it is read, in strides between which requests are answered.
const START = `
import marshal, sys, zipimport
def data_of(path):
    with open(path, "rb") as held:
        return held.read()
files = marshal.loads(data_of("/program.bin"))
def code_of(path):
    return marshal.loads(memoryview(files[path + "c"])[16:]) if path + "c" in files else files[path]
held = {"__name__": "builder.rider.held"}
exec(code_of("builder/rider/held.py"), held)
finder, folders = held["held_in"]("/program", files)
library_of_python = sys.path_importer_cache["/lib/python314.zip"]._get_files()
sys.meta_path[:0] = finder, held["held_in_zip"]("/lib/python314.zip", data_of("/lib/python314.zip"), library_of_python)
sys.path_hooks.insert(0, folders)
from builder.rider import ready_made
codes = ready_made.use(files["ready_made.bin"]) if "ready_made.bin" in files else {}
from builder.rider.packing import library_in
from builder.rider.talking import Talk
data = data_of("/shelf.bin")
library = library_in(data)
Talk(library).answer
`;
const STRIDES = `
def strides():
    import builder.planning
    yield
    import builder.tailoring
    yield
    import builder.drawings.registry
    yield
    from builder.rider.messages import Desk
    yield
    from builder.rider.shelf import unpacked
    desk = Desk(unpacked(data, library, codes))
    for _ in desk.made_ready():
        yield
    global answer
    answer = desk.answer
walk = strides()
def stride():
    return next(walk, "done") is None
stride
`;

// A bike's file wants a reader of YAML, which nothing else does.
const OPENING = `
files.update(marshal.loads(data_of("/opening.bin")))
from builder.rider.opening import Opening
Opening(library).answer
`;

let python = null;
let list = null;
let open = null;
let answer = null;
let stride = null;
let strolling = false;

/** When a piece of the start was done, for `tests.rider.timings`. */
const mark = (name) => void performance.mark(name);
const addressOf = (file) => new URL(`${file.path}?${file.sha256.slice(0, 12)}`, here).href;

async function listed() {
  let response;
  try {
    response = await fetched(new URL("files.json", here), { cache: "no-cache" });
  } catch {
    throw new Failed("missing", "files.json");
  }
  if (!response.ok) throw new Failed("missing", "files.json");
  try {
    return await response.json();
  } catch {
    throw new Failed("damaged", "files.json");
  }
}

/** The bytes of a file, held against its length and, where the browser can reckon it, its digest; `also` sees each part. */
async function bytesOf(file, count, also = () => {}) {
  let response;
  try {
    response = await fetched(addressOf(file));
  } catch {
    throw new Failed("missing", file.path);
  }
  if (!response.ok || !response.body) throw new Failed("missing", file.path);
  const data = new Uint8Array(file.bytes);
  let at = 0;
  const reader = response.body.getReader();
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      if (at + part.value.length > data.length) throw new Failed("damaged", file.path);
      data.set(part.value, at);
      at += part.value.length;
      also(part.value);
      count(part.value.length);
    }
  } catch (error) {
    throw error instanceof Failed ? error : new Failed("missing", file.path);
  }
  if (at !== data.length) throw new Failed("damaged", file.path);
  if (self.crypto?.subtle) {
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", data));
    const written = [...digest].map((one) => one.toString(16).padStart(2, "0")).join("");
    if (written !== file.sha256) throw new Failed("damaged", file.path);
  }
  if (!file.gzip) return data;
  const plain = new Blob([data]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(plain).arrayBuffer());
}

async function scriptOf(file) {
  try {
    return await import(addressOf(file));
  } catch {
    throw new Failed("missing", file.path);
  }
}

/** Compiles WebAssembly while its packed bytes come; what comes of it is used only when they were held against their digest. */
function compiler() {
  const unpacking = new DecompressionStream("gzip");
  const writer = unpacking.writable.getWriter();
  const module = WebAssembly.compileStreaming(new Response(unpacking.readable, { headers: { "Content-Type": "application/wasm" } }));
  module.catch(() => {}); // told where it is waited for
  return { module, part: (bytes) => void writer.write(bytes).catch(() => {}), end: () => void writer.close().catch(() => {}) };
}

/** What `take` makes of a file that is kept unpacked after a visit, where its digest was looked at; null where it is not. */
async function fromKept(file, count, take) {
  const address = `${addressOf(file)}&plain`;
  try {
    const kept = await self.caches?.match(address);
    const taken = kept ? await take(kept, address) : null;
    if (taken) count(file.bytes);
    return taken;
  } catch {
    return null;
  }
}

/** The bytes of a file, kept or fetched. */
const dataOf = async (file, count) =>
  (await fromKept(file, count, async (kept) => new Uint8Array(await kept.arrayBuffer()))) ?? bytesOf(file, count);

/** The interpreter, compiled; of what is asked for by its address the browser keeps what it compiled. */
const moduleOf = async (file, count) =>
  (await fromKept(file, count, (_, address) => WebAssembly.compileStreaming(fetched(address)))) ?? compiledOf(file, count);

/** What is compiled while it comes is taken once its bytes were held against their digest. */
async function compiledOf(file, count) {
  const compiling = compiler();
  await bytesOf({ ...file, gzip: false }, count, compiling.part);
  compiling.end();
  return compiling.module;
}

async function start() {
  try {
    new WebAssembly.Module(NOTHING);
  } catch {
    throw new Failed(typeof WebAssembly === "object" ? "refused" : "no-wasm");
  }
  list = await listed();
  mark("listed");
  const { wasm, stdlib, program, shelf } = list.files;
  const of = wasm.bytes + stdlib.bytes + program.bytes + shelf.bytes;
  let got = 0;
  let told = -TOLD_EVERY_MS;
  const count = (more) => {
    got += more;
    if (performance.now() - told < TOLD_EVERY_MS) return;
    told = performance.now();
    postMessage({ type: "progress", got, of });
  };
  const broken = (error) => Promise.reject(error instanceof Failed ? error : new Failed("broken", String(error)));
  const [module, library, code, data, loader, made] = await Promise.all([
    moduleOf(wasm, count).catch(broken),
    dataOf(stdlib, count),
    dataOf(program, count),
    dataOf(shelf, count),
    scriptOf(list.files.loader),
    scriptOf(list.files.script),
  ]);
  mark("fetched");
  postMessage({ type: "starting" });
  const home = new URL("runtime/", here).href;
  // The interpreter's loader asks for its files itself; it gets those that were looked at.
  self.fetch = (asked, how) => {
    const address = String(asked?.url ?? asked);
    if (address === `${home}pyodide.asm.wasm`) return Promise.resolve(new Response());
    return address === `${home}stdlib.zip` ? Promise.resolve(new Response(library)) : fetched(asked, how);
  };
  WebAssembly.instantiateStreaming = async (_, imports) => {
    return { module, instance: await WebAssembly.instantiate(module, imports) };
  };
  const stuck = new Promise((_, reject) => {
    setTimeout(() => reject(new Failed("stuck")), LONGEST_START_MS);
    // Where there is no memory for it, the loader goes on waiting all the same.
    self.onunhandledrejection = ({ reason }) => reject(new Failed("broken", String(reason)));
  });
  python = await Promise.race([
    loader.loadPyodide({
      indexURL: home,
      stdLibURL: `${home}stdlib.zip`,
      packageBaseUrl: home,
      createPyodideModule: made.default,
      lockFileContents: list.lock,
    }),
    stuck,
  ]);
  mark("interpreter");
  python.FS.writeFile("/program.bin", code);
  python.FS.writeFile("/shelf.bin", data);
  answer = python.runPython(START);
  mark("program");
}

/** One stride towards the rest of the program; whether there are more. */
function onward() {
  stride ??= python.runPython(STRIDES);
  if (stride()) return true;
  answer = python.globals.get("answer");
  stride = () => false;
  return false;
}

/** All that is left, where a request wants more than a question. */
function hurry() {
  while (onward());
  mark("whole");
}

/** The rest, a stride at a time: what came in the meantime is heard between two. */
function stroll() {
  try {
    if (onward()) setTimeout(stroll, 0);
  } catch (error) {
    tell(error);
  }
}

async function opener() {
  python.FS.writeFile("/opening.bin", await bytesOf(list.files.opening, () => {}));
  return python.runPython(OPENING);
}

function tell(error) {
  const known = error instanceof Failed;
  postMessage({ type: "failed", why: known ? error.why : "broken", what: known ? error.what : String(error).slice(-600) });
}

/** Hold a lock as long as this worker lives: the page is given it when the worker has ended. */
function live(life) {
  navigator.locks?.request(life, () => {
    postMessage({ type: "alive" });
    return new Promise(() => {});
  });
}

self.onmessage = async ({ data }) => {
  try {
    if (data.type === "start") {
      live(data.life);
      await start();
      postMessage({ type: "ready" });
    } else if (data.type === "request") {
      if (data.act === "open") open ??= await opener();
      else if (data.act !== "talk") hurry();
      postMessage({ type: "answer", id: data.id, body: (data.act === "open" ? open : answer)(data.body) });
      if (!strolling) setTimeout(stroll, 0);
      strolling = true;
    }
  } catch (error) {
    tell(error);
  }
};
