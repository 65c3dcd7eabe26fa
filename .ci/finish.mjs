// Trunk's post-build hook: splits the program in two, makes the scripts small, names each file after its contents,
// writes the Content-Security-Policy and the service worker's file list, prints the sizes, and fails over the budget.
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, renameSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, constants } from "node:zlib";
import { AFTERWARDS, BUDGET_BYTES, POLICY } from "./site.mjs";
import { split } from "./split.mjs";

const dir = process.env.TRUNK_STAGING_DIR ?? process.argv[2];
if (!dir) throw new Error("finish.mjs needs the folder of the built page");

const bytes = (name) => readFileSync(join(dir, name));
const text = (name) => bytes(name).toString("utf8");
const hash = (data) => createHash("sha256").update(data).digest("hex").slice(0, 12);
const listed = () =>
  readdirSync(dir, { recursive: true })
    .map(String)
    .filter((name) => statSync(join(dir, name)).isFile())
    .sort();

/** Renames `name` after its contents and corrects the files that mention it. */
function nameByContents(name, mentionedIn) {
  const dot = name.lastIndexOf(".");
  const hashed = `${name.slice(0, dot)}-${hash(bytes(name))}${name.slice(dot)}`;
  renameSync(join(dir, name), join(dir, hashed));
  for (const file of mentionedIn) {
    const before = text(file);
    if (!before.includes(name)) throw new Error(`${file} does not mention ${name}`);
    writeFileSync(join(dir, file), before.replaceAll(name, hashed));
  }
}

await split(dir, { program: "app_bg.wasm", rest: "later.wasm", glue: "app.js" });
for (const name of ["app.js", "boot.js", "worker.js", "tap.js", "style.css", "later.css"]) {
  const file = join(dir, name);
  const options = ["--minify", "--target=es2022", "--charset=utf8", "--log-level=warning", "--allow-overwrite"];
  execFileSync("esbuild", [file, ...options, `--outfile=${file}`], { stdio: "inherit" });
}

// Leaves first: a file is renamed once everything it mentions has its final name.
nameByContents("icon.svg", ["index.html", "manifest.webmanifest"]);
nameByContents("icon-192.png", ["index.html", "manifest.webmanifest"]);
nameByContents("app_bg.wasm", ["app.js", "index.html"]);
nameByContents("later.wasm", ["index.html"]);
nameByContents("later.css", ["index.html"]);
nameByContents("worker.js", ["index.html"]);
nameByContents("tap.js", ["index.html"]);
nameByContents("app.js", ["index.html"]);
nameByContents("boot.js", ["index.html"]);
nameByContents("style.css", ["index.html"]);

const page = text("index.html");
const meta = `<meta http-equiv="Content-Security-Policy" content="${POLICY}">`;
const withPolicy = page.replace(/<meta charset[^>]*>/, (charset) => charset + meta);
if (withPolicy === page) throw new Error("index.html has no charset to put the policy behind");
if (/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son[a-z]+=/i.test(withPolicy)) {
  throw new Error("index.html holds an inline script, style or handler, which the policy forbids");
}
writeFileSync(join(dir, "index.html"), withPolicy);

const files = listed().filter((name) => name !== "sw.js");
const version = hash(files.map((name) => `${name} ${hash(bytes(name))}`).join("\n") + text("sw.js"));
const urls = files.map((name) => (name === "index.html" ? "./" : `./${name}`));
const worker = text("sw.js");
const filled = worker.replace("__VERSION__", version).replace('"__FILES__"', JSON.stringify(urls));
if (filled === worker || filled.includes("__FILES__")) throw new Error("sw.js has no place for its file list");
writeFileSync(join(dir, "sw.js"), filled);

const compressed = (data) =>
  brotliCompressSync(data, { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } }).length;
const totals = { before: 0, after: 0 };
console.log("     raw   brotli  file");
for (const name of listed()) {
  const data = bytes(name);
  const small = name.endsWith(".png") ? data.length : compressed(data);
  const when = AFTERWARDS.test(name) ? "after" : "before";
  totals[when] += small;
  console.log(`${String(data.length).padStart(8)} ${String(small).padStart(8)}  ${name}${when === "after" ? " (afterwards)" : ""}`);
}
const { before, after } = totals;
console.log(`         ${String(before).padStart(8)}  before the first result, of ${BUDGET_BYTES} allowed`);
console.log(`         ${String(after).padStart(8)}  afterwards`);
console.log(`         ${String(before + after).padStart(8)}  together`);
if (before > BUDGET_BYTES) {
  console.error(`The page is ${before - BUDGET_BYTES} bytes over its budget (.ci/site.mjs).`);
  process.exit(1);
}
