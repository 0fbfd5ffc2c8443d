import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { headersFor } from '../../app/policy.ts';

export const DIST = fileURLToPath(new URL('../../dist/', import.meta.url));

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.json': 'application/json; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
};

/** Serves the built site as a careful static host would, with the headers it should send, from a folder, on this machine only. */
export function serveFolder(port: number, folder: string = DIST): Promise<Server> {
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    let file = normalize(join(folder, path));
    if (!file.startsWith(folder)) return response.writeHead(403).end();
    if (existsSync(file) && statSync(file).isDirectory()) file = join(file, 'index.html');
    // The desk's address without its ending, as static hosts serve it.
    if (!existsSync(file) && existsSync(`${file}.html`)) file += '.html';
    if (!existsSync(file)) return response.writeHead(404, { 'content-type': 'text/plain' }).end('not found');
    response.writeHead(200, {
      ...headersFor(file),
      'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
      'cache-control': 'no-cache',
    });
    createReadStream(file).pipe(response);
  });
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', () => resolve(server));
  });
}
