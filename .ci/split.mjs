// Splits the program in two: what the first result needs, and the rest, which the page loads right after it
// (static/boot.js). Which functions are which is measured in a browser (profile.mjs), not guessed.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { profiles } from "./profile.mjs";

/** What rustc uses. Named one by one, since Debian's wasm-split cannot read the newest encodings. */
const FEATURES = [
  "bulk-memory", "multivalue", "mutable-globals", "nontrapping-float-to-int", "reference-types", "sign-ext",
].map((feature) => `--enable-${feature}`);
/** An empty program, served in place of the rest while the whole is measured. */
const EMPTY = Buffer.from("0061736d01000000", "hex");

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

/** Puts the table of JavaScript values first: wasm-split takes every exported table for the first one. */
function valuesFirst(text) {
  const swapped = text.replace(/^( \(table \S+ .*funcref\)\n)( \(table \S+ .*externref\)\n)/m, "$2$1");
  if (swapped === text) throw new Error("the program does not have the two tables expected of wasm-bindgen");
  return swapped;
}

/** The name under which a part gives away its table of functions. */
function functionTable(part) {
  const tables = WebAssembly.Module.exports(new WebAssembly.Module(part))
    .map(({ kind, name }) => (kind === "table" ? name : ""))
    .filter((name) => name.startsWith("%"));
  if (tables.length !== 1) throw new Error(`expected one table of functions, found ${tables.length}`);
  return tables[0];
}

/** Splits `program` in the page's folder `dir` into itself and `rest`; corrects `glue`, which starts it. */
export async function split(dir, { program, rest, glue }) {
  const work = mkdtempSync(join(tmpdir(), "split-"));
  const file = (name) => join(work, name);
  try {
    writeFileSync(file("bound.wasm"), withoutFill(readFileSync(join(dir, program))));
    run("wasm-dis", file("bound.wasm"), "-o", file("bound.wat"));
    writeFileSync(file("swapped.wat"), valuesFirst(readFileSync(file("bound.wat"), "utf8")));
    run("wasm-as", file("swapped.wat"), "-o", file("whole.wasm"));

    run("wasm-split", "--instrument", file("whole.wasm"), "-o", file("measured.wasm"));
    const replaced = new Map([[program, readFileSync(file("measured.wasm"))], [rest, EMPTY]]);
    const found = (await profiles(dir, replaced)).map((profile, number) => {
      writeFileSync(file(`${number}.profile`), profile);
      return file(`${number}.profile`);
    });
    run("wasm-split", "--merge-profiles", ...found, "-o", file("merged.profile"));

    run("wasm-split", "--split", file("whole.wasm"), "--profile", file("merged.profile"), "--export-prefix=%",
      "--placeholder-namespace=later", "--import-namespace=now", "-o1", file("now.wasm"), "-o2", file("later.wasm"));
    // Optimised only now, so that nothing of the rest is inlined into what comes first.
    run("wasm-opt", "-Oz", "--strip-debug", file("now.wasm"), "-o", join(dir, program));
    run("wasm-opt", "-Oz", "--strip-debug", file("later.wasm"), "-o", join(dir, rest));
  } finally {
    rmSync(work, { recursive: true });
  }

  const table = functionTable(readFileSync(join(dir, program)));
  const before = readFileSync(join(dir, glue), "utf8");
  const after = before.replace(
    /"\.\/app_bg\.js": import0,\n/,
    (line) => `${line}        later: window.kc.later(() => wasm, ${JSON.stringify(table)}),\n`,
  );
  if (after === before) throw new Error(`${glue} has no list of imports to add to`);
  writeFileSync(join(dir, glue), after);
}
