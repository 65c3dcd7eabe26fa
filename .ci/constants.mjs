// Finds the constants that only the second part of the program uses, by the relocations that the linker leaves in
// cargo's output (.cargo/config.toml). A guess is never made: what a function of the first part names stays there.

/** Kinds of relocations and of symbols in https://github.com/WebAssembly/tool-conventions/blob/main/Linking.md. */
const ADDRESS = new Set([3, 4, 5]);
const WITH_ADDEND = new Set([3, 4, 5, 8, 9, 11, 14, 15, 16, 17, 21, 22, 23]);
const [DATA_SYMBOL, SECTION_SYMBOL] = [1, 3];
const [UNDEFINED, EXPLICIT_NAME] = [0x10, 0x40];
const [CUSTOM, IMPORTS, CODE, DATA] = [0, 2, 10, 11];

/** Reads a program's bytes from the front. */
class Reader {
  constructor(bytes, at, end) {
    Object.assign(this, { bytes, at, end });
  }
  get done() {
    return this.at >= this.end;
  }
  byte() {
    if (this.done) throw new Error("the program ends too early");
    return this.bytes[this.at++];
  }
  unsigned() {
    for (let value = 0, scale = 1; ; scale *= 128) {
      const byte = this.byte();
      value += (byte & 127) * scale;
      if (byte < 128) return value;
    }
  }
  signed() {
    for (let value = 0, scale = 1; ; scale *= 128) {
      const byte = this.byte();
      value += (byte & 127) * scale;
      if (byte < 128) return byte & 64 ? value - 128 * scale : value;
    }
  }
  take(length) {
    this.at += length;
    return new Reader(this.bytes, this.at - length, this.at);
  }
  text() {
    const part = this.take(this.unsigned());
    return Buffer.from(this.bytes.buffer, this.bytes.byteOffset + part.at, part.end - part.at).toString("utf8");
  }
  list(item) {
    return Array.from({ length: this.unsigned() }, () => item(this));
  }
}

/** Every section: its number, its name if it has one, where it starts, and a reader of what it holds. */
function sections(bytes) {
  const found = [];
  for (const reader = new Reader(bytes, 8, bytes.length); !reader.done; ) {
    const id = reader.byte();
    const content = reader.take(reader.unsigned());
    const [start, end] = [content.at, content.end];
    found.push({ id, start, end, name: id === CUSTOM ? content.text() : "", content });
  }
  const section = (fits, what) => {
    const it = found.find(fits);
    if (!it) throw new Error(`the program has no ${what}`);
    return { ...it, content: new Reader(bytes, it.content.at, it.content.end) };
  };
  return {
    all: found,
    numbered: (id) => section((it) => it.id === id, `section ${id}`),
    named: (name) => section((it) => it.name === name, `section ${name}`),
  };
}

const limits = (reader) => reader.unsigned() & 1 ? [reader.unsigned(), reader.unsigned()] : [reader.unsigned()];

/** How many functions the program takes from outside: they are numbered first. */
function importedFunctions(program) {
  const kinds = program.numbered(IMPORTS).content.list((reader) => {
    reader.text();
    reader.text();
    const kind = reader.byte();
    if (kind === 0) reader.unsigned();
    else if (kind === 1) [reader.byte(), limits(reader)];
    else if (kind === 2) limits(reader);
    else [reader.byte(), reader.byte()];
    return kind;
  });
  return kinds.filter((kind) => kind === 0).length;
}

/** Names of functions by number. */
function functionNames(program) {
  const names = new Map();
  for (const { content } = program.named("name"); !content.done; ) {
    const kind = content.byte();
    const part = content.take(content.unsigned());
    if (kind === 1) for (const [number, name] of part.list((it) => [it.unsigned(), it.text()])) names.set(number, name);
  }
  return names;
}

/** The program without what the linker left for us, which no other tool can read once the program has been changed. */
export function withoutLinking(bytes) {
  const { all } = sections(bytes);
  const starts = [8, ...all.map(({ end }) => end)];
  const kept = all.map(({ name, end }, number) =>
    /^(linking$|reloc\.)/.test(name) ? Buffer.alloc(0) : bytes.subarray(starts[number], end));
  return Buffer.concat([bytes.subarray(0, 8), ...kept]);
}

/** Where constants lie: the address of each segment and where its bytes are in the file. */
function segments(program) {
  const { start, content } = program.numbered(DATA);
  return content.list((reader) => {
    if (reader.unsigned() !== 0 || reader.byte() !== 0x41) throw new Error("a segment has no fixed address");
    const address = reader.signed();
    reader.byte();
    const length = reader.unsigned();
    return { address, length, at: reader.take(length).at, from: start };
  });
}

/** The linker's symbols; only those of data with a place have a size. */
function symbols(program) {
  const { content } = program.named("linking");
  if (content.unsigned() !== 2) throw new Error("the linker's symbols have another version");
  const found = [];
  while (!content.done) {
    const kind = content.byte();
    const part = content.take(content.unsigned());
    if (kind === 8) found.push(...part.list(symbol));
  }
  return found;
}

function symbol(reader) {
  const kind = reader.byte();
  const flags = reader.unsigned();
  const named = () => (!(flags & UNDEFINED) || flags & EXPLICIT_NAME ? reader.text() : "");
  if (kind === SECTION_SYMBOL) return { kind, section: reader.unsigned() };
  if (kind !== DATA_SYMBOL) return { kind, index: reader.unsigned(), name: named() };
  const name = reader.text();
  if (flags & UNDEFINED) return { kind, name };
  return { kind, name, segment: reader.unsigned(), offset: reader.unsigned(), size: reader.unsigned() };
}

/** Where in a section an address of a symbol stands. */
function addresses(program, name) {
  const { content } = program.named(name);
  content.unsigned();
  const all = content.list((reader) => {
    const type = reader.byte();
    const [offset, symbol] = [reader.unsigned(), reader.unsigned()];
    if (WITH_ADDEND.has(type)) reader.signed();
    return { type, offset, symbol };
  });
  return all.filter(({ type }) => ADDRESS.has(type));
}

/** The last of `sorted` that starts at or before `offset`. */
function holder(sorted, offset) {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle].start <= offset) low = middle + 1;
    else high = middle;
  }
  return sorted[low - 1];
}

/**
 * Ranges `[address, length]` of constants that nothing in the first part names, neither a function nor a constant.
 *
 * `linked` is cargo's output; `stays` tells of a function's name whether it may be called before the rest is there.
 */
export function onlyLater(linked, stays) {
  const program = sections(linked);
  const names = functionNames(program);
  const first = importedFunctions(program);
  const code = program.numbered(CODE);
  const bodies = code.content.list((reader) => {
    const length = reader.unsigned();
    return { start: reader.take(length).at - code.start };
  }).map((body, number) => ({ ...body, name: names.get(first + number) ?? "" }));

  const parts = segments(program);
  const list = symbols(program);
  const placed = list.filter((it) => it.size > 0 && parts[it.segment]);
  const inFile = placed
    .map((it) => ({ start: parts[it.segment].at - parts[it.segment].from + it.offset, it }))
    .sort((a, b) => a.start - b.start);

  /** What each symbol's constants name in turn. */
  const inside = new Map();
  for (const { offset, symbol } of addresses(program, "reloc.DATA")) {
    const owner = holder(inFile, offset);
    if (!owner) throw new Error("an address stands outside of every constant");
    inside.set(owner.it, [...(inside.get(owner.it) ?? []), list[symbol]]);
  }
  const kept = new Set();
  const keep = (it) => {
    if (kept.has(it)) return;
    kept.add(it);
    for (const next of inside.get(it) ?? []) keep(next);
  };
  for (const { offset, symbol } of addresses(program, "reloc.CODE")) {
    if (stays(holder(bodies, offset).name)) keep(list[symbol]);
  }
  // Only constants: the first segment is .rodata. What may be written stays where it is. Symbols may share bytes.
  const hold = new Uint8Array(parts[0].length).fill(1);
  for (const it of placed) if (it.segment === 0) hold.fill(0, it.offset, it.offset + it.size);
  for (const it of kept) if (it.segment === 0) hold.fill(1, it.offset, it.offset + it.size);
  return ranges(hold, parts[0].address);
}

/** Runs of zero in `hold`, as addresses. */
function ranges(hold, address) {
  const found = [];
  for (let at = hold.indexOf(0); at >= 0; ) {
    const end = hold.indexOf(1, at);
    const stop = end < 0 ? hold.length : end;
    found.push([address + at, stop - at]);
    at = hold.indexOf(0, stop);
  }
  return found;
}

/** Takes the constants of `moved` out of `program` (they become zeros, which cost nothing) and gives their bytes. */
export function takeOut(bytes, moved) {
  const parts = segments(sections(bytes));
  return moved.map(([address, length]) => {
    const part = parts.find((it) => it.address <= address && address + length <= it.address + it.length);
    if (!part) throw new Error("a constant is not where the linker put it");
    const at = part.at + address - part.address;
    const taken = Buffer.from(bytes.subarray(at, at + length));
    bytes.fill(0, at, at + length);
    return [address, taken];
  });
}

/** The same constants as lines of a program's text. */
export const asText = (constants) => constants.map(([address, taken]) => {
  const letters = [...taken].map((byte) => `\\${byte.toString(16).padStart(2, "0")}`).join("");
  return ` (data (i32.const ${address}) "${letters}")\n`;
}).join("");
