// Serves the built page: `node .ci/serve.mjs [FOLDER] [PORT]`. The browser tests use it too, and count at it.
import { createHash } from "node:crypto";
import { readFileSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { networkInterfaces } from "node:os";
import { extname, join, normalize, resolve, sep } from "node:path";
import { pathToFileURL } from "node:url";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";
import { HASHED_NAME, POLICY_HEADER } from "./site.mjs";

const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".wasm": "application/wasm",
  ".json": "application/json",
  ".webmanifest": "application/manifest+json",
  ".svg": "image/svg+xml",
  ".png": "image/png",
};
const brotli = (data) => brotliCompressSync(data, { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } });
const PACKED = new Map();

/** The contents in the best encoding the browser takes, kept so that each is packed once. */
function packed(data, etag, type, accepted) {
  if (type === "image/png") return { data };
  const encoding = /\bbr\b/.test(accepted) ? "br" : /\bgzip\b/.test(accepted) ? "gzip" : undefined;
  if (!encoding) return { data };
  const key = `${encoding} ${etag}`;
  if (!PACKED.has(key)) PACKED.set(key, encoding === "br" ? brotli(data) : gzipSync(data));
  return { data: PACKED.get(key), encoding };
}

/**
 * A server of the files under `root`, at addresses that begin with `base`.
 * `served` lists every answer with its path, status and bytes; `replace` maps a path to other contents;
 * `delay` says how many milliseconds an answer waits.
 */
export class Site {
  constructor(root, { base = "/", policyHeader = true } = {}) {
    this.root = resolve(root);
    this.base = base;
    this.policyHeader = policyHeader;
    this.served = [];
    this.replace = new Map();
    this.delay = () => 0;
    this.port = 0;
  }

  get url() {
    return `http://localhost:${this.port}${this.base}`;
  }

  async start(port = this.port, host = "127.0.0.1") {
    this.server = createServer((request, response) => this.answer(request, response));
    await new Promise((done, failed) => this.server.once("error", failed).listen(port, host, done));
    this.port = this.server.address().port;
  }

  /** Stops answering, as a lost network does; `start()` brings it back at the same address. */
  async stop() {
    this.server.closeAllConnections();
    await new Promise((done) => this.server.close(done));
  }

  read(path) {
    if (this.replace.has(path)) return Buffer.from(this.replace.get(path));
    const file = join(this.root, normalize(path));
    if (!file.startsWith(this.root + sep)) return undefined;
    return statSync(file, { throwIfNoEntry: false })?.isFile() ? readFileSync(file) : undefined;
  }

  answer(request, response) {
    const { pathname } = new URL(request.url, "http://localhost");
    let path;
    try {
      path = decodeURIComponent(pathname);
    } catch {
      path = "";
    }
    path = path.startsWith(this.base) ? path.slice(this.base.length) || "index.html" : "";
    const send = (status, headers, data = Buffer.alloc(0)) => {
      this.served.push({ path: path || pathname, status, bytes: data.length });
      const body = request.method === "HEAD" ? undefined : data;
      setTimeout(() => response.writeHead(status, headers).end(body), this.delay(path));
    };
    const data = path && this.read(path);
    if (!data) return send(404, { "content-type": "text/plain" }, Buffer.from("not here"));
    const etag = `"${createHash("sha256").update(data).digest("hex").slice(0, 20)}"`;
    const type = TYPES[extname(path)] ?? "application/octet-stream";
    const headers = {
      etag,
      "cache-control": HASHED_NAME.test(path) ? "public, max-age=31536000, immutable" : "no-cache",
      vary: "accept-encoding",
      "x-content-type-options": "nosniff",
    };
    if (this.policyHeader) headers["content-security-policy"] = POLICY_HEADER;
    if (request.headers["if-none-match"] === etag) return send(304, headers);
    const body = packed(data, etag, type, request.headers["accept-encoding"] ?? "");
    if (body.encoding) headers["content-encoding"] = body.encoding;
    return send(200, { ...headers, "content-type": type, "content-length": body.data.length }, body.data);
  }
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const site = new Site(process.argv[2] ?? "dist");
  await site.start(Number(process.argv[3] ?? 8080), "0.0.0.0");
  console.log(`Kerf & Coil: ${site.url}`);
  for (const { address } of Object.values(networkInterfaces()).flat().filter((a) => a.family === "IPv4" && !a.internal)) {
    console.log(`  from a phone in the same network: http://${address}:${site.port}/ (without offline use: that needs https)`);
  }
}
