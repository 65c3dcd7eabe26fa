// Splits the program in two: what the first result needs, and the rest, which the page loads right after it
// (static/boot.js). Which functions are which is measured in a browser (profile.mjs), not guessed.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { asText, onlyLater, takeOut, withoutLinking } from "./constants.mjs";
import { profiles } from "./profile.mjs";

/** What rustc uses. Named one by one, since Debian's wasm-split cannot read the newest encodings. */
const FEATURES = [
  "bulk-memory", "multivalue", "mutable-globals", "nontrapping-float-to-int", "reference-types", "sign-ext",
].map((feature) => `--enable-${feature}`);
/** Twice, as the second round still finds something. The lowest kilobyte is the far end of the stack: no data there. */
const SMALL = ["--low-memory-unused", "-Oz", "-Oz", "--strip-debug"];
/** The name that wasm-split gives the table of functions, with its prefix. */
const TABLE = "%table";

const run = (command, ...options) =>
  execFileSync(command, [...options, ...FEATURES], { stdio: ["ignore", "inherit", "inherit"] });

/**
 * Turns `table.fill` of one element into `table.set` and two idle bytes more: wasm-split does not know the former.
 *
 * In both the bytes stand for: null, then store it at the index already on the stack.
 */
function withoutFill(program) {
  const fill = Buffer.from("d06f4101fc1101", "hex");
  const set = Buffer.from("d06f2601010101", "hex");
  for (let at = program.indexOf(fill); at >= 0; at = program.indexOf(fill, at)) set.copy(program, at);
  return program;
}

/** Blanks the places of library sources in panic messages, the page's own stay: they cost a kilobyte and name the builder's folders. */
function withoutPaths(program) {
  const cargo = process.env.CARGO_HOME ?? join(homedir(), ".cargo");
  const sysroot = execFileSync("rustc", ["--print", "sysroot"], { encoding: "utf8" }).trim();
  const literal = (path) => path.replace(/[^\w/]/g, "\\$&");
  const roots = [`${literal(cargo)}/registry/src/`, `${literal(sysroot)}/lib/rustlib/src/`, "/rustc/[0-9a-f]{40}/"];
  const path = new RegExp(`(?:${roots.join("|")})[\\w./+-]*?\\.rs`, "g");
  return Buffer.from(program.toString("latin1").replace(path, (found) => "-".repeat(found.length)), "latin1");
}

/** Puts the table of JavaScript values first: wasm-split takes every exported table for the first one. */
function valuesFirst(text) {
  const swapped = text.replace(/^( \(table \S+ .*funcref\)\n)( \(table \S+ .*externref\)\n)/m, "$2$1");
  if (swapped === text) throw new Error("the program does not have the two tables expected of wasm-bindgen");
  return swapped;
}

/** Makes the export of the functions' table its own again, as wasm-split exports the first table in its place. */
function functionsExported(text) {
  const table = /^ \(table (\S+) .*funcref\)$/m.exec(text)?.[1];
  const line = new RegExp(`^ \\(export "${TABLE}" \\(table \\S+\\)\\)$`, "m");
  const exported = text.replace(line, ` (export "${TABLE}" (table ${table}))`);
  if (!table || exported === text) throw new Error("the first part does not export its table of functions");
  return exported;
}

/** Short names for what the program and its glue take from each other: long ones end in a hash, which packs badly. */
function shortNames(text, glue) {
  const names = new Set();
  for (const [, name] of text.matchAll(/^ \(import "\.\/app_bg\.js" "(\w+)"/gm)) names.add(name);
  for (const [, name] of text.matchAll(/^ \(export "(\w+__h[0-9a-f]{16})"/gm)) names.add(name);
  if (names.size === 0) throw new Error("the program takes nothing from its glue");
  const short = new Map([...names].map((name, number) => [name, `$${number.toString(36)}`]));
  const renamed = glue.replace(/\w+/g, (word) => short.get(word) ?? word);
  for (const name of short.values()) if (!renamed.includes(name)) throw new Error(`the glue has no ${name}`);
  const quoted = /^( \((?:import "\.\/app_bg\.js"|export)) "(\w+)"/gm;
  return [text.replace(quoted, (_, start, name) => `${start} "${short.get(name) ?? name}"`), renamed];
}

/** Cargo's output, before wasm-bindgen. */
const linked = () => {
  const options = ["metadata", "--format-version=1", "--no-deps", "--offline"];
  const { target_directory: target } = JSON.parse(execFileSync("cargo", options, { encoding: "utf8", maxBuffer: 1 << 26 }));
  return join(target, "wasm32-unknown-unknown", "release", "app.wasm");
};

/** The names of functions that no first start called. A profile is a check value, then the time of each function's first call. */
function uncalled(profile, program) {
  const names = [...program.matchAll(/^ \(func \$(\S+)/gm)].map(([, name]) => name);
  const times = new Uint32Array(new Uint8Array(profile.subarray(8)).buffer);
  if (times.length !== names.length) throw new Error(`${names.length} functions, but ${times.length} in the profile`);
  return new Set(names.filter((_, number) => times[number] === 0));
}

/** Gives the second part the constants that only it uses: they are there as soon as its functions are. */
function withConstants(program, constants) {
  const end = program.lastIndexOf(")");
  return `${program.slice(0, end)}${asText(constants)})\n`;
}

/** Tells the glue where the functions come from that stand in for the rest. */
function withStubs(glue) {
  const line = '"./app_bg.js": import0,';
  if (!glue.includes(line)) throw new Error("the glue has no list of imports to add to");
  return glue.replace(line, `${line} later: window.kc.later(() => wasm, ${JSON.stringify(TABLE)}),`);
}

/** Splits `program` in the page's folder `dir` into itself and `rest`; corrects `glue`, which starts it. */
export async function split(dir, { program, rest, glue }) {
  const work = mkdtempSync(join(tmpdir(), "split-"));
  const file = (name) => join(work, name);
  const text = (path) => readFileSync(path, "utf8");
  try {
    writeFileSync(file("bound.wasm"), withoutPaths(withoutFill(withoutLinking(readFileSync(join(dir, program))))));
    run("wasm-dis", file("bound.wasm"), "-o", file("bound.wat"));
    const [named, glued] = shortNames(text(file("bound.wat")), text(join(dir, glue)));
    writeFileSync(file("whole.wat"), valuesFirst(named));
    run("wasm-as", file("whole.wat"), "-o", file("whole.wasm"));
    writeFileSync(join(dir, glue), withStubs(glued));

    run("wasm-split", "--instrument", file("whole.wasm"), "-o", file("measured.wasm"));
    // There is no rest to be had yet, so what the page does once it has come is not measured.
    const replaced = new Map([[program, readFileSync(file("measured.wasm"))]]);
    const found = (await profiles(dir, replaced)).map((profile, number) => {
      writeFileSync(file(`${number}.profile`), profile);
      return file(`${number}.profile`);
    });
    run("wasm-split", "--merge-profiles", ...found, "-o", file("merged.profile"));

    run("wasm-split", "--split", file("whole.wasm"), "--profile", file("merged.profile"), "--export-prefix=%",
      "--placeholder-namespace=later", "--import-namespace=now", "-o1", file("now.wasm"), "-o2", file("later.wasm"));
    const postponed = uncalled(readFileSync(file("merged.profile")), text(file("whole.wat")));
    const now = readFileSync(file("now.wasm"));
    const moved = takeOut(now, onlyLater(readFileSync(linked()), (name) => !postponed.has(name)));
    writeFileSync(file("now.wasm"), now);
    run("wasm-dis", file("now.wasm"), "-o", file("now.wat"));
    writeFileSync(file("now.wat"), functionsExported(text(file("now.wat"))));
    run("wasm-dis", file("later.wasm"), "-o", file("later.wat"));
    writeFileSync(file("later.wat"), withConstants(text(file("later.wat")), moved));
    // Optimised only now, so that nothing of the rest is inlined into what comes first.
    run("wasm-opt", ...SMALL, file("now.wat"), "-o", join(dir, program));
    run("wasm-opt", ...SMALL, file("later.wat"), "-o", join(dir, rest));
  } finally {
    rmSync(work, { recursive: true });
  }
}
