import { createHash } from 'node:crypto';
import { readFileSync, readdirSync } from 'node:fs';
import type { Plugin } from 'vite';

const POLICY = [
  `default-src 'none'`,
  `script-src 'self' 'wasm-unsafe-eval'`,
  `worker-src 'self'`,
  `style-src 'self'`,
  `img-src 'self' blob: data:`,
  `font-src 'self'`,
  `connect-src 'self'`,
  `manifest-src 'self'`,
  `base-uri 'none'`,
  `form-action 'none'`,
  `object-src 'none'`,
  `frame-src 'none'`,
];

/** Headers of a host that can send them; `frame-ancestors` has no meaning in the page itself. */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': [...POLICY, `frame-ancestors 'none'`].join('; '),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), payment=()',
};

/** Puts the policy into the built page, for hosts without headers. The development server needs a looser one. */
export function strictPolicy(): Plugin {
  return {
    name: 'zonewright-policy',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY.join('; ') },
        injectTo: 'head-prepend',
      },
    ],
  };
}

/** Writes the list of the build's files, and a version made of them, into the service worker. */
export function offline(): Plugin {
  return {
    name: 'zonewright-offline',
    apply: 'build',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const shared = readdirSync('public').filter((file) => file !== 'sw.js');
      const files = [
        ...Object.keys(bundle).filter((file) => !file.endsWith('.map') && !file.startsWith('pdf/cmaps/')),
        ...shared,
      ].sort();
      const hash = createHash('sha256');
      const worker = readFileSync('public/sw.js', 'utf8');
      hash.update(worker);
      for (const file of files) {
        hash.update(`\n${file}\n`);
        const made = bundle[file];
        if (made === undefined) hash.update(readFileSync(`public/${file}`));
        else hash.update(made.type === 'chunk' ? made.code : made.source);
      }
      this.emitFile({
        type: 'asset',
        fileName: 'sw.js',
        source: worker
          .replace(`const VERSION = 'none';`, `const VERSION = '${hash.digest('hex').slice(0, 16)}';`)
          .replace(
            'const FILES = [];',
            `const FILES = ${JSON.stringify(['./', ...files.map((f) => `./${f}`)])};`,
          ),
      });
    },
  };
}
