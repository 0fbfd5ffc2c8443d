import { headersFor } from '../../app/policy.ts';

/**
 * Prints the headers a host should send, in the form that common static hosts
 * take: `npm run headers -- nginx`, `apache`, `caddy` or `file` (a `_headers`
 * file, as several hosts of static sites read it). Tests serve the site with
 * these very headers.
 */
type Headers = Record<string, string>;

const PAGES = [
  { address: '/clinic.html', headers: headersFor('clinic.html') },
  { address: '/', headers: headersFor('index.html') },
] as const;

const lines = (headers: Headers, form: (name: string, value: string) => string): string =>
  Object.entries(headers)
    .map(([name, value]) => form(name, value))
    .join('\n');

const [desk, phone] = PAGES;
/** Addresses of the desk, as a pattern. */
const DESK = '^/clinic(\\.html)?$';

const FORMS: Record<string, () => string> = {
  nginx: () => `location ~ ${DESK} {
${lines(desk.headers, (n, v) => `  add_header ${n} "${v}" always;`)}
}
location / {
${lines(phone.headers, (n, v) => `  add_header ${n} "${v}" always;`)}
  add_header Cache-Control "no-cache";
}`,
  apache: () => `Header always set Cache-Control "no-cache"
${lines(phone.headers, (n, v) => `Header always set ${n} "${v}"`)}
<FilesMatch "^clinic">
${lines(desk.headers, (n, v) => `  Header always set ${n} "${v}"`)}
</FilesMatch>`,
  caddy: () => `@desk path /clinic /clinic.html
header {
  Cache-Control no-cache
${lines(phone.headers, (n, v) => `  ${n} "${v}"`)}
}
header @desk {
${lines(desk.headers, (n, v) => `  ${n} "${v}"`)}
}`,
  file: () => `/*
  Cache-Control: no-cache
${lines(phone.headers, (n, v) => `  ${n}: ${v}`)}
${['/clinic', '/clinic.html'].map((address) => `${address}\n  ! Content-Security-Policy\n${lines(desk.headers, (n, v) => `  ${n}: ${v}`)}`).join('\n')}`,
};

const form = FORMS[process.argv[2] ?? ''];
if (form) console.log(form());
else {
  console.error(`Say for which host: npm run headers -- ${Object.keys(FORMS).join(' | ')}`);
  process.exit(1);
}
