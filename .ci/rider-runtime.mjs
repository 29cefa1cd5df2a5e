// npm package → the files of the rider's runtime: two scripts, the interpreter, its standard library in byte code, in
// which the modules of .ci/rider-python stand in place of those that the interpreter would be longer in starting with; and
// the program itself in byte code, under the digest of what it was compiled from: a build takes it where it is of the
// sources as they stand, and else the sources.
//
// `--list` writes builder/rider/runtime.json anew for another version, which is then to be looked at and committed.

import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";

const OWN = ".ci/rider-python";
const LIST = "builder/rider/runtime.json";
const FOLDER = "builder/rider/runtime";
const list = JSON.parse(fs.readFileSync(LIST, "utf8"));
const anew = process.argv.includes("--list");
const digest = (data) => createHash("sha256").update(data).digest("hex");
const fail = (words) => {
  console.error(`rider-runtime: ${words}`);
  process.exit(1);
};

const COMPILE = `
import importlib.util, io, marshal, types, zipfile
LEFT_OUT = {"_pydecimal", "_pyio", "_pyodide", "_pyrepl", "asyncio", "bdb", "cProfile", "ctypes", "curses", "dbm", "doctest", "email",
  "ensurepip", "ftplib", "pyodide", "ssl",
  "http", "idlelib", "imaplib", "lib2to3", "mailbox", "multiprocessing", "optparse", "pdb", "pickletools", "poplib", "profile",
  "pstats", "pydoc", "pydoc_data", "smtplib", "sqlite3", "tarfile", "test", "tkinter", "trace", "turtle", "turtledemo",
  "unittest", "venv", "webbrowser", "wsgiref", "xmlrpc", "zoneinfo", "_sysconfigdata__emscripten_wasm32-emscripten", "argparse",
  "compileall", "configparser", "mimetypes", "modulefinder", "netrc", "plistlib", "pyclbr", "socketserver", "statistics",
  "symtable", "tabnanny", "tomllib", "tracemalloc", "uuid", "wave", "zipapp"}
# What is imported where something else is, and used in rare cases: it is run when something of it is asked for.
LATE = {"ipaddress", "tempfile", "traceback"}
WAITING = """
def __getattr__(name):
    if name.startswith("__"):
        raise AttributeError(name)
    from late import {name} as whole
    globals().update((key, value) for key, value in vars(whole).items() if not key.startswith("__"))
    return getattr(whole, name)
"""
LEFT_OUT_BELOW = ("xml/dom/", "xml/sax/")
ENCODINGS = {"__init__", "aliases", "ascii", "cp437", "idna", "latin_1", "punycode", "raw_unicode_escape", "unicode_escape",
  "utf_16", "utf_32", "utf_8", "utf_8_sig"}

def plain(code):
    """Without the table of lines, a quarter of the whole, which serves tracebacks alone."""
    inner = tuple(plain(one) if isinstance(one, types.CodeType) else one for one in code.co_consts)
    return code.replace(co_consts=inner, co_linetable=b"")

def needed(name):
    top, stem = name.split("/")[0].removesuffix(".py"), name.split("/")[-1].removesuffix(".py")
    if top == "encodings":
        return stem in ENCODINGS
    return top not in LEFT_OUT and not name.startswith(LEFT_OUT_BELOW)

def byte_code(text, name, optimize):
    code = compile(text, name, "exec", dont_inherit=True, optimize=optimize)
    return importlib.util.MAGIC_NUMBER + bytes(12) + marshal.dumps(plain(code))

def zipped(files):
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as new:
        for name, data in sorted(files.items()):
            new.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data, zipfile.ZIP_DEFLATED, 9)
    return held.getvalue()

def compiled(path):
    with zipfile.ZipFile(path) as old:
        texts = {name: old.read(name) for name in old.namelist() if name.endswith(".py")}
    return zipped({f"{name}c": byte_code(text, name, 0) for name, text in texts.items()})

def standard_library(path, own):
    with zipfile.ZipFile(path) as old:
        texts = {name: old.read(name) for name in old.namelist() if name.endswith(".py") and needed(name)}
    for name in LATE:
        texts[f"late/{name}.py"] = texts[f"{name}.py"]
        texts[f"{name}.py"] = WAITING.replace("{name}", name)
    texts |= {"late/__init__.py": "", **own}
    return zipped({f"{name}c": byte_code(text, f"/lib/python314.zip/{name}", 2) for name, text in texts.items()})

def with_ready_made(zipped):
    """Beside the program in byte code, what its dataclasses have compiled when it is imported, and the templates."""
    import json, sys
    with zipfile.ZipFile("/sources.zip") as sources:
        texts = json.loads(sources.read("templates.json"))
    with open("/program.zip", "wb") as file:
        file.write(zipped)
    sys.path.insert(0, "/program.zip")
    from builder.rider import ready_made
    kept = ready_made.keep()
    import builder.rider.messages
    from builder.checks.registry import CHECKS
    for check in CHECKS.values():
        check.inputs
    for text in texts:
        ready_made.compiled(text, kept)
    with zipfile.ZipFile("/program.zip", "a", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        info = zipfile.ZipInfo("ready_made.bin", (1980, 1, 1, 0, 0, 0))
        archive.writestr(info, ready_made.as_bytes(kept), zipfile.ZIP_DEFLATED, 9)
    with open("/program.zip", "rb") as file:
        return file.read()
`;

// --- the interpreter, where it does not stand there already

const work = fs.mkdtempSync(path.join(os.tmpdir(), "rider-runtime-"));
process.on("exit", () => fs.rmSync(work, { recursive: true, force: true }));
const stands = Object.entries(list.files).every(([name, { sha256 }]) => {
  const file = path.join(FOLDER, name);
  return fs.existsSync(file) && digest(fs.readFileSync(file)) === sha256;
});
if (!stands || anew) await fetchIt();

/** The modules that stand in place of others, by their paths. */
function own() {
  const names = fs.readdirSync(OWN, { recursive: true }).filter((name) => name.endsWith(".py"));
  return Object.fromEntries(names.map((name) => [name, fs.readFileSync(path.join(OWN, name), "utf8")]));
}

async function fetchIt() {
  let archive;
  try {
    const how = { cwd: work, encoding: "utf8" };
    const name = execFileSync("npm", ["pack", "--silent", `${list.package}@${list.version}`], how);
    archive = path.join(work, name.trim().split("\n").pop());
  } catch (error) {
    fail(`${list.package} ${list.version} could not be fetched with npm: ${error.message.split("\n")[0]}`);
  }
  const found = digest(fs.readFileSync(archive));
  if (anew) list.archive = found;
  else if (found !== list.archive) fail(`the package is not the one that ${LIST} names: its SHA-256 is ${found}`);
  execFileSync("tar", ["xzf", archive, "-C", work]);
  const from = path.join(work, "package");
  const { loadPyodide } = await import(pathToFileURL(path.join(from, "pyodide.mjs")));
  const python = await loadPyodide({ indexURL: from, lockFileContents: list.lock });
  python.runPython(COMPILE);
  const read = (name) => fs.readFileSync(path.join(from, name));
  const made = {
    "pyodide.js": read("pyodide.mjs"),
    "pyodide.asm.js": read("pyodide.asm.mjs"),
    "pyodide.asm.wasm": read("pyodide.asm.wasm"),
    "stdlib.zip": Buffer.from(python.globals.get("standard_library")("/lib/python314.zip", python.toPy(own())).toJs()),
  };
  for (const [name, data] of Object.entries(made)) {
    if (anew) list.files[name] = { ...list.files[name], sha256: digest(data), bytes: data.length };
    else if (digest(data) !== list.files[name].sha256) fail(`${name} comes out otherwise than ${LIST} says`);
  }
  fs.mkdirSync(FOLDER, { recursive: true });
  for (const [name, data] of Object.entries(made)) fs.writeFileSync(path.join(FOLDER, name), data);
  if (anew) fs.writeFileSync(LIST, JSON.stringify(list, null, 2) + "\n");
  console.error(`rider-runtime: ${list.package} ${list.version} stands in ${FOLDER}`);
}

// --- the program and what opens a bike's file, where they are not of the sources as they stand

const SOURCES = "import sys; from builder.build.browser_program import *; sys.stdout.buffer.write(zipped(FILES()))";
for (const [name, files, after] of [["program", "program_files", "with_ready_made"], ["opening", "opening_files", ""]]) {
  const sources = execFileSync(process.env.PYTHON || ".venv/bin/python", ["-c", SOURCES.replace("FILES", files)], {
    env: { ...process.env, PYTHONPATH: process.cwd() },
    maxBuffer: 1e8,
  });
  const made = `${name}-${digest(sources).slice(0, 16)}.zip`;
  if (fs.existsSync(path.join(FOLDER, made))) continue;
  const python = await interpreter();
  python.FS.writeFile("/sources.zip", sources);
  const code = Buffer.from(python.runPython(`${COMPILE}\n${after || ""}(compiled("/sources.zip"))`).toJs());
  for (const old of fs.readdirSync(FOLDER)) {
    if (old.startsWith(`${name}-`)) fs.rmSync(path.join(FOLDER, old));
  }
  fs.writeFileSync(path.join(FOLDER, made), code);
  console.error(`rider-runtime: the ${name} is compiled: ${path.join(FOLDER, made)}`);
}

async function interpreter() {
  for (const [name, source] of [["loader.mjs", "pyodide.js"], ["script.mjs", "pyodide.asm.js"]]) {
    fs.copyFileSync(path.join(FOLDER, source), path.join(work, name));
  }
  const { loadPyodide } = await import(pathToFileURL(path.join(work, "loader.mjs")));
  const { default: createPyodideModule } = await import(pathToFileURL(path.join(work, "script.mjs")));
  return loadPyodide({
    indexURL: path.resolve(FOLDER),
    stdLibURL: path.resolve(FOLDER, "stdlib.zip"),
    createPyodideModule,
    lockFileContents: list.lock,
  });
}
process.exit(0);
