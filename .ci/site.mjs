// What the built page promises, in one place: its security policy and its size.

/** Everything the page needs before its first result, in bytes after brotli. */
export const BUDGET_BYTES = 200_000;

/** What the page asks for only after its first result: the rest of the program, its worker, and the service worker with its icon. */
export const AFTERWARDS = /^(later-[0-9a-f]{12}\.(wasm|css)|(worker|tap)-[0-9a-f]{12}\.js|icon-192-[0-9a-f]{12}\.png|sw\.js)$/;

/** The Content-Security-Policy, as a meta element and (for workers) as a header. */
export const POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

/** The policy as a header, which alone can also forbid framing. */
export const POLICY_HEADER = `${POLICY}; frame-ancestors 'none'`;

/** A name that carries the hash of its contents, so that it may be cached for ever. */
export const HASHED_NAME = /-[0-9a-f]{12}\.[a-z0-9]+$/;
