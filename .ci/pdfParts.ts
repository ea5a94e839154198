import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import type { Plugin } from 'vite';

const ROOT = 'node_modules/pdfjs-dist';
/** What the reader of PDFs fetches when a page needs it: decoders of scans, character maps, stand-ins for missing fonts. */
const PARTS: Readonly<Record<string, RegExp>> = {
  wasm: /^(openjpeg|jbig2|qcms_bg)\.wasm$/,
  cmaps: /\.bcmap$/,
  standard_fonts: /\.(pfb|ttf)$/,
};

function parts(): { readonly name: string; readonly file: string }[] {
  return Object.entries(PARTS).flatMap(([folder, wanted]) =>
    readdirSync(path.join(ROOT, folder))
      .filter((file) => wanted.test(file))
      .map((file) => ({ name: `pdf/${folder}/${file}`, file: path.join(ROOT, folder, file) })),
  );
}

/** Puts the parts into the build, under pdf/, and serves them in development. Its script engine is never among them. */
export function pdfParts(): Plugin {
  return {
    name: 'zonewright-pdf-parts',
    configureServer(server) {
      const known = new Map(parts().map((p) => [`/${p.name}`, p.file]));
      server.middlewares.use((request, response, next) => {
        const file = known.get((request.url ?? '').split('?')[0] as string);
        if (file === undefined) next();
        else response.end(readFileSync(file));
      });
    },
    generateBundle() {
      for (const { name, file } of parts())
        this.emitFile({ type: 'asset', fileName: name, source: readFileSync(file) });
    },
  };
}
