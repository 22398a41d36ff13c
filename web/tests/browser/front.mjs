// Puts web/dist and a running `stanch serve` behind one address, with the server's own policy for what a page may load.
// Only for a server that was built without the page; a whole build serves both by itself.
import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer, request } from 'node:http';
import { extname, join, normalize } from 'node:path';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webmanifest': 'application/manifest+json',
};
const policy =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
  "font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; " +
  "frame-ancestors 'none'";

/** Listens on a free port; `upstream()` names the server's port, which may change when it is started again. */
export function startFront(dist, upstream) {
  const server = createServer((incoming, outgoing) => {
    const path = new URL(incoming.url, 'http://page').pathname;
    if (path === '/health' || path.startsWith('/api/')) {
      const onward = request(
        { host: '127.0.0.1', port: upstream(), path: incoming.url, method: incoming.method, headers: incoming.headers },
        (answer) => {
          outgoing.writeHead(answer.statusCode, answer.headers);
          answer.on('error', () => outgoing.destroy());
          answer.pipe(outgoing);
        },
      );
      onward.on('error', () => outgoing.destroy());
      outgoing.on('close', () => onward.destroy());
      incoming.pipe(onward);
      return;
    }
    const file = join(dist, normalize(path === '/' ? '/index.html' : path));
    if (!file.startsWith(dist) || !existsSync(file) || !statSync(file).isFile()) {
      outgoing.writeHead(404).end();
      return;
    }
    outgoing.writeHead(200, {
      'Content-Type': types[extname(file)] ?? 'application/octet-stream',
      'Content-Security-Policy': policy,
      'Cache-Control': 'no-cache',
    });
    createReadStream(file).pipe(outgoing);
  });
  return new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve({ port: server.address().port, close: () => server.close() })));
}
