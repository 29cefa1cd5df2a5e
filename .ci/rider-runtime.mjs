// npm package → the files of the rider's runtime: two scripts, the interpreter, its standard library in byte code.
//
// `--list` writes builder/rider/runtime.json anew for another version, which is then to be looked at and committed.

import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";

const LIST = "builder/rider/runtime.json";
const FOLDER = "builder/rider/runtime";
const list = JSON.parse(fs.readFileSync(LIST, "utf8"));
const anew = process.argv.includes("--list");
const digest = (data) => createHash("sha256").update(data).digest("hex");
const fail = (words) => {
  console.error(`rider-runtime: ${words}`);
  process.exit(1);
};

// --- there already?

const stands = Object.entries(list.files).every(([name, { sha256 }]) => {
  const file = path.join(FOLDER, name);
  return fs.existsSync(file) && digest(fs.readFileSync(file)) === sha256;
});
if (stands && !anew) process.exit(0);

// --- fetch

const work = fs.mkdtempSync(path.join(os.tmpdir(), "rider-runtime-"));
process.on("exit", () => fs.rmSync(work, { recursive: true, force: true }));
let archive;
try {
  const name = execFileSync("npm", ["pack", "--silent", `${list.package}@${list.version}`], { cwd: work, encoding: "utf8" });
  archive = path.join(work, name.trim().split("\n").pop());
} catch (error) {
  fail(`${list.package} ${list.version} could not be fetched with npm: ${error.message.split("\n")[0]}`);
}
const found = digest(fs.readFileSync(archive));
if (anew) list.archive = found;
else if (found !== list.archive) fail(`the package is not the one that ${LIST} names: its SHA-256 is ${found}`);
execFileSync("tar", ["xzf", archive, "-C", work]);
const from = path.join(work, "package");

// --- the standard library: what no page needs is left out, the rest is compiled by the interpreter that will run it

const COMPILE = `
import importlib.util, io, marshal, zipfile
LEFT_OUT = {"_pydecimal", "_pyio", "_pyrepl", "bdb", "cProfile", "ctypes", "curses", "dbm", "doctest", "email", "ensurepip", "ftplib",
  "http", "idlelib", "imaplib", "lib2to3", "mailbox", "multiprocessing", "optparse", "pdb", "pickletools", "poplib", "profile",
  "pstats", "pydoc", "pydoc_data", "smtplib", "sqlite3", "tarfile", "test", "tkinter", "trace", "turtle", "turtledemo",
  "unittest", "venv", "webbrowser", "wsgiref", "xmlrpc", "zoneinfo", "_sysconfigdata__emscripten_wasm32-emscripten", "argparse",
  "compileall", "configparser", "mimetypes", "modulefinder", "netrc", "plistlib", "pyclbr", "socketserver", "statistics",
  "symtable", "tabnanny", "tomllib", "tracemalloc", "uuid", "wave", "zipapp"}
LEFT_OUT_BELOW = ("xml/dom/", "xml/sax/")
ENCODINGS = {"__init__", "aliases", "ascii", "cp437", "idna", "latin_1", "punycode", "raw_unicode_escape", "unicode_escape",
  "utf_16", "utf_32", "utf_8", "utf_8_sig"}
held = io.BytesIO()
with zipfile.ZipFile("/lib/python314.zip") as old, zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as new:
    for name in sorted(old.namelist()):
        top = name.split("/")[0].removesuffix(".py")
        stem = name.split("/")[-1].removesuffix(".py")
        if not name.endswith(".py") or top in LEFT_OUT or name.startswith(LEFT_OUT_BELOW) or (top == "encodings" and stem not in ENCODINGS):
            continue
        code = compile(old.read(name), "/lib/python314.zip/" + name, "exec", dont_inherit=True, optimize=2)
        data = importlib.util.MAGIC_NUMBER + b"\\0" * 12 + marshal.dumps(code)
        new.writestr(zipfile.ZipInfo(name + "c", (1980, 1, 1, 0, 0, 0)), data, zipfile.ZIP_DEFLATED, 9)
held.getvalue()
`;
const { loadPyodide } = await import(pathToFileURL(path.join(from, "pyodide.mjs")));
const python = await loadPyodide({ indexURL: from, lockFileContents: list.lock });
const stdlib = Buffer.from(python.runPython(COMPILE).toJs());

// --- lay ready

const read = (name) => fs.readFileSync(path.join(from, name));
const made = {
  "pyodide.js": read("pyodide.mjs"),
  "pyodide.asm.js": read("pyodide.asm.mjs"),
  "pyodide.asm.wasm": read("pyodide.asm.wasm"),
  "stdlib.zip": stdlib,
};
fs.mkdirSync(FOLDER, { recursive: true });
for (const [name, data] of Object.entries(made)) {
  if (anew) list.files[name] = { ...list.files[name], sha256: digest(data), bytes: data.length };
  else if (digest(data) !== list.files[name].sha256) fail(`${name} comes out otherwise than ${LIST} says`);
}
for (const [name, data] of Object.entries(made)) fs.writeFileSync(path.join(FOLDER, name), data);
if (anew) fs.writeFileSync(LIST, JSON.stringify(list, null, 2) + "\n");
console.error(`rider-runtime: ${list.package} ${list.version} stands in ${FOLDER}`);
process.exit(0);
