import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
// @ts-expect-error the lint configuration is plain JavaScript
import { ARROWS, ENGINE_ARROWS, ROOMS } from '../eslint.config.js';

const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const SRC = path.join(ROOT, 'src');
const arrows = ARROWS as Record<string, string[]>;
const engineArrows = ENGINE_ARROWS as Record<string, string[]>;
const rooms = ROOMS as string[];

/** Every module specifier of a file, type imports and dynamic imports included. */
function importsOf(file: string): string[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (
      (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) &&
      node.moduleSpecifier !== undefined &&
      ts.isStringLiteral(node.moduleSpecifier)
    )
      found.push(node.moduleSpecifier.text);
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const argument = node.arguments[0];
      if (argument !== undefined && ts.isStringLiteral(argument)) found.push(argument.text);
    }
    if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) {
      if (ts.isStringLiteral(node.argument.literal)) found.push(node.argument.literal.text);
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter((f) => /\.tsx?$/.test(f) && !f.endsWith('.d.ts'))
  .map((f) => f.split(path.sep).join('/'));
const folderOf = (file: string): string => file.split('/')[0] ?? '';
const graph = new Map(
  files.map((file) => [
    file,
    importsOf(path.join(SRC, file)).map((to) =>
      to.startsWith('.')
        ? path.posix.normalize(path.posix.join(path.posix.dirname(file), to.replace(/\?.*$/, '')))
        : to,
    ),
  ]),
);

describe('the arrows between folders', () => {
  it.each(Object.keys(arrows))('src/%s imports only what it may', (folder) => {
    const wrong: string[] = [];
    for (const [file, targets] of graph) {
      if (folderOf(file) !== folder) continue;
      for (const target of targets) {
        const inside = !target.startsWith('..') && files.includes(target);
        if (inside && !arrows[folder]?.includes(folderOf(target))) wrong.push(`${file} -> ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('every folder of src is in the table', () => {
    const folders = new Set(files.filter((f) => f.includes('/')).map(folderOf));
    expect([...folders].filter((f) => arrows[f] === undefined)).toEqual([]);
  });

  it('the engine imports nothing but the engine', () => {
    const foreign = [...graph].flatMap(([file, targets]) =>
      folderOf(file) === 'engine'
        ? targets.filter((t) => !t.startsWith('engine/')).map((t) => `${file} -> ${t}`)
        : [],
    );
    expect(foreign).toEqual([]);
  });

  it('the engine keeps nothing by plan, fabric or context of its own, where a read would not be noted', () => {
    // What belongs to a value that never changes may be kept with it; all else by `ask`.
    const allowed = [
      'new WeakMap<Leg,',
      'new WeakMap<Face,',
      'new WeakMap<object,',
      'new WeakMap<Straighten,',
    ];
    const kept = files
      .filter((f) => f.startsWith('engine/'))
      .flatMap((f) =>
        readFileSync(path.join(SRC, f), 'utf8')
          .split('\n')
          .map((line) => `${f}: ${line.trim()}`),
      )
      .filter((line) => line.includes('new WeakMap') && !allowed.some((a) => line.includes(a)));
    expect(kept).toEqual([]);
  });

  it('only main.tsx stands at the top of src', () => {
    expect(files.filter((f) => !f.includes('/') && f !== 'main.tsx')).toEqual([]);
  });
});

describe('the order inside the engine', () => {
  const inEngine = [...graph].flatMap(([file, targets]) => {
    const [top, room, inside] = file.split('/');
    return top === 'engine' && room !== undefined && inside !== undefined ? [{ file, room, targets }] : [];
  });
  it.each(Object.keys(engineArrows))('engine/%s imports only what it may', (room) => {
    const may = new Set([room, ...(engineArrows[room] ?? [])]);
    const wrong = inEngine.flatMap((from) =>
      from.room === room
        ? from.targets.filter((to) => !may.has(to.split('/')[1] ?? '')).map((to) => `${from.file} -> ${to}`)
        : [],
    );
    expect(wrong).toEqual([]);
  });

  it('every folder of the engine is in the table, and the table has no circle', () => {
    expect([...new Set(inEngine.map((f) => f.room))].sort()).toEqual(Object.keys(engineArrows).sort());
    const wrong = Object.entries(engineArrows).flatMap(([room, may]) =>
      may.filter((other) => engineArrows[other]?.includes(room)),
    );
    expect(wrong).toEqual([]);
  });
});

describe('circles of imports', () => {
  /** Groups of files that reach each other (Tarjan 1972), in no particular order. */
  function circles(of: ReadonlyMap<string, readonly string[]>): string[][] {
    const met = new Map<string, number>();
    const low = new Map<string, number>();
    const stack: string[] = [];
    const found: string[][] = [];
    const visit = (file: string): void => {
      met.set(file, met.size);
      low.set(file, met.get(file) as number);
      stack.push(file);
      for (const to of of.get(file) ?? []) {
        if (!of.has(to)) continue;
        if (!met.has(to)) visit(to);
        if (stack.includes(to)) low.set(file, Math.min(low.get(file) as number, low.get(to) as number));
      }
      if (low.get(file) !== met.get(file)) return;
      const group = stack.splice(stack.indexOf(file));
      if (group.length > 1 || of.get(file)?.includes(file) === true) found.push(group.sort());
    };
    for (const file of of.keys()) if (!met.has(file)) visit(file);
    return found;
  }

  it('there are none, type imports counted', () => {
    expect(circles(graph)).toEqual([]);
  });

  it('one would be found', () => {
    const added = new Map(graph);
    added.set('engine/model/units.ts', [
      ...(graph.get('engine/model/units.ts') ?? []),
      'engine/model/document.ts',
    ]);
    expect(circles(added)[0]).toContain('engine/model/units.ts');
  });
});

describe('the rooms of the panels', () => {
  const roomOf = (file: string): string | undefined =>
    file.startsWith('panels/') ? file.split('/')[1] : undefined;
  const inRooms = files.filter((file) => file.startsWith('panels/'));

  it('are the ones of the table, at most thirteen, and nothing lies outside of them', () => {
    expect([...new Set(inRooms.map(roomOf))].sort()).toEqual([...rooms].sort());
    expect(rooms.length).toBeLessThanOrEqual(13);
  });

  it('import from rooms before them only', () => {
    const up = inRooms.flatMap((file) =>
      (graph.get(file) ?? [])
        .filter((target) => rooms.indexOf(roomOf(target) ?? '') > rooms.indexOf(roomOf(file) ?? ''))
        .map((target) => `${file} -> ${target}`),
    );
    expect(up).toEqual([]);
  });
});

describe('packages', () => {
  const manifest = JSON.parse(readFileSync(path.join(ROOT, 'package.json'), 'utf8')) as {
    dependencies: Record<string, string>;
    devDependencies: Record<string, string>;
  };
  it('every version is exact', () => {
    const all = { ...manifest.dependencies, ...manifest.devDependencies };
    expect(Object.entries(all).filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  });
  it('every package that ships is imported by what ships', () => {
    const texts = files.map((file) => readFileSync(path.join(SRC, file), 'utf8'));
    const used = (name: string): boolean =>
      texts.some((text) => new RegExp(`(?:from|import)\\s*\\(?\\s*['"]${name}(?:/|['"])`).test(text));
    expect(Object.keys(manifest.dependencies).filter((name) => !used(name))).toEqual([]);
  });
  it('the lock file names no registry host', () => {
    expect(readFileSync(path.join(ROOT, 'package-lock.json'), 'utf8')).not.toMatch(/"resolved": "http/);
  });
});
