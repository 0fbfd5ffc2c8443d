import { existsSync, readFileSync, statSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
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
/** Already packed; packing again gains nothing. */
const PACKED = ['.png'];

interface Kept {
  plain: Buffer;
  packed?: Buffer;
}

/** The content of files by name and tag, packed once. */
function shelfOfFiles(): (file: string, tag: string) => Kept {
  const kept = new Map<string, { tag: string; content: Kept }>();
  return (file, tag) => {
    const known = kept.get(file);
    if (known?.tag === tag) return known.content;
    const plain = readFileSync(file);
    const content: Kept = PACKED.includes(extname(file)) ? { plain } : { plain, packed: gzipSync(plain) };
    kept.set(file, { tag, content });
    return content;
  };
}

/**
 * Serves a built site as a careful static host would, on this machine only:
 * packed where the browser takes it, "not modified" where it has the file
 * already, with the headers that the site should be sent with.
 * @param headers by file; the site's own when left out.
 */
export function serveFolder(
  port: number,
  folder: string = DIST,
  headers: (file: string) => Record<string, string> = headersFor,
): Promise<Server> {
  const contentOf = shelfOfFiles();
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    let file = normalize(join(folder, path));
    if (!file.startsWith(folder)) return response.writeHead(403).end();
    if (existsSync(file) && statSync(file).isDirectory()) file = join(file, 'index.html');
    // The desk's address without its ending, as static hosts serve it.
    if (!existsSync(file) && existsSync(`${file}.html`)) file += '.html';
    if (!existsSync(file)) return response.writeHead(404, { 'content-type': 'text/plain' }).end('not found');
    const { size, mtimeMs } = statSync(file);
    const tag = `"${size.toString(36)}-${Math.round(mtimeMs).toString(36)}"`;
    const always = { ...headers(file), 'cache-control': 'no-cache', etag: tag, vary: 'accept-encoding' };
    if (request.headers['if-none-match'] === tag) return response.writeHead(304, always).end();
    const { plain, packed } = contentOf(file, tag);
    const body = packed && /\bgzip\b/.test(String(request.headers['accept-encoding'])) ? packed : plain;
    response.writeHead(200, {
      ...always,
      'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
      'content-length': body.length,
      ...(body === packed ? { 'content-encoding': 'gzip' } : {}),
    });
    response.end(body);
  });
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', () => resolve(server));
  });
}
